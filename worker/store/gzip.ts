/** Gzip (RFC 1952) and zlib (RFC 1950) by the platform's own streams. */

/** Octets after the compressed data: CRC-32 of what was compressed, then its length, both little-endian. */
const TRAILER_BYTES = 8;

export function gzip(bytes: Uint8Array): Promise<Uint8Array> {
  return through(bytes, new CompressionStream('gzip'));
}

/** The wrapping that PNG asks for. */
export function zlibDeflate(bytes: Uint8Array): Promise<Uint8Array> {
  return through(bytes, new CompressionStream('deflate'));
}

/** @returns undefined when the bytes are not one whole gzip member: its trailer must agree with what comes out. */
export async function gunzip(bytes: Uint8Array): Promise<Uint8Array | undefined> {
  try {
    return await through(bytes, new DecompressionStream('gzip'));
  } catch {
    return undefined;
  }
}

/** The CRC-32 a gzip member says its content has; undefined when the bytes are too few to say. */
export function statedCrc32(bytes: Uint8Array): number | undefined {
  if (bytes.byteLength < TRAILER_BYTES) return undefined;
  const trailer = new DataView(bytes.buffer, bytes.byteOffset + bytes.byteLength - TRAILER_BYTES);
  return trailer.getUint32(0, true);
}

/** One behind the other. */
export function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, { byteLength }) => sum + byteLength, 0));
  let offset = 0;
  for (const part of parts) {
    bytes.set(part, offset);
    offset += part.byteLength;
  }
  return bytes;
}

/**
 * What comes out of a stream that takes these bytes and no more. The answer's own reading is the fastest in workerd: there a loop over
 * the pieces takes one and a half times as long.
 *
 * @throws what the stream throws.
 */
async function through(
  bytes: Uint8Array,
  { readable, writable }: CompressionStream | DecompressionStream,
): Promise<Uint8Array> {
  const writer = writable.getWriter();
  // A fault of the writing side is met at the reading side; here it is only kept from going unheard.
  const written = Promise.allSettled([writer.write(bytes as BufferSource), writer.close()]);
  const all = await new Response(readable as BodyInit & ReadableStream).arrayBuffer();
  await written;
  return new Uint8Array(all);
}
