import { expect, it } from 'vitest';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';

// One block, and none: examples of the Secure Hash Standard (NIST, FIPS 180).
it.each([
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
])('the digest of "%s" has all 64 digits, zeros in front of a byte too', async (text, expected) => {
  expect(await sha256Hex(text)).toBe(expected);
});
