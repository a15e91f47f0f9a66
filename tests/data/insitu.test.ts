/**
 * The column diagnosis beside liquid water measured on research flights. It sees the aircraft's own temperature and dew
 * point, so this is skill of the diagnosis, not of a forecast; five flights of two campaigns are few.
 *
 * Truth is a mean of more than 0.02 g/m3 in a 100 m layer below 0 degrees C, none is at most 0.005; layers between are not
 * scored. Intervals hold 95 % of 1000 draws of whole flights or whole profiles.
 */
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { IcingCalibration } from '../../worker/science/calibration.ts';
import { assertClose } from '../support/assert-close.ts';
import { bootstrapInterval, groupsBy } from '../support/bootstrap.ts';
import { HUMIDITY_RULES, ruleAirFromDewPoint } from '../support/humidity-rules.ts';
import {
  type DiagnosedLayer,
  diagnoseFlights,
  type FlightProfile,
  readFlights,
} from '../support/insitu-diagnosis.ts';
import { type HeldOut, leaveOneOut } from '../support/leave-one-out.ts';
import { figure, printTable, span } from '../support/print-table.ts';
import {
  areaUnderRoc,
  brierScore,
  climatologyBrierScore,
  reliabilityTable,
  warningScores,
} from '../support/skill-scores.ts';

const SEED = 19950321;

/** Bins of probability. */
const BINS = [0, 0.05, 0.15, 0.3, 0.5, 0.7, 1];

/** One threshold for every comparison with a rule. */
const THRESHOLD = 0.4;

/**
 * What the choice may vary: where liquid cloud begins (saturation less the scatter inside a layer), how sharply (a sensor's
 * error is a few percent), the top at which ice takes over (-12 to -18 degC in the literature), and what is left under any top.
 */
const GRID: Readonly<Record<Exclude<keyof IcingCalibration, 'seedingWidthK'>, readonly number[]>> = {
  cloudHumidityRatio: [0.93, 0.95, 0.97],
  cloudHumidityWidthRatio: [0.02, 0.03, 0.04],
  seedingTopK: [255.15, 258.15, 261.15],
  leastLiquidProbability: [0.05, 0.1, 0.2],
};

const ruleAir = ({ temperatureC, dewPointC }: DiagnosedLayer) => ruleAirFromDewPoint(temperatureC, dewPointC);
const byHumidity = (layer: DiagnosedLayer) => ({ ...layer, probability: ruleAir(layer).overWaterPct });
const byFlight = (layers: readonly DiagnosedLayer[]) => groupsBy(layers, ({ flight }) => flight);
const byProfile = (layers: readonly DiagnosedLayer[]) => groupsBy(layers, ({ profile }) => profile);
const isLikely = ({ probability }: DiagnosedLayer) => probability >= THRESHOLD;

let profiles: FlightProfile[] = [];
let layers: DiagnosedLayer[] = [];
let heldOut: HeldOut<Partial<IcingCalibration>, DiagnosedLayer>[] = [];
let unseen: DiagnosedLayer[] = [];

/** Every combination of the grid. */
function candidates(): Partial<IcingCalibration>[] {
  return Object.entries(GRID).reduce<Partial<IcingCalibration>[]>(
    (found, [name, values]) => found.flatMap((each) => values.map((value) => ({ ...each, [name]: value }))),
    [{}],
  );
}

beforeAll(() => {
  profiles = readFlights(join(process.env.RIMEWAY_DATA_DIR ?? '', 'reports/insitu'));
  layers = diagnoseFlights(profiles);
  heldOut = leaveOneOut(
    candidates().map((setting) => ({ setting, rows: diagnoseFlights(profiles, setting) })),
    ({ flight }) => flight,
    areaUnderRoc,
  );
  unseen = heldOut.flatMap(({ rows }) => rows);
});

describe('the layers of five research flights', () => {
  it('are 955 below 0 degrees in 58 climbs and descents, 275 wet and 595 dry, none without a probability', () => {
    expect(layers).toHaveLength(955);
    expect(layers.filter(({ observed }) => observed === true)).toHaveLength(275);
    expect(layers.filter(({ observed }) => observed === false)).toHaveLength(595);
    expect(layers.every(({ probability }) => probability >= 0 && probability <= 1)).toBe(true);
    expect(profiles).toHaveLength(58);
    expect(byFlight(layers)).toHaveLength(5);
  });

  it('give the simple rules the scores that another reader of the same files printed', () => {
    // Printed to two decimals by a reader of the files in another language, with its own saturation formulas.
    const printed = [
      [1.0, 0.45, 0.72],
      [0.93, 0.72, 0.5],
      [0.99, 0.62, 0.6],
      [0.93, 0.77, 0.47],
      [0.94, 0.81, 0.45],
    ] as const;
    const rounding = { abs: 0.0051, why: 'printed to two decimals' };
    [...HUMIDITY_RULES.values()].forEach((rule, index) => {
      const [detected, nulls, volume] = printed[index]!;
      const scores = warningScores(layers, (layer) => rule(ruleAir(layer)));
      assertClose(scores.detected, detected, rounding);
      assertClose(1 - scores.falseAlarmRate, nulls, rounding);
      assertClose(scores.volume, volume, rounding);
    });
    assertClose(areaUnderRoc(layers.map(byHumidity)), 0.924, { abs: 0.0006, why: 'printed to three' });
  });
});

