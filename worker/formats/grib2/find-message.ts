/** Where the next message begins in a stream, and what lay before it. */
import { type Gap, indexOfBytes, LONGEST_HEADING, latin1 } from '../message-gap.ts';
import type { ByteWindow } from './byte-window.ts';

const MAGIC = [0x47, 0x52, 0x49, 0x42] as const;
/** Bytes looked at in one go. */
const STRIDE = 64 * 1024;

/** Moves the window to the next "GRIB", or to the end of the stream. */
export async function findMessage(window: ByteWindow): Promise<{ found: boolean; gap: Gap }> {
  const offsetBytes = window.offsetBytes;
  let head = '';
  for (;;) {
    const isMore = await window.fill(STRIDE);
    const { bytes } = window;
    const at = indexOfBytes(bytes, MAGIC);
    const kept = isMore ? MAGIC.length - 1 : 0;
    const passed = at >= 0 ? at : Math.max(0, bytes.length - kept);
    if (head.length <= LONGEST_HEADING) head += latin1(bytes.subarray(0, Math.min(passed, STRIDE)));
    window.drop(passed);
    if (at >= 0 || !isMore) {
      return { found: at >= 0, gap: { offsetBytes, lengthBytes: window.offsetBytes - offsetBytes, head } };
    }
  }
}
