/** Work that nobody waits for. */
import type { Context } from 'hono';

/**
 * Lets the platform go on with it after the answer; where there is none, as in tests, it is waited for.
 *
 * @param work  It must not reject: nobody would hear of it.
 */
export async function afterAnswer(context: Context, work: Promise<void>): Promise<void> {
  const platform = platformOf(context);
  if (platform === undefined) await work;
  else platform.waitUntil(work);
}

function platformOf(context: Context): Pick<Context['executionCtx'], 'waitUntil'> | undefined {
  try {
    return context.executionCtx;
  } catch {
    return undefined;
  }
}
