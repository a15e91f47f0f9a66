/** The SourceError that a call fails with, for tests that look at its fields. */
import { SourceError } from '../../worker/errors.ts';

export async function sourceErrorOf(call: () => unknown): Promise<SourceError> {
  try {
    await call();
  } catch (error) {
    if (error instanceof SourceError) return error;
    throw error;
  }
  throw new Error('expected a SourceError, found none');
}
