/** The name of the page among many. */
import { expect, test } from 'vitest';
import type { Brief } from '../../web/src/contract.ts';
import { titleOf } from '../../web/src/page-title.ts';

const answer = (file: { altitudeFt: number } | null, code: string) =>
  ({
    brief: {
      leg: { from: 'KBTV', to: 'KBGR', departureUtc: '2026-01-14T11:30:00Z' },
      data: [{ invented: false }],
      staleAtUtc: null,
      file,
      verdict: { code },
      recommended: null,
      stepped: null,
      alternatives: [{ altitudeFt: 11000, rank: 1, profile: [] }],
    },
  }) as unknown as Brief;

const BEFORE_MS = Date.parse('2026-01-14T11:00:00Z');

test('says first that the leg has departed, or that newer data are due', () => {
  const past = titleOf(answer({ altitudeFt: 11000 }, 'within-limits'), BEFORE_MS + 3_600_000);
  expect(past).toBe('Past: KBTV–KBGR 11,000 within limits · Rimeway');
});

test('names the leg, the altitude to file and the verdict; without a brief the tool alone', () => {
  expect(titleOf(answer({ altitudeFt: 11000 }, 'within-limits'), BEFORE_MS)).toBe(
    'KBTV–KBGR 11,000 within limits · Rimeway',
  );
  expect(titleOf(answer(null, 'unknown'), BEFORE_MS)).toBe('KBTV–KBGR unknown · Rimeway');
  expect(titleOf(undefined, BEFORE_MS)).toBe('Rimeway');
});
