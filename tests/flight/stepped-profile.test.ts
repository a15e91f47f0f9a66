/** The search for a stepped profile against every profile there is, on lattices small enough to list them all. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { FORBIDDEN, type Lattice, levelUntil, makeLattice } from '../../worker/flight/profile-lattice.ts';
import {
  bestSteppedProfile,
  type LevelEnds,
  type SteppedRequest,
} from '../../worker/flight/stepped-profile.ts';
import { windFromColumns } from '../../worker/flight/wind.ts';
import { mFromFt, mFromNm } from '../../worker/science/units.ts';
import {
  type CellAt,
  DRY,
  LIGHT_ICE,
  layer,
  makeAircraft,
  makeCurtain,
  makeTestRoute,
  randomCells,
  TEST_AXIS,
} from './make-curtain.ts';

const LENGTH_NM = 90;
const route = makeTestRoute(LENGTH_NM);
const LEVELS_FT = [4000, 6000, 8000, 9000];
const LEAST_STAY_S = 420;

interface Case {
  readonly cells: CellAt;
  /** By point, ft. */
  readonly minimumFt?: (point: number) => number;
  readonly crossingFt?: number;
  readonly mostChanges?: number;
}

function requestOf({ cells, minimumFt = () => 0, crossingFt, mostChanges = 2 }: Case): SteppedRequest {
  const curtain = makeCurtain(route.pointCount, cells);
  const lattice = makeLattice({
    route,
    aircraft: makeAircraft(),
    facts: makeCellFacts(curtain),
    windAt: windFromColumns(curtain.weather),
    levelsM: LEVELS_FT.map(mFromFt),
    levelCost: [0, 30, 0, 30],
    minimumM: Float64Array.from(route.distanceM, (_, point) => mFromFt(minimumFt(point))),
    crossings:
      crossingFt === undefined
        ? []
        : [{ distanceM: mFromNm(51), altitudeM: mFromFt(crossingFt), name: '51 NM' }],
    iceM: 0.002,
  });
  const ends: LevelEnds[] = LEVELS_FT.map((levelFt, level) => ({
    reachedM: mFromNm(levelFt / 500),
    leftM: mFromNm(LENGTH_NM - levelFt / 300),
    climbCost: 3 * level,
    descentCost: 2 * level,
  }));
  return { lattice, ends, mostChanges, leastStayS: LEAST_STAY_S };
}

/** Cost of one profile, every stay and change added up by itself; Infinity for one that may not be flown. */
function costOf(
  { lattice, ends, leastStayS }: SteppedRequest,
  levels: readonly number[],
  changePoints: readonly number[],
): number {
  const at = (level: number, point: number) => level * lattice.pointCount + point;
  const first = ends[levels[0]!]!;
  let point = lattice.distanceM.findIndex((distanceM) => distanceM >= first.reachedM - 1e-6);
  let cost =
    first.climbCost +
    lattice.cost[at(levels[0]!, point)]! -
    levelUntil(lattice, levels[0]!, first.reachedM).cost;
  for (const [index, changePoint] of changePoints.entries()) {
    const level = levels[index]!;
    const stayS = lattice.timeS[at(level, changePoint)]! - lattice.timeS[at(level, point)]!;
    if (changePoint < point || stayS < leastStayS) return Number.POSITIVE_INFINITY;
    cost += lattice.cost[at(level, changePoint)]! - lattice.cost[at(level, point)]!;
    const change = at(level, changePoint) * lattice.levelCount + levels[index + 1]!;
    if (lattice.arrival[change]! < 0) return Number.POSITIVE_INFINITY;
    cost += lattice.changeCost[change]!;
    point = lattice.arrival[change]!;
  }
  const last = levels.at(-1)!;
  const left = levelUntil(lattice, last, ends[last]!.leftM);
  if (left.timeS - lattice.timeS[at(last, point)]! < leastStayS) return Number.POSITIVE_INFINITY;
  return cost + left.cost - lattice.cost[at(last, point)]! + ends[last]!.descentCost;
}

