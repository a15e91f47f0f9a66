import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import { readInventory } from '../../worker/formats/inventory.ts';
import type { InventoryEntry } from '../../worker/formats/inventory-line.ts';
import {
  DEFAULT_PLAN_LIMITS,
  describePlan,
  type PlanLimits,
  planRanges,
  type RangePlan,
} from '../../worker/sources/range-plan.ts';

const LIMITS: PlanLimits = {
  joinGapBytes: 50,
  greatestRangeBytes: 1000,
  greatestMessageBytes: 5000,
  greatestTotalBytes: 20_000,
  mostRanges: 40,
};

/** An entry from where it begins and how long it is. */
const entry = (offsetBytes: number, lengthBytes: number | undefined, line = 1): InventoryEntry => ({
  line,
  offsetBytes,
  lengthBytes,
  referenceTimeMs: 0,
  parameter: 'TMP',
  level: `${line} mb`,
  forecast: 'anl',
});

const spans = ({ ranges }: RangePlan) => ranges.map(({ firstByte, lastByte }) => `${firstByte}-${lastByte}`);

function refusal(call: () => unknown): InvalidRequestError {
  try {
    call();
  } catch (error) {
    if (error instanceof InvalidRequestError) return error;
    throw error;
  }
  throw new Error('expected a refusal');
}

describe('planRanges', () => {
  test('joins messages that touch, in the order of the file', () => {
    const wanted = [entry(100, 50, 2), entry(0, 100, 1), entry(150, 10, 3)];
    expect(spans(planRanges(wanted, wanted, LIMITS))).toEqual(['0-159']);
  });

  test('joins over a small gap that the inventory accounts for, and counts its bytes', () => {
    const all = [entry(0, 100, 1), entry(100, 50, 2), entry(150, 100, 3)];
    const plan = planRanges([all[0]!, all[2]!], all, LIMITS);
    expect(spans(plan)).toEqual(['0-249']);
    expect(plan).toMatchObject({ totalBytes: 250, gapBytes: 50 });
  });

  test('leaves a greater gap out', () => {
    const all = [entry(0, 100, 1), entry(100, 51, 2), entry(151, 100, 3)];
    const plan = planRanges([all[0]!, all[2]!], all, LIMITS);
    expect(spans(plan)).toEqual(['0-99', '151-250']);
    expect(plan.gapBytes).toBe(0);
  });

  test('leaves a gap out that a refused line lies in, however small', () => {
    const text = [
      '1:0:d=2026072400:TMP:1 mb:anl:',
      '2:100:d=2026072400:TMP:2 mb:anl:',
      '3:110:d=2026:TMP:3 mb:anl:',
      '4:120:d=2026072400:TMP:4 mb:anl:',
      '5:220:d=2026072400:TMP:5 mb:anl:',
    ].join('\n');
    const { entries, rejected } = readInventory(text);
    expect(rejected.map(({ line }) => line)).toEqual([3]);
    const wanted = entries.filter(({ line }) => line === 1 || line === 4);
    expect(spans(planRanges(wanted, entries, LIMITS))).toEqual(['0-99', '120-219']);
  });

  test('keeps a range within its greatest size by ending it between messages', () => {
    const wanted = [entry(0, 600, 1), entry(600, 400, 2), entry(1000, 1, 3)];
    expect(spans(planRanges(wanted, wanted, LIMITS))).toEqual(['0-999', '1000-1000']);
  });

  test('splits a message that is longer than a range may be', () => {
    const wanted = [entry(7, 2500)];
    const plan = planRanges(wanted, wanted, LIMITS);
    expect(spans(plan)).toEqual(['7-1006', '1007-2006', '2007-2506']);
    expect(plan.totalBytes).toBe(2500);
  });

  test('takes fields of one message once', () => {
    const wanted = [entry(0, 100, 1), entry(0, 100, 2)];
    const plan = planRanges(wanted, wanted, LIMITS);
    expect(spans(plan)).toEqual(['0-99']);
    expect(plan.messages[0]?.entries).toHaveLength(2);
  });

  test('gives the last message of a colon inventory an open range of a bounded size', () => {
    const wanted = [entry(0, 100, 1), entry(100, undefined, 2)];
    const plan = planRanges(wanted, wanted, LIMITS);
    expect(spans(plan)).toEqual(['0-99', '100-1099']);
    expect(plan.ranges.map(({ isEndOpen }) => isEndOpen)).toEqual([false, true]);
  });

  test('plans nothing for nothing', () => {
    expect(planRanges([], [], LIMITS)).toEqual({ ranges: [], messages: [], totalBytes: 0, gapBytes: 0 });
  });

  test.each<[string, readonly InventoryEntry[], Partial<PlanLimits>, string, string]>([
    ['more bytes than the cap', [entry(0, 101)], { greatestTotalBytes: 100 }, 'plan.totalBytes', '101'],
    ['more ranges than the cap', [entry(0, 1), entry(99, 1)], { mostRanges: 1 }, 'plan.ranges', '2'],
    ['a message beyond its cap', [entry(5, 5001, 8)], {}, 'line 8 bytes', '5001'],
    ['overlapping messages', [entry(0, 100, 1), entry(99, 5, 2)], {}, 'line 2', 'a message at 99'],
    [
      'messages at one place with two lengths',
      [entry(0, 9, 1), entry(0, 5, 2)],
      {},
      'line 2',
      'a message at 0',
    ],
    [
      'a message behind one without an end',
      [entry(0, undefined, 1), entry(9, 9, 2)],
      {},
      'line 2',
      'a message at 9',
    ],
    ['a negative offset', [entry(-1, 5)], {}, 'line 1', '5 bytes at -1'],
    ['an offset that is not whole', [entry(0.5, 5)], {}, 'line 1', '5 bytes at 0.5'],
    ['an empty message', [entry(0, 0)], {}, 'line 1', '0 bytes at 0'],
    ['an end that no file has', [entry(2 ** 53 - 2, 5)], {}, 'line 1', '5 bytes at 9007199254740990'],
  ])('refuses %s, naming field, found and expected', (...[, wanted, limits, field, found]) => {
    const error = refusal(() => planRanges(wanted, wanted, { ...LIMITS, ...limits }));
    expect(error).toMatchObject({ field, found });
    expect(error.expected).not.toBe('');
  });

  test('takes a place beyond 32 bits', () => {
    const wanted = [entry(2 ** 40, 10)];
    expect(spans(planRanges(wanted, wanted, LIMITS))).toEqual([`${2 ** 40}-${2 ** 40 + 9}`]);
  });

  test('is made of a million lines within seconds, and refused when they want too much', () => {
    const all = Array.from({ length: 1_000_000 }, (_, at) => entry(at * 200, 100, at + 1));
    const startMs = performance.now();
    const error = refusal(() => planRanges(all, all, DEFAULT_PLAN_LIMITS));
    expect(error.field).toBe('plan.ranges');
    expect(performance.now() - startMs).toBeLessThan(20_000);
  });
});

