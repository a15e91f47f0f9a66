/**
 * The fits of collection efficiency against integrated paths of drops, over what aeroplanes meet. That the integrator is
 * right is shown in droplet-trajectory.test.ts.
 *
 * Largest and root-mean-square difference, formula less path, 240 cases:
 *
 * | drag curve of the paths  | beta0              | E                  |
 * |--------------------------|--------------------|--------------------|
 * | Langmuir and Blodgett    | -0.053, rms 0.032 | -0.040, rms 0.021 |
 * | Schiller and Naumann     | -0.064, rms 0.038 | -0.053, rms 0.029 |
 *
 * The formulas catch too little for middling inertia; below a modified inertia of 0.2 beta0 is up to 0.036 too high.
 */
import { beforeAll, expect, test } from 'vitest';
import {
  airViscosityPaS,
  dropReynolds,
  inertiaParameter,
  modifiedInertia,
  overallEfficiency,
  rangeRatio,
  stagnationEfficiency,
} from '../../worker/science/collection.ts';
import { localEfficiency } from '../../worker/science/impact.ts';
import { assertClose } from '../support/assert-close.ts';
import { type DifferenceRecord, recordDifferences } from '../support/difference-record.ts';
import {
  type Catch,
  type Drag,
  integrateCatch,
  langmuirBlodgettDrag,
  schillerNaumannDrag,
} from '../support/droplet-trajectory.ts';

/** Errors of the formulas against Langmuir and Blodgett's Table II, as published beside them. */
const STAGNATION_ERROR = 0.05;
const OVERALL_ERROR = 0.065;

/** Where beta0 is farther from the paths than from the table: modified inertia from and to. */
const LOW_FROM = 0.9;
const LOW_TO = 3.2;

interface Case {
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly diameterM: number;
  readonly speedMps: number;
  readonly radiusM: number;
}

/** About 1000 and 5500 m in winter. */
const AIRS = [
  { temperatureK: 268.15, pressurePa: 90_000 },
  { temperatureK: 248.15, pressurePa: 50_000 },
] as const;
const DIAMETERS_UM = [10, 15, 20, 30, 40, 50, 100, 200, 500, 1000];
const SPEEDS_MPS = [50, 85, 120];
const RADII_M = [0.006, 0.015, 0.04, 0.1];

const CASES: readonly Case[] = AIRS.flatMap((air) =>
  DIAMETERS_UM.flatMap((um) =>
    SPEEDS_MPS.flatMap((speedMps) =>
      RADII_M.map((radiusM) => ({ ...air, diameterM: um * 1e-6, speedMps, radiusM })),
    ),
  ),
);

/** Sutherland's law with the constants of the standard atmosphere, and the definitions, apart from the code under test. */
function follow(each: Case, drag: Drag): Catch {
  const viscosityPaS = (1.458e-6 * each.temperatureK ** 1.5) / (each.temperatureK + 110.4);
  const densityKgPerM3 = each.pressurePa / (287.05 * each.temperatureK);
  return integrateCatch({
    inertia: (1000 * each.diameterM ** 2 * each.speedMps) / (18 * viscosityPaS * each.radiusM),
    reynolds: (densityKgPerM3 * each.speedMps * each.diameterM) / viscosityPaS,
    drag,
  });
}

function modifiedInertiaOf(each: Case): number {
  const viscosityPaS = airViscosityPaS(each.temperatureK);
  const densityKgPerM3 = each.pressurePa / (287.05287 * each.temperatureK);
  const inertia = inertiaParameter(each.diameterM, each.speedMps, viscosityPaS, each.radiusM);
  const reynolds = dropReynolds(each.diameterM, each.speedMps, viscosityPaS, densityKgPerM3);
  return modifiedInertia(inertia, rangeRatio(reynolds));
}

/** Under this modified inertia E has another formula. */
const LIGHT_TO = 1;

interface Compared {
  readonly overall: DifferenceRecord;
  readonly overallOfLight: DifferenceRecord;
  readonly stagnation: DifferenceRecord;
  readonly stagnationLowRange: DifferenceRecord;
  readonly stagnationElsewhere: DifferenceRecord;
}

