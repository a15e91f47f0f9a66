/** What a message is rejected with, as fields to compare. */
import { FormatError, UnsupportedError } from '../../worker/errors.ts';
import type { Grib2Item } from '../../worker/formats/grib2/decode-message.ts';

/** Runs what should throw and gives the error; any other kind of error, or none, fails the test. */
export function grib2ErrorOf(run: () => unknown): FormatError | UnsupportedError {
  try {
    run();
  } catch (error) {
    if (error instanceof FormatError || error instanceof UnsupportedError) return error;
    throw error;
  }
  throw new Error('expected a FormatError or UnsupportedError, nothing was thrown');
}

/** The error of the only item, which must be a rejection. */
export function rejectionOf(items: readonly Grib2Item[]): FormatError | UnsupportedError {
  const [item] = items;
  if (items.length === 1 && item?.kind === 'rejected') return item.error;
  throw new Error(`expected one rejection, found ${items.map((each) => each.kind).join(', ') || 'nothing'}`);
}

/** Table and value of an UnsupportedError. */
export function unsupported(error: FormatError | UnsupportedError): readonly [string, string] {
  if (error instanceof UnsupportedError) return [error.table, error.value];
  throw new Error(`expected an UnsupportedError, found: ${error.message}`);
}

/** Offset in the file of a FormatError. */
export function offsetOf(error: FormatError | UnsupportedError): number {
  if (error instanceof FormatError && error.place.unit === 'byte') return error.place.offsetBytes;
  throw new Error(`expected a FormatError with an offset, found: ${error.message}`);
}
