/** Mutations that know nothing of a format: flips, runs, cuts, splices, and the numbers that break counts. */
import type { Random } from './fuzz-target.ts';

/** Numbers from a seed (xorshift, Marsaglia 2003): the same inputs in every run. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0 || 1;
  return {
    below(limit) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      state >>>= 0;
      return state % Math.max(1, limit);
    },
  };
}

const EXTREMES = [0, 1, 0x7f, 0x80, 0xfe, 0xff];

/** One to four mutations of a copy. */
export function mutateBytes(seed: Uint8Array, other: Uint8Array, random: Random): Uint8Array {
  // Not slice: that of a Buffer is a view of the seed.
  let bytes: Uint8Array = new Uint8Array(seed);
  for (let count = 1 + random.below(4); count > 0; count -= 1) bytes = mutateOnce(bytes, other, random);
  return bytes;
}

function mutateOnce(bytes: Uint8Array, other: Uint8Array, random: Random): Uint8Array {
  if (bytes.length === 0) return new Uint8Array(other).slice(0, 64);
  const at = random.below(bytes.length);
  switch (random.below(7)) {
    case 0:
      bytes[at]! ^= 1 << random.below(8);
      return bytes;
    case 1:
      bytes[at] = random.below(256);
      return bytes;
    case 2:
      bytes.fill(EXTREMES[random.below(EXTREMES.length)]!, at, at + 1 + random.below(8));
      return bytes;
    case 3:
      return bytes.slice(0, at);
    case 4:
      return spliced(bytes, at, at + random.below(64), new Uint8Array(0));
    case 5:
      return spliced(bytes, at, at, bytes.slice(at, at + 1 + random.below(64)));
    default: {
      const from = random.below(other.length);
      return spliced(bytes, at, at + random.below(64), other.slice(from, from + random.below(64)));
    }
  }
}

function spliced(bytes: Uint8Array, from: number, to: number, inserted: Uint8Array): Uint8Array {
  const tail = bytes.subarray(Math.min(to, bytes.length));
  const result = new Uint8Array(from + inserted.length + tail.length);
  result.set(bytes.subarray(0, from));
  result.set(inserted, from);
  result.set(tail, from + inserted.length);
  return result;
}