function cheapestOfAll(request: SteppedRequest): number {
  const levels = LEVELS_FT.map((_, level) => level);
  const points = Array.from(route.distanceM.keys());
  const costs = levels.flatMap((one) =>
    levels
      .filter((two) => two !== one)
      .flatMap((two) =>
        points.flatMap((change) => {
          const single = costOf(request, [one, two], [change]);
          if (request.mostChanges < 2) return [single];
          const double = levels
            .filter((three) => three !== two)
            .flatMap((three) => points.map((second) => costOf(request, [one, two, three], [change, second])));
          return [single, ...double];
        }),
      ),
  );
  return Math.min(...costs);
}

function expectExact(request: SteppedRequest): void {
  const best = bestSteppedProfile(request);
  const least = cheapestOfAll(request);
  if (least >= FORBIDDEN) {
    expect(best).toBeUndefined();
    return;
  }
  expect(best!.cost).toBeCloseTo(least, 3);
  const changes = best!.levels.slice(1).map(({ fromPoint }) => fromPoint);
  const levels = best!.levels.map(({ level }) => level);
  expect(costOf(request, levels, changes), 'the profile named has the cost named').toBeCloseTo(least, 3);
}

describe('the best stepped profile', () => {
  test('costs as little as any of all profiles with one or two changes, whatever the air', () => {
    fc.assert(
      fc.property(randomCells(route.pointCount, TEST_AXIS), fc.constantFrom(1, 2), (cells, mostChanges) => {
        expectExact(requestOf({ cells, mostChanges }));
      }),
      { numRuns: 40 },
    );
  });

  test('does so too with minimum altitudes and a minimum crossing altitude', () => {
    const minima = fc.array(fc.constantFrom(0, 5000, 7000), {
      minLength: route.pointCount,
      maxLength: route.pointCount,
    });
    fc.assert(
      fc.property(randomCells(route.pointCount, TEST_AXIS), minima, (cells, minimaFt) => {
        expectExact(requestOf({ cells, minimumFt: (point) => minimaFt[point]!, crossingFt: 6000 }));
      }),
      { numRuns: 40 },
    );
  });

  test('goes over ice in the first half and under ice in the second', () => {
    const cells: CellAt = (point, middleFt) => ({
      ...layer(3000, 7000, LIGHT_ICE, [0, 8])(point, middleFt),
      ...layer(7000, 20000, LIGHT_ICE, [13, 30])(point, middleFt),
    });
    const best = bestSteppedProfile(requestOf({ cells, mostChanges: 1 }))!;
    const [first, second] = best.levels.map(({ level }) => LEVELS_FT[level]!);
    expect(first).toBeGreaterThan(7000);
    expect(second).toBeLessThan(7000);
  });

  test('is at least as dear as a change in dry air: it never gains there', () => {
    expect(bestSteppedProfile(requestOf({ cells: DRY }))!.cost).toBeGreaterThan(300);
  });

  test('is none where the leg has no time for two stays', () => {
    const request = { ...requestOf({ cells: DRY }), leastStayS: 3600 };
    expect(bestSteppedProfile(request)).toBeUndefined();
  });

  test('is none where every level is under a minimum somewhere and no change comes in time', () => {
    expect(bestSteppedProfile(requestOf({ cells: DRY, minimumFt: () => 12000 }))).toBeUndefined();
  });
});

describe('the lattice', () => {
  test('lets no change reach a place that a distance short of it was asked for', () => {
    const { lattice }: { lattice: Lattice } = requestOf({ cells: DRY });
    for (let index = 0; index < lattice.arrival.length; index += 1) {
      const point = Math.floor(index / lattice.levelCount) % lattice.pointCount;
      if (lattice.arrival[index]! >= 0) expect(lattice.arrival[index]!).toBeGreaterThan(point);
    }
  });

  test('a climb of 2,000 ft at 900 to 700 ft/min and 120 kt is over within two points of 5 NM', () => {
    const { lattice } = requestOf({ cells: DRY });
    const from = (1 * lattice.pointCount + 4) * lattice.levelCount + 2;
    const flownM = lattice.distanceM[lattice.arrival[from]!]! - lattice.distanceM[4]!;
    // 2,000 ft at about 790 ft/min less 6 % for 2 mm of ice: 2.7 min, 5.4 NM.
    expect(flownM).toBeGreaterThan(mFromNm(5.4));
    expect(flownM).toBeLessThan(mFromNm(10.5));
  });
});