describe('the column diagnosis on them', () => {
  it('ranks wet over dry better than humidity does, also in most other draws of profiles, and on no flight worse', () => {
    const gain = (some: readonly DiagnosedLayer[]) => areaUnderRoc(some) - areaUnderRoc(some.map(byHumidity));
    const rows = [
      ['the diagnosis', areaUnderRoc] as const,
      ['held out', areaUnderRoc] as const,
      [
        'humidity over water alone',
        (some: readonly DiagnosedLayer[]) => areaUnderRoc(some.map(byHumidity)),
      ] as const,
      ['gain over humidity', gain] as const,
    ].map(([name, score]) => {
      const from = name === 'held out' ? unseen : layers;
      return [
        name,
        figure(score(from), 3),
        span(bootstrapInterval(byFlight(from), score, SEED), 3),
        span(bootstrapInterval(byProfile(from), score, SEED), 3),
        ...byFlight(from).map((some) => figure(score(some), 3)),
      ];
    });
    const flights = byFlight(layers).map(([first]) => first!.flight);
    printTable(
      'Area under the ROC curve, 955 cold layers',
      ['', 'pooled', 'by flight 95 %', 'by profile 95 %', ...flights],
      rows,
    );
    expect(areaUnderRoc(layers)).toBeGreaterThanOrEqual(0.965);
    for (const some of byFlight(layers)) {
      const onFlight = gain(some);
      // Nearly all of the gain is that of one flight; the one without a dry layer has no area.
      if (!Number.isNaN(onFlight)) expect(onFlight, some[0]!.flight).toBeGreaterThan(-0.005);
    }
    expect(bootstrapInterval(byProfile(layers), gain, SEED).low).toBeGreaterThan(0);
  });

  it('ranks as well (0.965) when each flight is diagnosed with numbers chosen on the other four', () => {
    printTable(
      `Numbers chosen without the flight, of ${candidates().length} combinations`,
      ['flight', 'cold layers', 'wet', 'area', ...Object.keys(GRID)],
      heldOut.map(({ flight, chosen, rows }) => [
        flight,
        rows.length,
        rows.filter(({ observed }) => observed === true).length,
        figure(areaUnderRoc(rows), 3),
        ...Object.keys(GRID).map((name) => chosen[name as keyof IcingCalibration] ?? '–'),
      ]),
    );
    expect(unseen).toHaveLength(955);
    expect(areaUnderRoc(unseen)).toBeGreaterThanOrEqual(0.965);
  });

  it('has more true skill than every simple rule and flags less air than any, on flights held out too', () => {
    const ours = warningScores(unseen, isLikely);
    const shipped = warningScores(layers, isLikely);
    const rows = [...HUMIDITY_RULES].map(([name, rule]) => {
      const theirs = warningScores(layers, (layer) => rule(ruleAir(layer)));
      return { name, theirs };
    });
    printTable(
      `Warnings on the 955 layers (ours at a probability of ${THRESHOLD})`,
      ['', 'wet found', 'dry flagged', 'true skill', 'volume flagged'],
      [
        ...rows,
        { name: 'the diagnosis', theirs: shipped },
        { name: 'the diagnosis, held out', theirs: ours },
      ].map(({ name, theirs: { detected, falseAlarmRate, trueSkill, volume } }) => [
        name,
        figure(detected),
        figure(falseAlarmRate),
        figure(trueSkill),
        figure(volume),
      ]),
    );
    for (const { name, theirs } of rows) {
      for (const { trueSkill, volume } of [ours, shipped]) {
        expect(trueSkill, name).toBeGreaterThan(theirs.trueSkill);
        expect(volume, name).toBeLessThanOrEqual(theirs.volume);
      }
    }
  });

  it('means its probabilities: water is found the more often the higher they are, and they beat climatology', () => {
    const table = reliabilityTable(unseen, BINS);
    const shipped = reliabilityTable(layers, BINS);
    printTable(
      'Reliability: how often water was found',
      [
        'probability',
        'layers held out',
        'mean probability',
        'wet',
        'layers as shipped',
        'mean probability',
        'wet',
      ],
      table.map((row, bin) => [
        `${row.from} to ${row.to}`,
        ...[row, shipped[bin]!].flatMap(({ count, meanProbability, observedShare }) => [
          count,
          figure(meanProbability),
          figure(observedShare),
        ]),
      ]),
    );
    const brier = brierScore(unseen);
    const climatology = climatologyBrierScore(unseen);
    process.stdout.write(
      `\nBrier score ${figure(brier, 3)} held out, ${figure(brierScore(layers), 3)} as shipped, climatology ${figure(climatology, 3)}; ` +
        `skill ${figure(1 - brier / climatology)}\n`,
    );
    const shares = table.map(({ observedShare }) => observedShare);
    expect(shares.every((share, bin) => bin === 0 || share > shares[bin - 1]!)).toBe(true);
    expect(1 - brier / climatology).toBeGreaterThan(0.5);
    expect(1 - brierScore(layers) / climatology).toBeGreaterThan(0.5);
  });
});
