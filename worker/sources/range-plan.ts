/**
 * Which byte ranges bring the wanted messages of a file: decided before anything is fetched, so that it can be printed and tested.
 *
 * Ranges grow along the file and do not overlap. Neighbors are joined over a small gap only when the inventory accounts for
 * every byte of the gap: what a refused line may hide is never fetched along.
 */
import { InvalidRequestError } from '../errors.ts';
import type { InventoryEntry } from '../formats/inventory-line.ts';

export interface PlanLimits {
  /** Two messages so many bytes apart, or fewer, come in one range. */
  readonly joinGapBytes: number;
  /** A range is at most so long; a longer message comes in several. */
  readonly greatestRangeBytes: number;
  /** A message may be at most so long. */
  readonly greatestMessageBytes: number;
  /** At most so many bytes in all, gaps included. */
  readonly greatestTotalBytes: number;
  readonly mostRanges: number;
}

const MIB = 2 ** 20;

/**
 * By the index of a global model of 0.25 degrees (tests/data/open-index.test.ts) an hour is 262 messages, 155 MB in 89 ranges;
 * joined over 1 MiB it would be 47 ranges and a quarter more bytes.
 */
export const DEFAULT_PLAN_LIMITS: PlanLimits = {
  joinGapBytes: MIB / 2,
  greatestRangeBytes: 6 * MIB,
  greatestMessageBytes: 64 * MIB,
  greatestTotalBytes: 512 * MIB,
  mostRanges: 400,
};

export interface PlannedMessage {
  readonly offsetBytes: number;
  /** undefined: to the end of the file, which the inventory does not tell. */
  readonly lengthBytes: number | undefined;
  /** Wanted fields of the message. */
  readonly entries: readonly InventoryEntry[];
}

export interface PlannedRange {
  readonly firstByte: number;
  /** Included; where `isEndOpen`, the file may end before. */
  readonly lastByte: number;
  readonly isEndOpen: boolean;
  /** Messages of which a part, or all, lies in the range; in the order of the file. */
  readonly messages: readonly PlannedMessage[];
  /** Bytes that belong to no wanted message. */
  readonly gapBytes: number;
}

export interface RangePlan {
  readonly ranges: readonly PlannedRange[];
  readonly messages: readonly PlannedMessage[];
  /** Of all ranges; where the last is open, at most so many. */
  readonly totalBytes: number;
  readonly gapBytes: number;
}

/**
 * @param wanted  Entries to fetch, in any order.
 * @param all     Every entry of the inventory: they say what lies in a gap.
 * @throws InvalidRequestError when the entries cannot be of one file, or want more than a limit allows.
 */
export function planRanges(
  wanted: readonly InventoryEntry[],
  all: readonly InventoryEntry[],
  limits: PlanLimits,
): RangePlan {
  const messages = messagesOf(wanted);
  messages.forEach((message, at) => {
    checkMessage(message, messages[at + 1], limits);
  });
  const known = knownBytes(all);
  const ranges: PlannedRange[] = [];
  for (const group of groupsOf(messages, known, limits)) ranges.push(...rangesOf(group, limits));
  const totalBytes = sumOf(ranges, ({ firstByte, lastByte }) => lastByte - firstByte + 1);
  refuseBeyond('plan.totalBytes', totalBytes, limits.greatestTotalBytes);
  refuseBeyond('plan.ranges', ranges.length, limits.mostRanges);
  return { ranges, messages, totalBytes, gapBytes: sumOf(ranges, ({ gapBytes }) => gapBytes) };
}

/** The plan in lines for a person or a log. */
export function describePlan({ ranges, messages, totalBytes, gapBytes }: RangePlan): string {
  const fields = sumOf(messages, ({ entries }) => entries.length);
  const head = `${fields} fields in ${messages.length} messages: ${ranges.length} ranges, ${totalBytes} bytes, ${gapBytes} of them between`;
  const lines = ranges.map((range) => {
    const names = range.messages.flatMap(({ entries }) => entries.map(nameOf));
    const end = range.isEndOpen ? ' or end of file' : '';
    return `${range.firstByte}-${range.lastByte}${end} (${range.gapBytes} between): ${names.join(', ')}`;
  });
  return [head, ...lines].join('\n');
}

const nameOf = ({ parameter, level }: InventoryEntry) => `${parameter} ${level}`;

/** Entries at one place are fields of one message. */
function messagesOf(wanted: readonly InventoryEntry[]): PlannedMessage[] {
  const messages: (PlannedMessage & { entries: InventoryEntry[] })[] = [];
  for (const entry of wanted.toSorted((a, b) => a.offsetBytes - b.offsetBytes || a.line - b.line)) {
    const { offsetBytes, lengthBytes } = entry;
    const last = messages.at(-1);
    if (last?.offsetBytes === offsetBytes && last.lengthBytes === lengthBytes) last.entries.push(entry);
    else messages.push({ offsetBytes, lengthBytes, entries: [entry] });
  }
  return messages;
}