describe('describePlan', () => {
  test('prints totals, ranges and what is in them', () => {
    const all = [entry(0, 100, 850), entry(100, 50, 700), entry(150, undefined, 500)];
    expect(describePlan(planRanges([all[0]!, all[2]!], all, LIMITS))).toBe(
      [
        '2 fields in 2 messages: 2 ranges, 1100 bytes, 0 of them between',
        '0-99 (0 between): TMP 850 mb',
        '150-1149 or end of file (0 between): TMP 500 mb',
      ].join('\n'),
    );
  });
});

/** Messages one after the other with gaps, some wanted, some unknown to the inventory; the last perhaps without an end. */
const fileOfMessages = fc
  .record({
    messages: fc.array(
      fc.record({
        gap: fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.nat(120)),
        length: fc.integer({ min: 1, max: 900 }),
        fate: fc.constantFrom('wanted', 'known', 'unknown'),
        fields: fc.integer({ min: 1, max: 2 }),
      }),
      { maxLength: 60 },
    ),
    isOpen: fc.boolean(),
  })
  .map(({ messages, isOpen }) => {
    let offset = 0;
    const known: InventoryEntry[] = [];
    const wanted: InventoryEntry[] = [];
    messages.forEach(({ gap, length, fate, fields }, at) => {
      offset += gap;
      const isLast = at === messages.length - 1;
      for (let field = 0; field < fields; field += 1) {
        const each = entry(offset, isOpen && isLast ? undefined : length, at * 2 + field + 1);
        if (fate !== 'unknown') known.push(each);
        if (fate === 'wanted') wanted.push(each);
      }
      offset += length;
    });
    return { known, wanted };
  });

