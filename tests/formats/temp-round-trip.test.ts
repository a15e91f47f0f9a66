import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { assertClose } from '../support/assert-close.ts';
import { only } from '../support/sounding-levels.ts';
import { SAMPLE, SAMPLE_PLACE } from '../support/sounding-sample.ts';
import { type PlainLevel, writeTemp } from '../support/sounding-writer.ts';

const CONTEXT = { nearMs: Date.UTC(2026, 0, 16), stations: () => SAMPLE_PLACE };

const isEmpty = ({ pressureHPa: _, ...values }: ReturnType<typeof inspectSounding>['levels'][number]) =>
  Object.values(values).every((value) => value === null);

/** Compares a level with what was written, each quantity within half its coding step and rounding at the edge. */
function assertLevel(
  read: ReturnType<typeof inspectSounding>['levels'][number],
  written: PlainLevel,
): number {
  let compared = 0;
  const compare = (actual: number | null, expected: number | undefined, abs: number, why: string) => {
    if (expected === undefined) expect(actual).toBeNull();
    else assertClose(actual ?? Number.NaN, expected, { abs: abs + 0.006, why });
    compared += 1;
  };
  const { temperatureC, dewPointC, heightM, windDirectionDeg, windSpeedKt } = written;
  compare(read.temperatureC, temperatureC, 0.15, 'TTT: rounded to a tenth, then one figure for two tenths');
  const depressionK = (temperatureC ?? Number.NaN) - (dewPointC ?? Number.NaN);
  const depressionStep = depressionK <= 5 ? 0.05 : 0.5;
  compare(read.dewPointC, dewPointC, 0.15 + depressionStep, 'TTT and DD: tenths to 5 K, whole degrees above');
  compare(read.heightM, heightM, written.pressureHPa >= 700 ? 0.5 : 5, 'hhh: meters, then decameters');
  compare(read.windSpeedKt, windSpeedKt, 0.55, 'ff: whole knots');
  if (windDirectionDeg === undefined || Math.round(windSpeedKt ?? 0) === 0) return compared;
  const offDeg = Math.abs((((read.windDirectionDeg ?? Number.NaN) - windDirectionDeg + 540) % 360) - 180);
  assertClose(offDeg, 0, { abs: 2.5, why: 'ddd: five degrees' });
  return compared + 1;
}

describe('writeTemp and readTemp', () => {
  test.each(['kt', 'mps'] as const)('the sample comes back level by level, winds in %s', (windUnit) => {
    const sounding = only(readTemp(writeTemp(SAMPLE, { windUnit }), CONTEXT));
    expect(sounding.rejected).toEqual([]);
    const { levels } = inspectSounding(sounding);
    expect(levels.map(({ pressureHPa }) => pressureHPa)).toEqual(
      SAMPLE.levels.map(({ pressureHPa }) => pressureHPa),
    );
    if (windUnit === 'mps') return;
    const compared = levels.map((level, index) => assertLevel(level, SAMPLE.levels[index]!));
    // Four numbers a level and a direction where there is a wind (20 levels).
    expect(compared.reduce((sum, count) => sum + count, 0)).toBe(27 * 4 + 20);
  });

  test('speeds coded in m/s come back within half a meter a second', () => {
    const { levels } = inspectSounding(only(readTemp(writeTemp(SAMPLE, { windUnit: 'mps' }), CONTEXT)));
    SAMPLE.levels.forEach(({ windSpeedKt }, index) => {
      if (windSpeedKt === undefined) return;
      assertClose(levels[index]!.windSpeedKt!, windSpeedKt, {
        abs: 1.03,
        why: 'half of 1 m/s is 0.972 kt, and shown to 0.1 kt',
      });
    });
  });

  test('any temperatures, depressions and winds come back within their coding steps', () => {
    const level = fc.record({
      temperatureC: fc.double({ min: -90, max: 45, noNaN: true }),
      depressionK: fc.double({ min: 0, max: 49, noNaN: true }),
      windDirectionDeg: fc.integer({ min: 0, max: 360 }),
      windSpeedKt: fc.integer({ min: 0, max: 250 }),
    });
    const pressures = fc.uniqueArray(fc.integer({ min: 101, max: 986 }), { minLength: 1, maxLength: 25 });
    const property = fc.property(pressures, fc.infiniteStream(level), (pressuresHPa, stream) => {
      const levels = [987, ...pressuresHPa.sort((a, b) => b - a)].map((pressureHPa) => {
        const { depressionK, ...values } = stream.next().value as {
          temperatureC: number;
          depressionK: number;
          windDirectionDeg: number;
          windSpeedKt: number;
        };
        return { pressureHPa, ...values, dewPointC: values.temperatureC - depressionK };
      });
      const surface = { ...levels[0]!, heightM: SAMPLE_PLACE.elevationM };
      const written: PlainLevel[] = [surface, ...levels.slice(1)];
      const sounding = only(readTemp(writeTemp({ ...SAMPLE, levels: written }), CONTEXT));
      const read = inspectSounding(sounding).levels;
      const given = read.filter(({ pressureHPa }) => written.some((one) => one.pressureHPa === pressureHPa));
      expect(given).toHaveLength(written.length);
      // Standard levels that the input lacks are written with slashes and come back empty, as does air between levels
      // that a part B cut short does not bridge.
      expect(read.filter((one) => !given.includes(one)).every(isEmpty)).toBe(true);
      given.forEach((one, index) => {
        assertLevel(one, written[index]!);
      });
    });
    fc.assert(property, { seed: 306, numRuns: 300 });
  });
});