function compare(drag: Drag): Compared {
  const overall = recordDifferences();
  const overallOfLight = recordDifferences();
  const stagnation = recordDifferences();
  const stagnationLowRange = recordDifferences();
  const stagnationElsewhere = recordDifferences();
  for (const each of CASES) {
    const path = follow(each, drag);
    const modified = modifiedInertiaOf(each);
    const where = `${JSON.stringify(each)}, K0 ${modified}`;
    const low = stagnationEfficiency(modified) - path.stagnation;
    const isInLowRange = modified > LOW_FROM && modified < LOW_TO;
    overall.add(overallEfficiency(modified) - path.overall, where);
    if (modified < LIGHT_TO) overallOfLight.add(overallEfficiency(modified) - path.overall, where);
    stagnation.add(low, where);
    (isInLowRange ? stagnationLowRange : stagnationElsewhere).add(low, where);
  }
  return { overall, overallOfLight, stagnation, stagnationLowRange, stagnationElsewhere };
}

let ofOwnDrag: Compared;
let ofStandardDrag: Compared;

beforeAll(() => {
  ofOwnDrag = compare(langmuirBlodgettDrag);
  ofStandardDrag = compare(schillerNaumannDrag);
});

test('E of the formula is within its published 0.065 of 240 integrated paths, with either drag curve', () => {
  for (const { overall } of [ofOwnDrag, ofStandardDrag]) {
    expect(overall.count).toBe(240);
    expect(overall.largest, overall.largestAt).toBeLessThan(OVERALL_ERROR);
  }
  assertClose(ofOwnDrag.overall.lowest, -0.04, { abs: 0.001, why: 'the figure stated above' });
  assertClose(ofStandardDrag.overall.lowest, -0.053, { abs: 0.001, why: 'the figure stated above' });
  assertClose(ofOwnDrag.overallOfLight.lowest, -0.03, {
    abs: 0.001,
    why: 'found; the formula below K0 of 1',
  });
});

test('beta0 of the formula is within its published 0.05 of the paths outside modified inertia 0.9-3.2', () => {
  const { stagnationElsewhere } = ofOwnDrag;
  expect(stagnationElsewhere.count).toBeGreaterThan(180);
  expect(stagnationElsewhere.largest, stagnationElsewhere.largestAt).toBeLessThan(STAGNATION_ERROR);
});

test('between them beta0 is 0.041-0.054 low, beyond the published error: the table it was fitted to is itself low', () => {
  const { stagnationLowRange } = ofOwnDrag;
  expect(stagnationLowRange.count).toBeGreaterThan(40);
  expect(stagnationLowRange.lowest, stagnationLowRange.largestAt).toBeGreaterThan(-0.054);
  expect(stagnationLowRange.highest).toBeLessThan(-0.041);
});

test('with the standard drag curve beta0 is low by up to 0.064, and high by up to 0.031 for the lightest drops', () => {
  const { stagnation } = ofStandardDrag;
  expect(stagnation.count).toBe(240);
  assertClose(stagnation.lowest, -0.064, { abs: 0.001, why: 'the figure stated above' });
  assertClose(stagnation.highest, 0.031, { abs: 0.001, why: 'the figure stated above' });
  assertClose(stagnation.rms, 0.0385, { abs: 0.001, why: 'the figure stated above' });
});

test('the efficiency that the growth uses is that formula, on the cylinder radius', () => {
  for (const each of CASES) {
    const impact = {
      pressurePa: each.pressurePa,
      temperatureK: each.temperatureK,
      trueAirspeedMps: each.speedMps,
      liquidWaterKgPerM3: 0,
      diameterM: each.diameterM,
      dropColdK: Number.NaN,
      airColdK: Number.NaN,
    };
    assertClose(localEfficiency(impact, each.radiusM), stagnationEfficiency(modifiedInertiaOf(each)), {
      abs: 1e-12,
      why: 'the same formulas, put together apart',
    });
  }
});