const someLimits = fc.record({
  joinGapBytes: fc.nat(300),
  greatestRangeBytes: fc.integer({ min: 1, max: 3000 }),
  greatestMessageBytes: fc.integer({ min: 300, max: 3000 }),
  greatestTotalBytes: fc.integer({ min: 100, max: 40_000 }),
  mostRanges: fc.integer({ min: 1, max: 400 }),
});

describe('any inventory and any limits', () => {
  test('are refused, or planned so that every wanted byte comes once and every cap holds', () => {
    let planned = 0;
    fc.assert(
      fc.property(
        fileOfMessages,
        someLimits,
        fc.infiniteStream(fc.nat()),
        ({ known, wanted }, limits, order) => {
          const shuffled = [...wanted].sort(() => (order.next().value % 2) - 0.5);
          let plan: RangePlan;
          try {
            plan = planRanges(shuffled, known, limits);
          } catch (error) {
            expect(error).toBeInstanceOf(InvalidRequestError);
            return;
          }
          planned += 1;
          holdsCaps(plan, limits);
          coversOnce(plan, wanted);
          bridgesNothingUnknown(plan, known);
        },
      ),
      { numRuns: 2000, seed: 20_260_114 },
    );
    expect(planned).toBeGreaterThan(500);
  });
});

function holdsCaps({ ranges, totalBytes }: RangePlan, limits: PlanLimits): void {
  let total = 0;
  let before = -1;
  for (const { firstByte, lastByte } of ranges) {
    expect(firstByte).toBeGreaterThan(before);
    expect(lastByte - firstByte + 1).toBeLessThanOrEqual(limits.greatestRangeBytes);
    expect(lastByte).toBeGreaterThanOrEqual(firstByte);
    total += lastByte - firstByte + 1;
    before = lastByte;
  }
  expect(totalBytes).toBe(total);
  expect(total).toBeLessThanOrEqual(limits.greatestTotalBytes);
  expect(ranges.length).toBeLessThanOrEqual(limits.mostRanges);
}

function coversOnce(
  { ranges, messages, totalBytes, gapBytes }: RangePlan,
  wanted: readonly InventoryEntry[],
): void {
  const entries = messages.flatMap((message) => message.entries);
  expect([...entries].sort((a, b) => a.line - b.line)).toEqual(wanted);
  let wantedBytes = 0;
  for (const message of messages) {
    const parts = ranges.filter((range) => range.messages.includes(message));
    const last = parts.at(-1)!;
    expect(parts[0]!.firstByte).toBeLessThanOrEqual(message.offsetBytes);
    if (message.lengthBytes === undefined) expect(last.isEndOpen).toBe(true);
    else expect(last.lastByte).toBeGreaterThanOrEqual(message.offsetBytes + message.lengthBytes - 1);
    parts.slice(1).forEach((part, at) => {
      expect(part.firstByte).toBe(parts[at]!.lastByte + 1);
    });
    wantedBytes += message.lengthBytes ?? last.lastByte - message.offsetBytes + 1;
  }
  expect(totalBytes - gapBytes).toBe(wantedBytes);
}

/** Each byte of a range that belongs to no wanted message belongs to a message that the inventory names. */
function bridgesNothingUnknown({ ranges }: RangePlan, known: readonly InventoryEntry[]): void {
  for (const { firstByte, lastByte, isEndOpen } of ranges) {
    if (isEndOpen) continue;
    const inside = known
      .map(({ offsetBytes, lengthBytes }) => [offsetBytes, offsetBytes + (lengthBytes ?? 0)] as const)
      .filter(([from, to]) => to > firstByte && from <= lastByte);
    let covered = firstByte;
    for (const [from, to] of inside.sort((a, b) => a[0] - b[0]))
      if (from <= covered) covered = Math.max(covered, to);
    expect(covered).toBeGreaterThan(lastByte);
  }
}
