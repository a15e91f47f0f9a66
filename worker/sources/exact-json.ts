/**
 * Values as JSON that come back as they were: NaN and the infinities, -0, undefined, bytes and arrays of floats too, which JSON alone
 * loses or cannot hold. What is none of JSON's own is an object with one member, "$" and what it is.
 */
import { AppBug } from '../errors.ts';

/** What JSON can hold. */
export type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

const MARK = '$';
const NUMBERS: Readonly<Record<string, number>> = {
  NaN: Number.NaN,
  Infinity: Number.POSITIVE_INFINITY,
  '-Infinity': Number.NEGATIVE_INFINITY,
  '-0': -0,
};

/** @throws AppBug for what is neither plain data nor bytes. */
export function toExactJson(value: unknown): Json {
  if (value === null || typeof value === 'string' || typeof value === 'boolean') return value;
  if (value === undefined) return marked('undefined', null);
  if (typeof value === 'number') return numberJson(value);
  if (Array.isArray(value)) return value.map(toExactJson);
  if (value instanceof ArrayBuffer) return marked('bytes', base64Of(new Uint8Array(value)));
  // The platforms this runs on are little-endian.
  if (value instanceof Float64Array)
    return marked('float64', base64Of(new Uint8Array(value.buffer, value.byteOffset, value.byteLength)));
  if (Object.getPrototypeOf(value) !== Object.prototype)
    throw new AppBug(`exact JSON: found ${Object.prototype.toString.call(value)}, expected plain data`);
  const entries = Object.entries(value).map(([key, each]) => [key, toExactJson(each)] as const);
  return Object.hasOwn(value, MARK) ? marked('object', entries) : Object.fromEntries(entries);
}

/** @throws AppBug for what toExactJson does not write. */
export function fromExactJson(json: Json): unknown {
  if (json === null || typeof json !== 'object') return json;
  if (Array.isArray(json)) return json.map(fromExactJson);
  const object = json as { readonly [key: string]: Json };
  if (!Object.hasOwn(object, MARK)) return objectOf(Object.entries(object));
  const { [MARK]: kind, value } = object;
  if (kind === 'undefined') return undefined;
  if (kind === 'object' && Array.isArray(value)) return objectOf(value as readonly [string, Json][]);
  if (kind === 'number' && typeof value === 'string' && Object.hasOwn(NUMBERS, value)) return NUMBERS[value];
  if (kind === 'bytes' && typeof value === 'string') return bytesOf(value);
  if (kind === 'float64' && typeof value === 'string') return new Float64Array(bytesOf(value));
  throw new AppBug(`exact JSON: found a value of kind ${JSON.stringify(kind)}, expected one of its own`);
}

/** Own members, whatever their names. */
function objectOf(entries: readonly (readonly [string, Json])[]): Record<string, unknown> {
  return Object.fromEntries(entries.map(([key, value]) => [key, fromExactJson(value)]));
}

function marked(kind: string, value: Json): Json {
  return { [MARK]: kind, value };
}

function numberJson(value: number): Json {
  if (Number.isFinite(value) && !Object.is(value, -0)) return value;
  return marked('number', Object.is(value, -0) ? '-0' : String(value));
}

/** Arguments of one call are limited in number. */
const CHARACTERS_A_CALL = 0x2000;

function base64Of(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += CHARACTERS_A_CALL)
    parts.push(String.fromCharCode(...bytes.subarray(from, from + CHARACTERS_A_CALL)));
  return btoa(parts.join(''));
}

function bytesOf(base64: string): ArrayBuffer {
  const text = atob(base64);
  const bytes = new Uint8Array(text.length);
  for (let at = 0; at < text.length; at += 1) bytes[at] = text.charCodeAt(at);
  return bytes.buffer;
}
