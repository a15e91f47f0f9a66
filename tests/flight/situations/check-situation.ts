/** Holds what the choice decides against what a careful pilot would. */
import { expect } from 'vitest';
import { isAcceptable } from '../../../worker/flight/file-advice.ts';
import type { Choice } from '../../../worker/flight/types.ts';
import { ftFromM } from '../../../worker/science/units.ts';
import type { Situation } from './situation.ts';

export function checkSituation({ expected, argument }: Situation, choice: Choice): void {
  const said = `${argument}\nDecided: ${choice.verdict.sentence}\n${choice.verdict.reasons.map(({ code, sentence }) => `${code}: ${sentence}`).join('\n')}`;
  expect(choice.verdict.code, said).toBe(expected.verdict);
  const { recommended } = choice;
  if (expected.fileFt === 'none') expect(recommended, said).toBeUndefined();
  else {
    const [lowestFt, highestFt] = expected.fileFt;
    const altitudeFt = Math.round(ftFromM(recommended?.indicatedAltitudeM ?? Number.NaN));
    expect(altitudeFt, said).toBeGreaterThanOrEqual(lowestFt);
    expect(altitudeFt, said).toBeLessThanOrEqual(highestFt);
  }
  if (expected.isStepped !== undefined) {
    expect((recommended?.levels.length ?? 0) > 1, `stepped\n${said}`).toBe(expected.isStepped);
  }
  const codes = choice.verdict.reasons.map(({ code }) => code);
  for (const code of expected.reasons ?? []) expect(codes, said).toContain(code);
  for (const code of expected.notReasons ?? []) expect(codes, said).not.toContain(code);
  for (const altitudeFt of expected.refusedFt ?? []) {
    expect(isTaken(choice, altitudeFt), `${altitudeFt} ft\n${said}`).toBe(false);
  }
  for (const altitudeFt of expected.acceptableFt ?? []) {
    expect(isTaken(choice, altitudeFt), `${altitudeFt} ft\n${said}`).toBe(true);
  }
}

/** A single altitude that may be flown; one that is not among the candidates is not. */
function isTaken({ candidates }: Choice, altitudeFt: number): boolean {
  const found = candidates.find(
    ({ indicatedAltitudeM }) => Math.abs(ftFromM(indicatedAltitudeM) - altitudeFt) < 1,
  );
  return found?.exposure !== undefined && isAcceptable(found.verdict);
}
