import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PathStep } from '../../worker/flight/flight-path.ts';
import type { HazardArea } from '../../worker/flight/hazard-areas.ts';
import {
  type Hazard,
  type HazardFact,
  type HazardLeg,
  hazardsMet,
  hazardsOnLeg,
} from '../../worker/flight/hazards.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { ftFromM, mFromFt, mFromNm } from '../../worker/science/units.ts';
import { type CellAt, DRY, makeCurtain, makeTestRoute, UNKNOWN } from './make-curtain.ts';

const START = Date.UTC(2026, 0, 14, 12);
const MIN = 60_000;
const route = makeTestRoute();
const last = route.pointCount - 1;

/** Two minutes from point to point, from noon. */
const legOver = (cellAt: CellAt, change: Partial<HazardLeg> = {}): HazardLeg => ({
  route,
  etaMs: Float64Array.from(route.latDeg, (_, point) => START + 2 * point * MIN),
  corridorHalfWidthM: mFromNm(10),
  indicatedMinusPressureM: 0,
  ...makeCurtain(route.pointCount, cellAt),
  ...change,
});
const EVERYWHERE: HazardArea = { kind: 'unknown', box: undefined };
const around = (point: number, radiusM = 0): HazardArea => ({
  kind: 'circle',
  center: { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
  radiusM,
});
const fact = (change: Partial<HazardFact> = {}): HazardFact => ({
  id: 'a',
  kind: 'warning',
  severity: 'severe',
  sentence: 'SIGMET 1: severe icing until 14:00 UTC',
  validFromMs: START,
  validToMs: START + 120 * MIN,
  issuedMs: START,
  areas: [EVERYWHERE],
  lower: { kind: 'open' },
  upper: { kind: 'open' },
  ...change,
});
const stretches = (facts: HazardFact[], leg = legOver(DRY)) =>
  hazardsOnLeg(facts, leg).map(({ firstPoint, lastPoint }) => [firstPoint, lastPoint]);

describe('hazardsOnLeg', () => {
  it('lays a fact over the points within its reach: the corridor, half a step between points, and no more', () => {
    // 12.5 NM at points 4.9 NM apart (186 NM in 38 steps): two on each side.
    expect(stretches([fact({ areas: [around(10)] })])).toEqual([[8, 12]]);
    expect(stretches([fact({ kind: 'surface-report', areas: [around(10)] })])).toEqual([[6, 14]]);
    expect(stretches([fact({ kind: 'pilot-report', areas: [around(10)] })])).toEqual([[4, 16]]);
  });

  it('makes one hazard of each contiguous stretch, with an identifier of its own', () => {
    const hazards = hazardsOnLeg([fact({ areas: [around(5), around(30)] })], legOver(DRY));
    expect(hazards.map(({ id, firstPoint }) => [id, firstPoint])).toEqual([
      ['a', 3],
      ['a-2', 28],
    ]);
  });

  it('holds where the aeroplane comes by in its time or half an hour from it, an hour for a forecast', () => {
    const over = { validFromMs: START - 180 * MIN, validToMs: START - 10 * MIN };
    expect(stretches([fact(over)])).toEqual([[0, 10]]);
    expect(stretches([fact({ ...over, kind: 'surface-forecast' })])).toEqual([[0, 25]]);
    expect(stretches([fact({ ...over, validToMs: START - 31 * MIN })])).toEqual([]);
    expect(stretches([fact({ validFromMs: START + 100 * MIN })])).toEqual([[35, last]]);
  });

  it('holds at a time that is no number', () => {
    const leg = legOver(DRY, { etaMs: new Float64Array(route.pointCount).fill(Number.NaN) });
    expect(stretches([fact()], leg)).toEqual([[0, last]]);
  });

  it('holds over a place that is no number', () => {
    const nowhere: HazardArea = { kind: 'circle', center: { latDeg: Number.NaN, lonDeg: -70 }, radiusM: 0 };
    expect(stretches([fact({ areas: [nowhere] })])).toEqual([[0, last]]);
  });
});

/** Cold at the ground, warm from 3,000 to 6,000 ft, cold above. */
const WARM_NOSE: CellAt = (_, ft) => ({ temperatureC: ft > 3000 && ft < 6000 ? 3 : -5 });
const spanFt = (change: Partial<HazardFact>, leg: HazardLeg) => {
  const [hazard] = hazardsOnLeg([fact(change)], leg);
  return [hazard!.lowerM, hazard!.upperM].map((altitudeM) => Math.round(ftFromM(altitudeM)));
};
const FREEZING = { upper: { kind: 'freezing-level' } } as const;
const CLOUD = { upper: { kind: 'cloud-top' } } as const;
const NO_END = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

describe('the height of a hazard', () => {
  it('of freezing rain ends at the top of the warm layer', () => {
    const [lower, upper] = spanFt(FREEZING, legOver(WARM_NOSE));
    expect(lower).toBe(Number.NEGATIVE_INFINITY);
    expect(upper).toBeGreaterThan(5750);
    expect(upper).toBeLessThan(6250);
  });

  it.each<[string, CellAt]>([
    ['no warm layer is known', DRY],
    ['nothing is known', () => UNKNOWN],
    ['the air over the warm layer is unknown', (point, ft) => (ft > 5500 ? UNKNOWN : WARM_NOSE(point, ft))],
    ['a gap may hide more of it', (point, ft) => (ft > 9000 && ft < 11000 ? UNKNOWN : WARM_NOSE(point, ft))],
    [
      'it is not known over one point of the stretch',
      (point, ft) => (point === 20 ? UNKNOWN : WARM_NOSE(point, ft)),
    ],
  ])('of freezing rain has no end where %s', (_, cellAt) => {
    expect(spanFt(FREEZING, legOver(cellAt))).toEqual(NO_END);
  });

  it('of freezing drizzle ends at the top of the likely cloud, and has no end without one', () => {
    const cloudTo =
      (topFt: number, cloudProbability: number): CellAt =>
      (_, ft) =>
        ft < topFt ? { cloudProbability } : {};
    expect(spanFt(CLOUD, legOver(cloudTo(5000, 0.45)))[1]).toBe(5000);
    expect(spanFt(CLOUD, legOver(cloudTo(5000, 0.35)))).toEqual(NO_END);
    const cut: CellAt = (point, ft) => (ft > 5000 ? UNKNOWN : cloudTo(5000, 0.45)(point, ft));
    expect(spanFt(CLOUD, legOver(cut))).toEqual(NO_END);
  });

  it('of freezing drizzle has no end where unknown air above the cloud may hold more of it', () => {
    const toFt = (lowerFt: number, upperFt: number) =>
      spanFt(
        CLOUD,
        legOver((_, ft) =>
          ft > lowerFt && ft < upperFt ? UNKNOWN : ft < 3000 ? { cloudProbability: 1 } : {},
        ),
      )[1];
    expect(toFt(0, 0)).toBe(3000);
    expect(toFt(5000, 7000)).toBe(Number.POSITIVE_INFINITY);
    // Nothing is known above: the top of what is known ends the search.
    expect(toFt(20000, 100000)).toBe(3000);
  });

  it('between the freezing level and a flight level goes down to the ground where the air below is unknown', () => {
    const layer = {
      lower: { kind: 'freezing-level' },
      upper: { kind: 'pressure-altitude', altitudeM: mFromFt(20000), marginM: 0 },
    } as const;
    const warmBelow: CellAt = (_, ft) => ({ temperatureC: ft < 4000 ? 4 : -4 });
    expect(spanFt(layer, legOver(warmBelow))).toEqual([4000, 20000]);
    const holed: CellAt = (point, ft) => (ft < 1000 ? UNKNOWN : warmBelow(point, ft));
    expect(spanFt(layer, legOver(holed))).toEqual([Number.NEGATIVE_INFINITY, 20000]);
    const onHills: CellAt = (point, ft) =>
      ft < 1000 ? { state: CELL_STATE.belowGround } : warmBelow(point, ft);
    expect(spanFt(layer, legOver(onHills))).toEqual([4000, 20000]);
  });

  it('in altitudes takes in every way that they may be meant', () => {
    const layer = {
      lower: { kind: 'altitude', altitudeM: mFromFt(8000), marginM: mFromFt(2000) },
      upper: { kind: 'altitude', altitudeM: mFromFt(8000), marginM: mFromFt(2000) },
    } as const;
    expect(spanFt(layer, legOver(DRY))).toEqual([6000, 10000]);
    expect(spanFt(layer, legOver(DRY, { indicatedMinusPressureM: mFromFt(-600) }))).toEqual([6000, 10600]);
    const leg = legOver(DRY);
    // Air in which every pressure altitude lies 900 ft lower than on the standard day.
    leg.weather.geopotentialHeightM.forEach((_, index) => {
      const cell = index % leg.weather.axis.cellCount;
      leg.weather.geopotentialHeightM[index] = mFromFt((cell + 0.5) * 500 - 900);
    });
    expect(spanFt(layer, leg)).toEqual([6000, 10900]);
  });
});

const step = (pointIndex: number, altitudeFt: number, durationS: number): PathStep => ({
  pointIndex,
  phase: 'cruise',
  isLevel: true,
  pressureAltitudeM: mFromFt(altitudeFt),
  endAltitudeM: mFromFt(altitudeFt),
  fromM: 0,
  toM: 1,
  durationS,
  headwindMps: 0,
  builtM: 0,
});
const hazard = (change: Partial<Hazard> = {}): Hazard => ({
  ...hazardsOnLeg([fact()], legOver(DRY))[0]!,
  lowerM: mFromFt(8000),
  upperM: mFromFt(10000),
  ...change,
});

describe('hazardsMet', () => {
  it('sums the time over its points within its levels and 500 ft of them', () => {
    const steps = [
      step(0, 7000, 1),
      step(1, 7500, 10),
      step(2, 9000, 100),
      step(3, 10500, 1000),
      step(4, 10501, 1e4),
    ];
    expect(hazardsMet(steps, [hazard()]).map(({ metS }) => metS)).toEqual([1110]);
    expect(hazardsMet(steps, [hazard({ firstPoint: 2, lastPoint: 2 })])[0]!.metS).toBe(100);
  });

  it('leaves out what is not met', () => {
    expect(hazardsMet([step(0, 5000, 60)], [hazard()])).toEqual([]);
  });

  it('meets one without ends at any altitude', () => {
    const open = hazard({ lowerM: Number.NEGATIVE_INFINITY, upperM: Number.POSITIVE_INFINITY });
    expect(hazardsMet([step(0, 25000, 60)], [open])).toHaveLength(1);
  });

  const arbitraryHazard = fc
    .record({
      firstPoint: fc.nat(last),
      length: fc.nat(10),
      lowerFt: fc.integer({ min: -1000, max: 25000 }),
      depthFt: fc.nat(10000),
      severity: fc.constantFrom('unstated', 'moderate', 'severe', 'large-drops'),
    })
    .map(({ firstPoint, length, lowerFt, depthFt, severity }) =>
      hazard({
        firstPoint,
        lastPoint: Math.min(last, firstPoint + length),
        lowerM: mFromFt(lowerFt),
        upperM: mFromFt(lowerFt + depthFt),
        severity,
      }),
    );
  const arbitrarySteps = fc.array(
    fc
      .tuple(fc.nat(last), fc.integer({ min: 0, max: 25000 }), fc.integer({ min: 1, max: 600 }))
      .map(([point, ft, s]) => step(point, ft, s)),
    { maxLength: 30 },
  );

  it('is never less for a hazard more: every one met before is met as long after', () => {
    fc.assert(
      fc.property(
        arbitrarySteps,
        fc.array(arbitraryHazard, { maxLength: 8 }),
        arbitraryHazard,
        fc.nat(8),
        (steps, hazards, more, place) => {
          const before = hazardsMet(steps, hazards);
          const after = hazardsMet(steps, hazards.toSpliced(place, 0, more));
          expect(
            before.every((met) => after.some((each) => each.hazard === met.hazard && each.metS === met.metS)),
          ).toBe(true);
        },
      ),
    );
  });

  it('is never less for a hazard that is wider, longer or deeper', () => {
    fc.assert(
      fc.property(arbitrarySteps, arbitraryHazard, fc.nat(5), fc.nat(5000), (steps, one, points, feet) => {
        const wider = {
          ...one,
          firstPoint: Math.max(0, one.firstPoint - points),
          lastPoint: Math.min(last, one.lastPoint + points),
          lowerM: one.lowerM - mFromFt(feet),
          upperM: one.upperM + mFromFt(feet),
        };
        const metS = (each: Hazard) => hazardsMet(steps, [each])[0]?.metS ?? 0;
        expect(metS(wider)).toBeGreaterThanOrEqual(metS(one));
      }),
    );
  });
});
