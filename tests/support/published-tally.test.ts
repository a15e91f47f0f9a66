import { describe, expect, test } from 'vitest';
import { type ComparedFile, LEAST_LOOKED_UP, tallyFaults, tallyLines } from './published-tally.ts';
import type { PublishedTable } from './published-values.ts';

/** As many sources as are asked for, the values spread evenly. */
const enough: PublishedTable[] = Array.from({ length: LEAST_LOOKED_UP.sources }, (_, index) => ({
  source: `source ${index}`,
  tag: 'L',
  values: Math.ceil(LEAST_LOOKED_UP.values / LEAST_LOOKED_UP.sources),
}));
const files = (tables: readonly PublishedTable[]): ComparedFile[] => [{ file: 'one.test.ts', tables }];

describe('tallyLines', () => {
  test('adds one source over files and tags, the most values first', () => {
    const found = tallyLines([
      { file: 'one.test.ts', tables: [{ source: 'Few', tag: 'L', values: 2 }] },
      {
        file: 'two.test.ts',
        tables: [
          { source: 'Many', tag: 'L', values: 30 },
          { source: 'Few', tag: 'L', values: 3 },
          { source: 'Remembered', tag: 'M', values: 4 },
          { source: 'Worked out', tag: 'C', values: 5 },
        ],
      },
    ]);
    expect(found).toEqual([
      'published values: 44 compared, 3 sources (L 35, M 4, C 5)',
      'L   30  Many',
      'L    5  Few',
      'M    4  Remembered',
      'C    5  Worked out',
    ]);
  });
});

describe('tallyFaults', () => {
  test('has nothing to say of enough values from enough sources', () => {
    expect(tallyFaults(files(enough))).toEqual([]);
  });

  test('misses values, and sources, when one source is lost', () => {
    expect(tallyFaults(files(enough.slice(1)))).toEqual([
      'looked-up values: found 143, expected at least 150',
      'looked-up sources: found 11, expected at least 12',
    ]);
  });

  test('takes no value from memory or computed apart for a looked-up one', () => {
    const [first, ...rest] = enough as [PublishedTable, ...PublishedTable[]];
    const padded: PublishedTable[] = [
      ...rest,
      { ...first, tag: 'M', values: 100 },
      { ...first, tag: 'C', values: 100 },
    ];
    expect(tallyFaults(files(padded))).toHaveLength(2);
  });

  test('names a file that compared nothing', () => {
    const found = tallyFaults([...files(enough), { file: 'idle.test.ts', tables: [] }]);
    expect(found).toEqual(['idle.test.ts: found no compared value, expected some']);
  });
});
