import { afterEach, describe, expect, it, vi } from 'vitest';
import { openByteWindow } from '../../../worker/formats/grib2/byte-window.ts';

async function* chunksOf(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let from = 0; from < bytes.length; from += size) yield bytes.subarray(from, from + size);
}

/** Bytes that run through a short cycle, so that a shift shows. */
const counted = (length: number) => Uint8Array.from({ length }, (_, at) => at % 251);

afterEach(() => vi.restoreAllMocks());

describe('openByteWindow', () => {
  it.each([1, 7, 1000, 300_000])(
    'gives the bytes of the stream in chunks of %i, wherever it stands',
    async (size) => {
      const bytes = counted(size === 1 ? 3000 : 900_000);
      const window = openByteWindow(chunksOf(bytes, size));
      for (let step = 0; await window.fill(500); step += 1) {
        expect(window.bytes[0]).toBe(bytes[window.offsetBytes]);
        expect(window.bytes[window.bytes.length - 1]).toBe(
          bytes[window.offsetBytes + window.bytes.length - 1],
        );
        window.drop(1 + ((step * 37) % 499));
      }
      expect(bytes.length - window.offsetBytes).toBe(window.bytes.length);
    },
  );

  it('moves each byte a few times at most when it steps on by four bytes under a long fill', async () => {
    const bytes = counted(6 * 2 ** 20);
    const longBytes = 4 * 2 ** 20;
    const window = openByteWindow(chunksOf(bytes, 65_536));
    let copiedBytes = 0;
    const set = Uint8Array.prototype.set;
    vi.spyOn(Uint8Array.prototype, 'set').mockImplementation(function count(this: Uint8Array, from, at) {
      copiedBytes += from.length;
      set.call(this, from, at);
    });
    while (await window.fill(longBytes)) window.drop(4);
    expect(window.offsetBytes).toBeGreaterThan(bytes.length - longBytes);
    expect(copiedBytes).toBeLessThan(6 * bytes.length);
  });
});
