/**
 * The wanted messages out of fetched ranges, as one stream that readGrib2 can read: gaps are dropped, and so is a message
 * that is not what the inventory says before its sections are looked at.
 */
import { FormatError } from '../errors.ts';
import { joinBytes } from '../formats/join-bytes.ts';
import type { PlannedMessage } from './range-plan.ts';
import type { FetchedRange } from './ranges-in-order.ts';

export interface MessageCutter {
  /** The bytes of the messages, in the order of the file; taken once. */
  readonly chunks: AsyncGenerator<Uint8Array>;
  /** Where a byte of `chunks` lies in the remote file. */
  remoteOffset(offsetBytes: number): number;
  /** Messages dropped since the last call. */
  takeRefusals(): FormatError[];
  /** True once a message has passed. */
  readonly hasPassed: boolean;
}

interface Segment {
  readonly streamOffset: number;
  readonly remoteOffset: number;
}

interface Open {
  readonly message: PlannedMessage;
  /** Held until the indicator section is whole. */
  readonly head: Uint8Array[];
  /** Of the message, already seen. */
  seenBytes: number;
  /** As the message itself says; undefined while its head is held. */
  lengthBytes: number | undefined;
  isDropped: boolean;
}

const INDICATOR_OCTETS = 16;

export function cutMessages(ranges: AsyncIterable<FetchedRange>): MessageCutter {
  const segments: Segment[] = [];
  let refusals: FormatError[] = [];
  let streamBytes = 0;

  /** The part of a message that a range brought; what of it passes on. */
  function take(open: Open, part: Uint8Array): Uint8Array | undefined {
    if (open.isDropped) return undefined;
    if (open.lengthBytes !== undefined) return trimmed(open, part);
    open.head.push(part);
    const head = joinBytes(open.head);
    const { message } = open;
    const isWhole = head.length === message.lengthBytes;
    if (head.length < INDICATOR_OCTETS && !isWhole) return undefined;
    const fault = faultOfHead(head, message);
    if (fault !== undefined) {
      open.isDropped = true;
      refusals.push(fault);
      return undefined;
    }
    open.lengthBytes = lengthOf(head);
    segments.push({ streamOffset: streamBytes, remoteOffset: message.offsetBytes });
    return trimmed(open, head);
  }

  function trimmed(open: Open, part: Uint8Array): Uint8Array {
    const passing = part.subarray(0, Math.max(0, open.lengthBytes! - open.seenBytes));
    open.seenBytes += passing.length;
    streamBytes += passing.length;
    return passing;
  }

  async function* chunks(): AsyncGenerator<Uint8Array> {
    let open: Open | undefined;
    for await (const { range, bytes } of ranges) {
      for (const message of range.messages) {
        if (open?.message !== message) {
          open = { message, head: [], seenBytes: 0, lengthBytes: undefined, isDropped: false };
        }
        const from = Math.max(0, message.offsetBytes - range.firstByte);
        const to = message.offsetBytes + (message.lengthBytes ?? Number.MAX_SAFE_INTEGER) - range.firstByte;
        const passing = take(open, bytes.subarray(from, Math.min(to, bytes.length)));
        if (passing !== undefined && passing.length > 0) yield passing;
      }
    }
  }

  return {
    chunks: chunks(),
    remoteOffset(offsetBytes) {
      const segment = segments.findLast(({ streamOffset }) => streamOffset <= offsetBytes);
      return segment === undefined ? 0 : segment.remoteOffset + offsetBytes - segment.streamOffset;
    },
    takeRefusals() {
      const taken = refusals;
      refusals = [];
      return taken;
    },
    get hasPassed() {
      return segments.length > 0;
    },
  };
}

const latin1 = (bytes: Uint8Array) => String.fromCharCode(...bytes);

function lengthOf(head: Uint8Array): number {
  return Number(new DataView(head.buffer, head.byteOffset).getBigUint64(8));
}

/** "GRIB", edition 2, and a length within what the inventory gives the message. */
function faultOfHead(head: Uint8Array, message: PlannedMessage): FormatError | undefined {
  const mark = latin1(head.subarray(0, 4));
  if (head.length < INDICATOR_OCTETS || mark !== 'GRIB' || head[7] !== 2) {
    return disagreement(message, `${JSON.stringify(mark)} and edition ${head[7] ?? 'none'}`);
  }
  const lengthBytes = lengthOf(head);
  const isWithin = lengthBytes > INDICATOR_OCTETS && lengthBytes <= (message.lengthBytes ?? lengthBytes);
  return isWithin ? undefined : disagreement(message, `a message of ${lengthBytes} bytes`);
}

function disagreement({ offsetBytes, lengthBytes, entries }: PlannedMessage, found: string): FormatError {
  const [first] = entries;
  const size = lengthBytes === undefined ? 'to the end of the file' : `of ${lengthBytes} bytes`;
  return new FormatError({
    format: 'GRIB2',
    place: { unit: 'byte', offsetBytes },
    what: 'message against the index of the file',
    found,
    expected: `a message ${size}, ${first?.parameter} ${first?.level} of line ${first?.line}`,
  });
}
