/** A profile as a line: level, and straight up or down to the next level where that is left for. */
import type { Candidate } from '../contract.ts';
import type { Sheet } from './scales.ts';

export function levelsPath(
  sheet: Sheet,
  { profile, altitudeFt }: Pick<Candidate, 'profile' | 'altitudeFt'>,
): string {
  const { left, right } = sheet.plot;
  const [first, ...others] = profile;
  const steps = others.map((level) => `H${sheet.x(level.fromNm)}V${sheet.y(level.altitudeFt)}`);
  return `M${left} ${sheet.y(first?.altitudeFt ?? altitudeFt)}${steps.join('')}H${right}`;
}
