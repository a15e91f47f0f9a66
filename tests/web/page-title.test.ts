/** The name of the page among many. */
import { expect, test } from 'vitest';
import type { Brief } from '../../web/src/contract.ts';
import { titleOf } from '../../web/src/page-title.ts';

const answer = (file: { altitudeFt: number } | null, code: string) =>
  ({
    brief: {
      leg: { from: 'KBTV', to: 'KBGR' },
      file,
      verdict: { code },
      recommended: null,
      stepped: null,
      alternatives: [{ altitudeFt: 11000, rank: 1, profile: [] }],
    },
  }) as unknown as Brief;

test('names the leg, the altitude to file and the verdict; without a brief the tool alone', () => {
  expect(titleOf(answer({ altitudeFt: 11000 }, 'within-limits'))).toBe(
    'KBTV–KBGR 11,000 within limits · Rimeway',
  );
  expect(titleOf(answer(null, 'unknown'))).toBe('KBTV–KBGR unknown · Rimeway');
  expect(titleOf(undefined)).toBe('Rimeway');
});
