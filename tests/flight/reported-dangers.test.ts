/** Severe icing and large drops reported or warned of: where they are met, and that nothing leads through them. */
import { describe, expect, test } from 'vitest';
import { FACT, makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { type Hazard, hazardsMet, markDangers } from '../../worker/flight/hazards.ts';
import type { AlternateLeg, PlannedExposure } from '../../worker/flight/types.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { at, choose, codesOf } from './choose.ts';
import { exposure } from './fly-curtain.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeCurtain,
  makeTestRoute,
  NOTHING_PLANNED,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const route = makeTestRoute();
const DESTINATION = route.pointCount - 1;
/** Severe icing warned of all along, 4,000-7,000 ft, unless a test says otherwise. */
const hazard = (change: Partial<Hazard> = {}): Hazard => ({
  id: 'A1',
  kind: 'warning',
  severity: 'severe',
  sentence: 'SIGMET 1: severe icing until 14:00 UTC',
  validFromMs: 0,
  validToMs: 1,
  issuedMs: 0,
  firstPoint: 0,
  lastPoint: DESTINATION,
  lowerM: mFromFt(4000),
  upperM: mFromFt(7000),
  ...change,
});
const atTheEnd = { firstPoint: DESTINATION, lastPoint: DESTINATION };
const ROUND = { aircraft: ROUND_AIRCRAFT, planned: NOTHING_PLANNED };

describe('markDangers', () => {
  const marked = (change: Partial<Hazard>, cellAt: CellAt = DRY) => {
    const facts = makeCellFacts(makeCurtain(route.pointCount, cellAt));
    markDangers(facts, [hazard(change)]);
    return (point: number, altitudeFt: number) =>
      (facts.answers[point * facts.cellCount + altitudeFt / 500]! & FACT.danger) !== 0;
  };

  test('marks the cells of severe icing and large drops, half a thousand feet about them too', () => {
    for (const severity of ['severe', 'large-drops'] as const) {
      const isDanger = marked({ severity, firstPoint: 10, lastPoint: 14 });
      const along = [9, 10, 14, 15].map((point) => isDanger(point, 5000));
      expect(along).toEqual([false, true, true, false]);
      // 7,500 ft, the lower edge of a cell, lies within 500 ft of 7,000.
      const up = [2500, 3500, 7000, 7500, 8000].map((altitudeFt) => isDanger(12, altitudeFt));
      expect(up).toEqual([false, true, true, true, false]);
    }
  });

  test('marks nothing for moderate icing or icing of no stated severity, nor air that is unknown', () => {
    expect(marked({ severity: 'moderate' })(12, 5000)).toBe(false);
    expect(marked({ severity: 'unstated' })(12, 5000)).toBe(false);
    const facts = makeCellFacts(makeCurtain(route.pointCount, () => UNKNOWN));
    markDangers(facts, [hazard()]);
    expect(new Set(facts.answers)).toEqual(new Set([0]));
  });
});

describe('hazardsMet at an altitude that is not known', () => {
  test('meets every hazard over its points', () => {
    const stay = { pointIndex: 12, pressureAltitudeM: Number.NaN, durationS: 600 };
    const over = { firstPoint: 12, lastPoint: 12 };
    expect(hazardsMet([stay], [hazard(over)])[0]?.metS).toBe(600);
    expect(hazardsMet([stay], [hazard({ ...over, lowerM: mFromFt(20000) })])[0]?.metS).toBe(600);
    expect(hazardsMet([stay], [hazard({ firstPoint: 13, lastPoint: 20 })])).toEqual([]);
  });
});

describe('ways out and reported dangers', () => {
  const waysAt20 = (hazards: readonly Hazard[]) => {
    const choice = choose(layer(0, 10000, LIGHT_ICE), {
      ...ROUND,
      candidateAltitudesM: [mFromFt(9000)],
      hazards,
    });
    return at(choice, 9000).waysOut!.way[20];
  };

  test('no way leads up through severe icing warned of, one leads through what is moderate', () => {
    const above = { lowerM: mFromFt(10500), upperM: mFromFt(13000) };
    expect(waysAt20([])).toBe('up');
    expect(waysAt20([hazard(above)])).toBe('none');
    expect(waysAt20([hazard({ ...above, severity: 'moderate' })])).toBe('up');
  });

  test('freezing rain reported at 3,000-8,000 ft leaves a cruise at 10,000 ft no way down through it', () => {
    const change = {
      ...ROUND,
      aircraft: { ...ROUND_AIRCRAFT, ceilingM: mFromFt(10500) },
      candidateAltitudesM: [mFromFt(10000)],
      minimum: flatMinimum(route.pointCount, 1000),
    };
    const rain = hazard({
      severity: 'large-drops',
      firstPoint: 12,
      lastPoint: 26,
      lowerM: mFromFt(3000),
      upperM: mFromFt(8000),
    });
    const deck = layer(8500, 30000, LIGHT_ICE, [5, 30]);
    const way = (hazards: readonly Hazard[]) =>
      at(choose(deck, { ...change, hazards }), 10000).waysOut!.way[20];
    expect(way([])).toBe('down');
    expect(way([rain])).toBe('none');
  });
});

describe('hazards and what is planned', () => {
  const met = (hazards: readonly Hazard[], holdS = 0) =>
    exposure(DRY, {
      planned: { ...NOTHING_PLANNED, holdS },
      change: { hazards },
    }).planned.hazards;
  const planned = (change: object, hazards: readonly Hazard[]): PlannedExposure['hazards'] =>
    exposure(DRY, { planned: { ...NOTHING_PLANNED, ...change }, change: { hazards } }).planned.hazards;

  test('a warning of severe icing at 4,000-7,000 ft at the last point alone is met in the default hold', () => {
    const choice = choose(DRY, { hazards: [hazard(atTheEnd)] });
    expect(choice.file).toBeUndefined();
    for (const candidate of choice.candidates.filter(({ exposure: flown }) => flown !== undefined)) {
      expect(candidate.verdict).toBe('outside-limits');
      expect(codesOf(candidate.reasons)).toContain('reported-severe-icing');
    }
  });

  test('is met in hold, vectors, approach and early descent, for the time there', () => {
    expect(met([hazard(atTheEnd)])).toEqual([]);
    expect(met([hazard(atTheEnd)], 1800).map(({ metS }) => metS)).toEqual([1800]);
    const low = hazard({ ...atTheEnd, lowerM: mFromFt(2750), upperM: mFromFt(3250) });
    expect(planned({ vectorsS: 600 }, [low]).map(({ metS }) => metS)).toEqual([600]);
    // 600 s in six cells, whose middles lie at 250 to 2,750 ft: two of them within 500 ft of 2,750.
    const [approach] = planned({ approachS: 600 }, [low]);
    expect(approach!.metS).toBeCloseTo(200, 6);
    // 300 s at 150 kt are 12.5 NM, the last three points, 100 s each.
    const [early] = planned({ earlyDescentS: 300 }, [low]);
    expect(early!.metS).toBeCloseTo(100, 6);
  });

  const alternateRoute = makeTestRoute(60);
  const toAlternate = (change: Partial<Hazard>) => {
    const alternate: AlternateLeg = {
      name: 'CCCC',
      route: alternateRoute,
      ...makeCurtain(alternateRoute.pointCount, DRY),
      minimum: flatMinimum(alternateRoute.pointCount, 3000),
      hazards: [hazard(change)],
    };
    const { hazards, parts } = exposure(DRY, { change: { alternate } }).planned;
    const altitudeFt = ftFromM(parts.find(({ part }) => part === 'alternate')!.altitudeM!);
    return { metS: hazards.map(({ metS }) => Math.round(metS)), altitudeFt: Math.round(altitudeFt) };
  };

  test('on the way to the alternate those of its own leg are met, and flown under where there is room', () => {
    // 60 NM at 3,000 ft: 22 min.
    const everywhere = { lowerM: Number.NEGATIVE_INFINITY, upperM: Number.POSITIVE_INFINITY };
    const lastPoint = alternateRoute.pointCount - 1;
    expect(toAlternate({ ...everywhere, lastPoint })).toEqual({ metS: [22 * 60], altitudeFt: 3000 });
    // 3,000 ft lie more than 500 ft below 4,000.
    expect(toAlternate({ lastPoint })).toEqual({ metS: [], altitudeFt: 3000 });
  });

  // From 12.5 to 22.5 NM; 6,000 ft are reached after 12 NM and left 30 NM before the end. 500 ft over 5,400 ft are 5,900.
  test('the alternate is flown over severe icing warned of at 3,000-5,400 ft', () => {
    const low = { firstPoint: 3, lastPoint: 4, lowerM: mFromFt(3000) };
    expect(toAlternate({ ...low, upperM: mFromFt(5400) })).toEqual({ metS: [], altitudeFt: 6000 });
  });

  // 500 ft over 5,500 ft count: 6,000 ft meet it and 7,000 do not.
  test('and at 7,000 ft over such icing up to 5,500 ft', () => {
    const low = { firstPoint: 3, lastPoint: 4, lowerM: mFromFt(3000) };
    expect(toAlternate({ ...low, upperM: mFromFt(5500) })).toEqual({ metS: [], altitudeFt: 7000 });
  });

  test('one warning met on the trip and in the hold is one warning', () => {
    const all = hazard({ lowerM: Number.NEGATIVE_INFINITY, upperM: Number.POSITIVE_INFINITY });
    const { reasons } = at(choose(DRY, { hazards: [all] }), 9000);
    const said = reasons.find(({ code }) => code === 'reported-severe-icing');
    expect(said?.numbers).toMatchObject({ reports: 1 });
  });
});
