/** The body of an answer, of a length that is known or bounded before it is read. */
import { SourceError } from '../errors.ts';
import { joinBytes } from '../formats/join-bytes.ts';

export interface BodyLimits {
  readonly host: string;
  readonly mostBytes: number;
  /** undefined: the answer does not say. */
  readonly exactBytes: number | undefined;
}

/** @throws SourceError `too-large` as soon as more bytes come than may, `short` when fewer come than were promised. */
export async function readBody(response: Response, limits: BodyLimits): Promise<Uint8Array> {
  const { host, mostBytes, exactBytes } = limits;
  const most = Math.min(mostBytes, exactBytes ?? mostBytes);
  if (exactBytes !== undefined && exactBytes > mostBytes) throw tooLarge(host, exactBytes, mostBytes);
  const parts: Uint8Array[] = [];
  let lengthBytes = 0;
  const reader = response.body?.getReader();
  for (;;) {
    const next = await reader?.read();
    if (next === undefined || next.done) break;
    lengthBytes += next.value.byteLength;
    if (lengthBytes > most) throw tooLarge(host, lengthBytes, most);
    parts.push(next.value);
  }
  if (exactBytes !== undefined && lengthBytes < exactBytes) {
    throw new SourceError({
      host,
      fault: 'short',
      what: 'body',
      found: `${lengthBytes} bytes`,
      expected: String(exactBytes),
      retryable: true,
    });
  }
  return joinBytes(parts);
}

function tooLarge(host: string, found: number, most: number): SourceError {
  return new SourceError({
    host,
    fault: 'too-large',
    what: 'body',
    found: `${found} bytes or more`,
    expected: `at most ${most}`,
  });
}
