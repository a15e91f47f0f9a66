/** Who may take a shared brief back: whoever has the key told at its creation, and the operator whose key it was made with. */
import type { Settings } from '../env.ts';
import { AccessError } from '../errors.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import type { SharedBrief } from '../sources/shared-briefs.ts';
import { bearerKey, isHashOf } from './access.ts';
import { operatorOfHash } from './principal.ts';

/**
 * A wrong key, another operator's and a missing one are told apart from nothing but each other: the link is known to whoever asks.
 *
 * @throws AccessError for all of them.
 */
export async function mayTakeBack(request: Request, shared: SharedBrief, settings: Settings): Promise<void> {
  const key = bearerKey(request);
  if (key === undefined) throw new AccessError('missing');
  const hash = await sha256Hex(key);
  if (isHashOf(hash, shared.keySha256)) return;
  const operator = operatorOfHash(hash, settings.keyHashes);
  if (operator === undefined || operator !== shared.maker?.operator) throw new AccessError('wrong');
}
