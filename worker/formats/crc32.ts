/** CRC-32 of PNG's chunks: clause 5.5 of the standard, reflected polynomial 0xedb88320. CRC-32C of the stores is another. */

/** Check values of an octet and of one with 1 to 3 zeros behind it, signed to keep the sums in 32-bit integers. */
const CRC_OCTET = Int32Array.from({ length: 256 }, (_, octet) => {
  let value = octet;
  for (let bit = 0; bit < 8; bit += 1) value = (value & 1) === 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});
const CRC_OCTET_0 = CRC_OCTET.map(withZero);
const CRC_OCTET_00 = CRC_OCTET_0.map(withZero);
const CRC_OCTET_000 = CRC_OCTET_00.map(withZero);

function withZero(value: number): number {
  return CRC_OCTET[value & 0xff]! ^ (value >>> 8);
}

/**
 * Four octets a turn: one by one, each would wait for the sum with the last.
 *
 * @returns 0 to 2^32 - 1.
 */
export function crc32(bytes: Uint8Array): number {
  const fours = bytes.length - (bytes.length % 4);
  let crc = -1;
  for (let at = 0; at < fours; at += 4) {
    crc ^= bytes[at]! | (bytes[at + 1]! << 8) | (bytes[at + 2]! << 16) | (bytes[at + 3]! << 24);
    crc =
      CRC_OCTET_000[crc & 0xff]! ^
      CRC_OCTET_00[(crc >>> 8) & 0xff]! ^
      CRC_OCTET_0[(crc >>> 16) & 0xff]! ^
      CRC_OCTET[crc >>> 24]!;
  }
  for (let at = fours; at < bytes.length; at += 1) crc = withZero(crc ^ bytes[at]!);
  return ~crc >>> 0;
}