function checkMessage(
  message: PlannedMessage,
  next: PlannedMessage | undefined,
  { greatestMessageBytes }: PlanLimits,
): void {
  const { offsetBytes, lengthBytes } = message;
  const field = `line ${message.entries[0]!.line}`;
  const isPlace = Number.isSafeInteger(offsetBytes) && offsetBytes >= 0;
  const isLength =
    lengthBytes === undefined || (Number.isSafeInteger(offsetBytes + lengthBytes) && lengthBytes > 0);
  if (!isPlace || !isLength) {
    throw new InvalidRequestError({
      field,
      found: `${lengthBytes} bytes at ${offsetBytes}`,
      expected: 'a range that a file can have',
    });
  }
  if (next !== undefined && (lengthBytes === undefined || next.offsetBytes < offsetBytes + lengthBytes)) {
    throw new InvalidRequestError({
      field: `line ${next.entries[0]!.line}`,
      found: `a message at ${next.offsetBytes}`,
      expected: `none inside the one at ${offsetBytes} of ${field}`,
    });
  }
  refuseBeyond(`${field} bytes`, lengthBytes ?? 0, greatestMessageBytes);
}

function refuseBeyond(field: string, found: number, most: number): void {
  if (found <= most) return;
  throw new InvalidRequestError({ field, found: String(found), expected: `at most ${most}` });
}

/** First and last-plus-one bytes of runs of messages without anything unknown between, ascending. */
type KnownBytes = readonly { readonly from: number; readonly to: number }[];

function knownBytes(all: readonly InventoryEntry[]): KnownBytes {
  const runs: { from: number; to: number }[] = [];
  for (const { offsetBytes, lengthBytes } of all.toSorted((a, b) => a.offsetBytes - b.offsetBytes)) {
    if (lengthBytes === undefined) continue;
    const last = runs.at(-1);
    if (last !== undefined && offsetBytes <= last.to) last.to = Math.max(last.to, offsetBytes + lengthBytes);
    else runs.push({ from: offsetBytes, to: offsetBytes + lengthBytes });
  }
  return runs;
}

/** Runs of messages that come together; a message longer than a range, or without an end, is alone. */
function* groupsOf(
  messages: readonly PlannedMessage[],
  known: KnownBytes,
  limits: PlanLimits,
): Generator<readonly PlannedMessage[]> {
  let group: PlannedMessage[] = [];
  let run = 0;
  for (const message of messages) {
    const [first, last] = [group[0], group.at(-1)];
    if (first === undefined || last === undefined) {
      group = [message];
      continue;
    }
    while (run < known.length && known[run]!.to < endOf(last)) run += 1;
    const isJoined =
      message.lengthBytes !== undefined &&
      message.offsetBytes - endOf(last) <= limits.joinGapBytes &&
      endOf(message) - first.offsetBytes <= limits.greatestRangeBytes &&
      isWithin(known[run], endOf(last), message.offsetBytes);
    if (isJoined) {
      group.push(message);
      continue;
    }
    yield group;
    group = [message];
  }
  if (group.length > 0) yield group;
}

const endOf = ({ offsetBytes, lengthBytes }: PlannedMessage) => offsetBytes + (lengthBytes ?? 0);

function isWithin(known: KnownBytes[number] | undefined, from: number, to: number): boolean {
  return from === to || (known !== undefined && known.from <= from && to <= known.to);
}

/** One range of a group; several of a message that is longer than a range may be. */
function rangesOf(group: readonly PlannedMessage[], limits: PlanLimits): PlannedRange[] {
  const firstByte = group[0]!.offsetBytes;
  const last = group.at(-1)!;
  if (last.lengthBytes === undefined) {
    const most = Math.min(limits.greatestRangeBytes, limits.greatestMessageBytes);
    return [{ firstByte, lastByte: firstByte + most - 1, isEndOpen: true, messages: group, gapBytes: 0 }];
  }
  const lengthBytes = endOf(last) - firstByte;
  const gapBytes = lengthBytes - sumOf(group, (message) => message.lengthBytes ?? 0);
  const pieces = Math.ceil(lengthBytes / limits.greatestRangeBytes);
  return Array.from({ length: Math.min(pieces, limits.mostRanges + 1) }, (_, piece) => {
    const from = firstByte + piece * limits.greatestRangeBytes;
    const lastByte = Math.min(from + limits.greatestRangeBytes, firstByte + lengthBytes) - 1;
    return { firstByte: from, lastByte, isEndOpen: false, messages: group, gapBytes };
  });
}

function sumOf<T>(items: readonly T[], of: (item: T) => number): number {
  return items.reduce((sum, item) => sum + of(item), 0);
}
