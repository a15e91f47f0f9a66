/** A part of a stream of bytes held in memory: grown with what arrives, dropped from the front. */

export interface ByteWindow {
  /** Offset of the first held byte in the stream. */
  readonly offsetBytes: number;
  /** The held bytes, without a copy; valid until the next call of fill or drop. */
  readonly bytes: Uint8Array;
  /** Takes from the stream until so many bytes are held; false when the stream ends before. */
  fill(lengthBytes: number): Promise<boolean>;
  /** Lets go of so many of the held bytes. */
  drop(lengthBytes: number): void;
  /** Tells the stream that no more is wanted. */
  close(): Promise<void>;
}

const SMALLEST_BUFFER = 256 * 1024;

/**
 * Room beyond what fill asked for, as a ratio: a window that moves on by a few bytes between two long fills (a false mark
 * with a great length after the other) is copied once in so many of its lengths, not at every step.
 */
const SLACK = 0.5;

/** Never has room for more than half as much again as fill asked for, whatever the size of the chunks. */
export function openByteWindow(chunks: AsyncIterable<Uint8Array>): ByteWindow {
  const source = chunks[Symbol.asyncIterator]();
  let chunk: Uint8Array = new Uint8Array(0);
  let buffer = new Uint8Array(SMALLEST_BUFFER);
  let start = 0;
  let end = 0;
  let offsetBytes = 0;

  /** Room after `end` for more of a held part of so many bytes: doubled at most, as the bytes come. */
  function makeRoom(lengthBytes: number): void {
    if (end < buffer.length) return;
    const held = buffer.subarray(start, end);
    if (start < (buffer.length * SLACK) / (1 + SLACK)) {
      const wanted = Math.max(Math.ceil(lengthBytes * (1 + SLACK)), SMALLEST_BUFFER);
      buffer = new Uint8Array(Math.min(wanted, 2 * buffer.length));
    }
    buffer.set(held);
    end -= start;
    start = 0;
  }

  return {
    get offsetBytes() {
      return offsetBytes;
    },
    get bytes() {
      return buffer.subarray(start, end);
    },
    async fill(lengthBytes) {
      while (end - start < lengthBytes) {
        if (chunk.length === 0) {
          const next = await source.next();
          if (next.done === true) return false;
          chunk = next.value;
          continue;
        }
        makeRoom(lengthBytes);
        const taken = Math.min(chunk.length, lengthBytes - (end - start), buffer.length - end);
        buffer.set(chunk.subarray(0, taken), end);
        chunk = chunk.subarray(taken);
        end += taken;
      }
      return true;
    },
    drop(lengthBytes) {
      start += lengthBytes;
      offsetBytes += lengthBytes;
    },
    async close() {
      await source.return?.();
    },
  };
}
