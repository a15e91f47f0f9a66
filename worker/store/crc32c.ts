/** CRC-32C (Castagnoli), which ends the index of a Zarr shard. RFC 3720, section 12.1: reflected polynomial 0x82f63b78. */
const REFLECTED_POLYNOMIAL = 0x82f63b78;

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit += 1) {
    remainder = (remainder & 1) === 1 ? (remainder >>> 1) ^ REFLECTED_POLYNOMIAL : remainder >>> 1;
  }
  return remainder;
});

/** @returns 0 to 2^32 - 1. */
export function crc32c(bytes: Uint8Array): number {
  let remainder = 0xffffffff;
  for (const byte of bytes) remainder = TABLE[(remainder ^ byte) & 0xff]! ^ (remainder >>> 8);
  return (remainder ^ 0xffffffff) >>> 0;
}
