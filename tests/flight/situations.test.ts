/** Situations with the decision argued beforehand, the way a pilot would. */
import { describe, expect, test } from 'vitest';
import { ASIDE } from './situations/aside.ts';
import { checkSituation } from './situations/check-situation.ts';
import { decide } from './situations/decide.ts';
import { GOLDEN } from './situations/golden.ts';

describe('decides as argued', () => {
  test('at least fifteen situations', () => {
    expect(GOLDEN.length).toBeGreaterThanOrEqual(15);
  });

  test.each(GOLDEN.map((situation) => [situation.title, situation] as const))('%s', (_, situation) => {
    checkSituation(situation, decide(situation));
  });
});

describe('decides as argued by someone who did not know the rules, in situations kept aside from them', () => {
  test.each(ASIDE.map((situation) => [situation.title, situation] as const))('%s', (_, situation) => {
    checkSituation(situation, decide(situation));
  });
});
