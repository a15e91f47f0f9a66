/** Descriptors F X Y, kept as the number FXXYYY: 0 12 101 is 12101, 3 09 052 is 309052. */

/** @param bits  The 16 bits of a descriptor: F in 2, X in 6, Y in 8 (regulation 94.5.3.1). */
export function descriptorOfBits(bits: number): number {
  return (bits >>> 14) * 100_000 + ((bits >>> 8) & 0x3f) * 1000 + (bits & 0xff);
}

/** What kind of descriptor: 0 element, 1 replication, 2 operator, 3 sequence. */
export const fOf = (descriptor: number): number => Math.trunc(descriptor / 100_000);
/** Class of an element or sequence, count of a replication's descriptors, or the operator. */
export const xOf = (descriptor: number): number => Math.trunc(descriptor / 1000) % 100;
/** Entry in the class, number of replications, or the operator's operand. */
export const yOf = (descriptor: number): number => descriptor % 1000;

/** As the manual prints it: `0 12 101`. */
export function shownDescriptor(descriptor: number): string {
  const figures = String(descriptor).padStart(6, '0');
  return `${figures.slice(0, 1)} ${figures.slice(1, 3)} ${figures.slice(3)}`;
}
