/** Request bodies read in pieces and never beyond a stated size. */
import { InvalidRequestError } from '../errors.ts';

/**
 * The body's bytes as they come.
 *
 * @throws InvalidRequestError when there is no body, or once more than `mostBytes` have come.
 */
export async function* bodyChunks(request: Request, mostBytes: number): AsyncGenerator<Uint8Array> {
  if (request.body === null) throw bodyError('nothing', 'a file');
  const reader = request.body.getReader();
  let seenBytes = 0;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      seenBytes += value.byteLength;
      if (seenBytes > mostBytes)
        throw bodyError(`more than ${mostBytes} bytes`, `at most ${mostBytes} bytes`);
      yield value;
    }
  } finally {
    reader.cancel().catch(() => undefined);
  }
}

/** The whole body as text, for formats that are small by nature. */
export async function bodyText(chunks: AsyncIterable<Uint8Array>): Promise<string> {
  const decoder = new TextDecoder();
  let text = '';
  for await (const chunk of chunks) text += decoder.decode(chunk, { stream: true });
  return text + decoder.decode();
}

/** JSON body. @throws InvalidRequestError when it is too large or no JSON. */
export async function bodyJson(request: Request, mostBytes: number): Promise<unknown> {
  const text = await bodyText(bodyChunks(request, mostBytes));
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new InvalidRequestError(
      { field: 'body', found: 'text that is not JSON', expected: 'a JSON object' },
      { cause },
    );
  }
}

function bodyError(found: string, expected: string): InvalidRequestError {
  return new InvalidRequestError({ field: 'body', found, expected });
}
