import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readIgra } from '../../worker/formats/igra.ts';
import { inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import { assertClose } from '../support/assert-close.ts';
import { only } from '../support/sounding-levels.ts';
import { SAMPLE } from '../support/sounding-sample.ts';
import { checkSanity } from '../support/sounding-sanity.ts';
import { type PlainLevel, type PlainSounding, writeIgra } from '../support/sounding-writer.ts';
import { damaged, seededRandom } from '../support/text-damage.ts';

const IGRA_SAMPLE: PlainSounding = { ...SAMPLE, stationId: 'ZZM00000901' };
const TEXT = writeIgra(IGRA_SAMPLE).repeat(2);

function assertLevels(written: readonly PlainLevel[], text: string): void {
  const { levels } = inspectSounding(only(readIgra(text)));
  expect(levels).toHaveLength(written.length);
  levels.forEach((level, index) => {
    const expected = written[index]!;
    const compare = (actual: number | null, value: number | undefined, abs: number, why: string) => {
      if (value === undefined) expect(actual).toBeNull();
      else assertClose(actual ?? Number.NaN, value, { abs: abs + 0.006, why });
    };
    compare(level.pressureHPa, expected.pressureHPa, 0.005, 'whole Pa');
    compare(level.heightM, expected.heightM, 0.5, 'whole gpm');
    compare(level.temperatureC, expected.temperatureC, 0.05, 'tenths');
    compare(level.dewPointC, expected.dewPointC, 0.1, 'tenths of temperature and of depression');
    compare(level.windDirectionDeg, expected.windDirectionDeg, 0.5, 'whole degrees');
    compare(level.windSpeedKt, expected.windSpeedKt, 0.15, 'tenths of m/s are 0.19 kt');
  });
}

describe('writeIgra and readIgra', () => {
  test('the sample comes back level by level, with place and time', () => {
    assertLevels(IGRA_SAMPLE.levels, writeIgra(IGRA_SAMPLE));
    const sounding = only(readIgra(writeIgra(IGRA_SAMPLE)));
    expect(sounding).toMatchObject({
      stationId: 'ZZM00000901',
      latDeg: 44.47,
      lonDeg: -73.15,
      elevationM: 197,
    });
    expect(sounding.timeMs).toBe(Date.parse(SAMPLE.timeUtc));
    expect(sounding.rejected).toEqual([]);
  });

  test('any levels come back within their coding steps', () => {
    const level = fc.record({
      heightM: fc.integer({ min: -400, max: 40_000 }),
      temperatureC: fc.double({ min: -99.9, max: 59.9, noNaN: true }),
      depressionK: fc.double({ min: 0, max: 49, noNaN: true }),
      windDirectionDeg: fc.integer({ min: 0, max: 360 }),
      windSpeedKt: fc.double({ min: 0, max: 290, noNaN: true }),
    });
    const levels = fc
      .uniqueArray(fc.integer({ min: 100, max: 110_000 }), { minLength: 1, maxLength: 60 })
      .chain((pressuresPa) =>
        fc.tuple(
          fc.constant(pressuresPa.sort((a, b) => b - a)),
          fc.array(level, { minLength: 60, maxLength: 60 }),
        ),
      );
    const property = fc.property(levels, ([pressuresPa, values]) => {
      const written = pressuresPa.map((pressurePa, index) => {
        const { depressionK, ...others } = values[index]!;
        return { pressureHPa: pressurePa / 100, ...others, dewPointC: others.temperatureC - depressionK };
      });
      assertLevels(written, writeIgra({ ...IGRA_SAMPLE, levels: written }));
    });
    fc.assert(property, { seed: 2, numRuns: 200 });
  });
});

describe('readIgra on any text', () => {
  test('4000 damaged files throw nothing and give nothing absurd', () => {
    const random = seededRandom(71);
    let levels = 0;
    for (let run = 0; run < 4000; run += 1) {
      const text = damaged(TEXT, random);
      levels += checkSanity(readIgra(text), text);
    }
    expect(levels).toBeGreaterThan(4000 * 15);
  });

  test.each([
    ['figures', '12345678'.repeat(60_000)],
    ['header marks', '#\n'.repeat(250_000)],
    ['records of no header', `${writeIgra(IGRA_SAMPLE).split('\n')[1]}\n`.repeat(9000)],
  ])('half a megabyte of %s is read in a few seconds', (_name, text) => {
    const start = performance.now();
    checkSanity(readIgra(text), text);
    expect(performance.now() - start).toBeLessThan(10_000);
  });
});
