/** One run of bytes out of several; a single one is not copied. */
export function joinBytes(parts: readonly Uint8Array[]): Uint8Array {
  const [only] = parts;
  if (only !== undefined && parts.length === 1) return only;
  const whole = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
