/** Where each message ends, and which lines cannot be true beside the others. */
import type { InventoryEntry, InventoryLine, ReadLine, RefusedLine } from './inventory-line.ts';
import type { Rejection } from './sounding.ts';

interface Placed {
  readonly entries: InventoryEntry[];
  readonly rejected: Rejection[];
}

/** An offset that falls by more than half of 32 bits has lost its upper half, signed or not. */
const HALF_OF_32_BITS = 2 ** 31;

/**
 * Colon lines, in the order of their messages: a message ends where the next begins, the last one with the file. A line
 * whose end is told only by an offset that is refused is refused too: a range too long would be a guess.
 */
export function placeInOrder(lines: readonly ReadLine[]): Placed {
  const judged = judgeOrder(lines);
  const placed: Placed = { entries: [], rejected: [] };
  // Backwards: the end of a message is the first other offset behind it.
  let next: { offsetBytes: number | undefined; line: number } | undefined;
  let lengthEnd: typeof next;
  for (const each of judged.toReversed()) {
    if (next === undefined || each.offsetBytes === undefined || each.offsetBytes !== next.offsetBytes) {
      lengthEnd = next;
      next = each;
    }
    if ('reason' in each) {
      placed.rejected.push({ line: each.line, reason: each.reason });
      continue;
    }
    if (lengthEnd !== undefined && lengthEnd.offsetBytes === undefined) {
      const reason = `end: found no usable offset in line ${lengthEnd.line}, expected the beginning of the next message`;
      placed.rejected.push({ line: each.line, reason });
      continue;
    }
    const lengthBytes = lengthEnd === undefined ? undefined : lengthEnd.offsetBytes! - each.offsetBytes;
    placed.entries.push(entryOf(each, lengthBytes));
  }
  return { entries: placed.entries.reverse(), rejected: placed.rejected.reverse() };
}

/** Refuses what is negative, wrapped, behind the line before, or at the same place without being its next field. */
function judgeOrder(lines: readonly ReadLine[]): ReadLine[] {
  let before: { offsetBytes: number; line: ReadLine } | undefined;
  let wrappedAt: number | undefined;
  return lines.map((each) => {
    const { offsetBytes } = each;
    if (wrappedAt !== undefined) {
      return refused(
        each,
        `offset: found ${offsetBytes} after a wrapped one in line ${wrappedAt}, expected more than 32 bits`,
      );
    }
    if (offsetBytes === undefined) return each;
    if (offsetBytes < 0 || (before !== undefined && before.offsetBytes - offsetBytes > HALF_OF_32_BITS)) {
      wrappedAt = each.line;
      return refused(
        each,
        `offset: found ${offsetBytes}, negative or wrapped at 32 bits, expected 0 or more`,
      );
    }
    if (before !== undefined && offsetBytes < before.offsetBytes) {
      return refused(
        each,
        `offset: found ${offsetBytes} after ${before.offsetBytes}, expected growing offsets`,
      );
    }
    if (before !== undefined && offsetBytes === before.offsetBytes && !isNextField(before.line, each)) {
      return refused(
        each,
        `offset: found ${offsetBytes} again, expected it only for a further field of the message`,
      );
    }
    before = { offsetBytes, line: each };
    return each;
  });
}

function isNextField(before: ReadLine, each: ReadLine): boolean {
  // A refused line at this place may have been the field between: nothing speaks against the next one.
  if ('reason' in before || 'reason' in each) return true;
  return (
    each.message === before.message &&
    each.field !== undefined &&
    before.field !== undefined &&
    each.field > before.field
  );
}

/** Its offset tells nothing; a reason found earlier stays. */
function refused(each: ReadLine, reason: string): RefusedLine {
  return { line: each.line, reason: 'reason' in each ? each.reason : reason, offsetBytes: undefined };
}

/** JSON lines, in any order: their ranges may touch but not overlap; of two that do, the later line is refused. */
export function placeByLengths(lines: readonly ReadLine[]): Placed {
  const placed: Placed = { entries: [], rejected: [] };
  const read = lines.filter((each): each is InventoryLine => !('reason' in each));
  for (const each of lines) {
    if ('reason' in each) placed.rejected.push({ line: each.line, reason: each.reason });
  }
  let kept: InventoryLine | undefined;
  for (const each of read.toSorted((a, b) => a.offsetBytes - b.offsetBytes || a.line - b.line)) {
    if (kept === undefined || each.offsetBytes >= endOf(kept)) {
      if (kept !== undefined) placed.entries.push(entryOf(kept, kept.lengthBytes));
      kept = each;
      continue;
    }
    const [first, later] = each.line < kept.line ? [each, kept] : [kept, each];
    const reason = `range: found ${later.offsetBytes} to ${endOf(later)}, expected none that overlaps line ${first.line}`;
    placed.rejected.push({ line: later.line, reason });
    kept = first;
  }
  if (kept !== undefined) placed.entries.push(entryOf(kept, kept.lengthBytes));
  return placed;
}

function endOf(line: InventoryLine): number {
  return line.offsetBytes + line.lengthBytes!;
}

function entryOf(line: InventoryLine, lengthBytes: number | undefined): InventoryEntry {
  const { message: _message, field: _field, ...entry } = line;
  return { ...entry, lengthBytes };
}
