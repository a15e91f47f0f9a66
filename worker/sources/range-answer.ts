/** What an answer to a range request must say before its body is read. */
import { SourceError } from '../errors.ts';

export interface ByteRange {
  readonly firstByte: number;
  /** Included. */
  readonly lastByte: number;
  /** True when the file may end before `lastByte`, and must not go on behind it. */
  readonly isEndOpen: boolean;
}

/** What tells one version of a file from another. */
export interface FileVersion {
  readonly etag: string | undefined;
  readonly totalBytes: number;
}

export interface RangeAnswer {
  /** Of the body to come. */
  readonly lengthBytes: number;
  readonly version: FileVersion;
}

interface Asked {
  readonly host: string;
  /** What an earlier answer said of the file. */
  readonly version: FileVersion | undefined;
}

const CONTENT_RANGE = /^bytes (\d{1,15})-(\d{1,15})\/(\d{1,15})$/;

/**
 * @param response  With status 206, or 200 when the whole file came in the place of a range.
 * @throws SourceError `replaced` for another version of the file, `range` for anything but the range asked for; the body is
 *   left to the caller.
 */
export function rangeAnswer(response: Response, range: ByteRange, asked: Asked): RangeAnswer {
  const { host } = asked;
  const encoding = response.headers.get('content-encoding') ?? 'identity';
  if (encoding !== 'identity') throw rangeError(host, `encoding ${encoding}`, 'the bytes as they are');
  const etag = response.headers.get('etag') ?? undefined;
  if (asked.version !== undefined && etag !== asked.version.etag) {
    throw replaced(host, `ETag ${etag ?? 'none'}`, asked.version.etag ?? 'none');
  }
  const answer = response.status === 200 ? wholeFile(response, range, host) : partOf(response, range, host);
  const { totalBytes } = answer;
  if (asked.version !== undefined && totalBytes !== asked.version.totalBytes) {
    throw replaced(host, `${totalBytes} bytes in all`, String(asked.version.totalBytes));
  }
  return { lengthBytes: answer.lengthBytes, version: { etag, totalBytes } };
}

interface Part {
  readonly lengthBytes: number;
  readonly totalBytes: number;
}

function partOf(response: Response, range: ByteRange, host: string): Part {
  const header = response.headers.get('content-range') ?? 'none';
  const [first = Number.NaN, last = Number.NaN, totalBytes = Number.NaN] = (
    CONTENT_RANGE.exec(header)?.slice(1) ?? []
  ).map(Number);
  const fileEnd = totalBytes - 1;
  const isEnd = range.isEndOpen ? last === fileEnd && last <= range.lastByte : last === range.lastByte;
  if (first !== range.firstByte || !isEnd || last > fileEnd) {
    throw rangeError(host, `Content-Range ${header.slice(0, 60)}`, expectedRange(range));
  }
  return { lengthBytes: last - first + 1, totalBytes };
}

/** A server without ranges sends the whole file: good only when that is what was asked for. */
function wholeFile(response: Response, range: ByteRange, host: string): Part {
  const totalBytes = Number(response.headers.get('content-length') ?? Number.NaN);
  const asked = range.lastByte + 1;
  const isAll = range.firstByte === 0 && (range.isEndOpen ? totalBytes <= asked : totalBytes === asked);
  if (!isAll) throw rangeError(host, `the whole file, ${totalBytes} bytes`, expectedRange(range));
  return { lengthBytes: totalBytes, totalBytes };
}

function expectedRange({ firstByte, lastByte, isEndOpen }: ByteRange): string {
  return isEndOpen
    ? `bytes ${firstByte} to the end of the file, at ${lastByte} or before`
    : `bytes ${firstByte}-${lastByte}`;
}

function rangeError(host: string, found: string, expected: string): SourceError {
  return new SourceError({ host, fault: 'range', what: 'range', found, expected });
}

function replaced(host: string, found: string, expected: string): SourceError {
  const what = 'another version of the file';
  return new SourceError({ host, fault: 'replaced', what, found, expected, retryable: false });
}
