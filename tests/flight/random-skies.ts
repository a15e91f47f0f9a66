/** Invented curtains and circumstances for properties of the choice. */
import fc from 'fast-check';
import { chooseAltitude } from '../../worker/flight/choose-altitude.ts';
import type { Hazard } from '../../worker/flight/hazards.ts';
import type { CandidateResult, Choice, ChooseInput, Verdict } from '../../worker/flight/types.ts';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import {
  type CellAt,
  DRY,
  makeChooseInput,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  randomCells,
  type TestCell,
} from './make-curtain.ts';

const GRAVITY: readonly Verdict[] = ['no-ice-found', 'within-limits', 'unknown', 'outside-limits'];
export const gravityOf = ({ verdict }: Pick<CandidateResult, 'verdict'>): number => GRAVITY.indexOf(verdict);
export const gravityOfCode = (code: Verdict): number => GRAVITY.indexOf(code);

export const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: mFromFt(500), cellCount: 20 });
export const route = makeTestRoute(60);
const candidateAltitudesM = [3000, 4000, 5000, 6000, 7000].map(mFromFt);

/** 60 NM, 3,000 to 7,000 ft, the round-number aeroplane with 40 L. */
export const chosen = (cellAt: CellAt, change: Partial<ChooseInput> = {}): Choice => {
  const leg = change.route ?? route;
  return chooseAltitude({
    ...makeChooseInput(DRY, {
      route: leg,
      candidateAltitudesM,
      aircraft: ROUND_AIRCRAFT,
      fluidOnBoardM3: 0.04,
    }),
    ...makeCurtain(leg.pointCount, cellAt, axis),
    ...change,
  });
};

const cells = randomCells(route.pointCount, axis);
/** Sparser curtains, so that good verdicts occur too. */
const mostlyDry = fc.tuple(cells, fc.array(fc.boolean(), { minLength: 7, maxLength: 11 })).map(
  ([cellAt, mask]): CellAt =>
    (point, middleFt) =>
      mask[(point + Math.floor(middleFt / 500)) % mask.length] && mask[point % 7] && mask[3]
        ? cellAt(point, middleFt)
        : {},
);
export const skies = fc.oneof(cells, mostlyDry);

const BLOCK_POINTS = 12;
const BLOCK_FT = 2000;
const block: fc.Arbitrary<TestCell> = fc.oneof(
  { weight: 6, arbitrary: fc.constant({}) },
  { weight: 1, arbitrary: fc.constant({ state: CELL_STATE.noData }) },
  { weight: 1, arbitrary: fc.constant({ largeDrops: LARGE_DROPS.freezingDrizzle }) },
  {
    weight: 4,
    arbitrary: fc.record({
      icingProbability: fc.constantFrom(0.07, 0.3, 0.5, 1),
      cloudProbability: fc.constant(1),
      growthMmPerMin: fc.constantFrom(0, 0.1, 0.3, 0.8),
      intensity: fc.integer({ min: 1, max: 4 }),
    }),
  },
);
/** Light or moderate ice in places, the rest dry: most altitudes are within limits. */
const fairBlock: fc.Arbitrary<TestCell> = fc.oneof(
  { weight: 5, arbitrary: fc.constant({}) },
  {
    weight: 2,
    arbitrary: fc.record({
      icingProbability: fc.constantFrom(0.07, 0.3, 0.5, 1),
      cloudProbability: fc.constant(1),
      growthMmPerMin: fc.constantFrom(0, 0.05, 0.1),
      intensity: fc.integer({ min: 1, max: 3 }),
    }),
  },
);

/** Blocks of 60 NM by 2,000 ft over a leg of 240 NM: long enough for changes of altitude to be worth it. */
export const LONG_ROUTE = makeTestRoute(240);
const inBlocks = (of: fc.Arbitrary<TestCell>): fc.Arbitrary<CellAt> =>
  fc.array(of, { minLength: 25, maxLength: 25 }).map((blocks) => (point, middleFt) => {
    const column = Math.min(4, Math.floor(point / BLOCK_POINTS));
    return blocks[column * 5 + Math.min(4, Math.floor(middleFt / BLOCK_FT))]!;
  });
export const blockSkies = inBlocks(block);
export const fairSkies = inBlocks(fairBlock);

const hazards: fc.Arbitrary<readonly Hazard[]> = fc.array(
  fc.record({
    id: fc.constant('A'),
    kind: fc.constantFrom('warning', 'surface-report', 'surface-forecast', 'pilot-report'),
    severity: fc.constantFrom('unstated', 'moderate', 'severe', 'large-drops'),
    sentence: fc.constant('Icing reported or warned of along the leg'),
    validFromMs: fc.constant(0),
    validToMs: fc.constant(1),
    issuedMs: fc.constant(0),
    firstPoint: fc.nat(20),
    lastPoint: fc.nat(50),
    lowerM: fc.constantFrom(Number.NEGATIVE_INFINITY, mFromFt(4000)),
    upperM: fc.constantFrom(Number.POSITIVE_INFINITY, mFromFt(6000)),
  }),
  { maxLength: 2 },
);

/** What else a request may bring. */
export const circumstances: fc.Arbitrary<Partial<ChooseInput>> = fc.record({
  hazards,
  residualIceM: fc.constantFrom(0, 0, 0, 0.002),
  fluidOnBoardM3: fc.constantFrom(undefined, 0.01, 0.03, 0.05, 0.08),
  crossings: fc.constantFrom([], [], [{ name: 'RIDGE', distanceM: 100_000, altitudeM: mFromFt(5000) }]),
  oxygenRule: fc.constantFrom('14 CFR 135.89(a)' as const, '14 CFR 91.211(a)' as const),
});
