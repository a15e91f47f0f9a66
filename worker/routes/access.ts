/** Who may write, and whose data a request reads. Every write goes through `writingOperator`. */

import type { Settings } from '../env.ts';
import { AccessError } from '../errors.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';

/** @throws AccessError when the request carries no key or one that belongs to nobody. */
export async function writingOperator(request: Request, settings: Settings): Promise<string> {
  const operator = await ownOperator(request, settings);
  if (operator === undefined) throw new AccessError('missing');
  return operator;
}

/** Operators whose data this request may read: the open ones, and the key's own. */
export async function readableOperators(request: Request, settings: Settings): Promise<readonly string[]> {
  const own = await ownOperator(request, settings);
  if (own === undefined || settings.openOperators.includes(own)) return settings.openOperators;
  return [own, ...settings.openOperators];
}

/** @returns the key's operator, undefined without a key. @throws AccessError when the key is nobody's. */
export async function ownOperator(request: Request, settings: Settings): Promise<string | undefined> {
  const key = bearerKey(request);
  if (key === undefined) return undefined;
  const hash = await sha256Hex(key);
  for (const [operator, known] of settings.keyHashes) {
    if (isHashOf(hash, known)) return operator;
  }
  throw new AccessError('wrong');
}

/** @returns undefined without a header. @throws AccessError for one that is no key. */
export function bearerKey(request: Request): string | undefined {
  const header = request.headers.get('authorization');
  if (header === null) return undefined;
  const key = /^Bearer ([\x21-\x7e]{16,200})$/.exec(header)?.[1];
  if (key === undefined) throw new AccessError('wrong');
  return key;
}

/** Takes as long whatever the digests are. */
export function isHashOf(a: string, b: string): boolean {
  let difference = a.length ^ b.length;
  for (let index = 0; index < a.length; index += 1) difference |= a.charCodeAt(index) ^ b.charCodeAt(index);
  return difference === 0;
}
