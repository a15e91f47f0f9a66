/** What is planned for beyond the trip: approach, hold, alternate. Times and liters are worked out by hand. */
import { describe, expect, test } from 'vitest';
import { defaultPlanned } from '../../worker/flight/planned.ts';
import type { AlternateLeg, Exposure, Planned, PlannedPart } from '../../worker/flight/types.ts';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { exposure } from './fly-curtain.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeCurtain,
  makeTestRoute,
  type TestCell,
  UNKNOWN,
} from './make-curtain.ts';

const BY_HAND = { abs: 1e-6, why: 'by hand' };
const BY_HAND_F32 = { abs: 1e-6, rel: 1e-6, why: 'by hand, columns are 32-bit' };
const MINUTE = 60;
const CLOUD: TestCell = { cloudProbability: 0.9 };
const DESTINATION = makeTestRoute().pointCount - 1;

/** 5 min early, 10 min of vectors and of approach from 3,000 ft, 30 min of hold at 5,000 ft. */
const PLANNED: Planned = defaultPlanned(0);
const planned = (cellAt: CellAt, change: Partial<Planned> = {}): Exposure =>
  exposure(cellAt, { planned: { ...PLANNED, ...change } });
const part = ({ planned: { parts } }: Exposure, wanted: PlannedPart) =>
  parts.find((each) => each.part === wanted)!;
/** Over the destination alone. */
const there = (lowerFt: number, upperFt: number, cell: TestCell) =>
  layer(lowerFt, upperFt, cell, [DESTINATION, DESTINATION]);

describe('defaultPlanned', () => {
  test('holds 5,000 ft and approaches from 3,000 ft above the destination, or above the sea when its elevation is unknown', () => {
    const altitudesFt = (elevationM: number) => {
      const { approachAltitudeM, holdAltitudeM } = defaultPlanned(elevationM);
      return [approachAltitudeM, holdAltitudeM].map((altitudeM) => Math.round(ftFromM(altitudeM)));
    };
    expect(altitudesFt(mFromFt(1200))).toEqual([4200, 6200]);
    expect(altitudesFt(Number.NaN)).toEqual([3000, 5000]);
  });
});

describe('the hold', () => {
  test('takes fluid only where it is moist', () => {
    const moist = part(planned(there(5000, 5500, CLOUD)), 'hold');
    assertClose(moist.fluidM3.middle * 1000, 30 * 0.45, BY_HAND);
    assertClose(moist.moistureBelowFreezingS.middle, 30 * MINUTE, BY_HAND);
    expect(part(planned(there(5500, 9000, CLOUD)), 'hold').fluidM3.high).toBe(0);
  });

  // The destination's column reaches half a stretch of 4.89 NM before it: the descent at 150 kt and 500 ft/min is below 500 ft
  // there, so that the trip meets nothing of a cloud at 5,000 ft. Priming 4 L, 30 min at 0.45, reserve 13.5 L.
  test('makes the fluid that is needed, not the fluid of the trip', () => {
    const { fluidM3, fluidTripM3 } = planned(there(5000, 5500, CLOUD));
    assertClose(fluidM3.high * 1000, 4 + 13.5 + 13.5, BY_HAND);
    expect(fluidTripM3.high).toBe(0);
  });

  test('in unknown air is unknown, and counted as moist in the high estimate of fluid', () => {
    const found = planned(there(5000, 5500, UNKNOWN));
    assertClose(found.planned.unknownS, 30 * MINUTE, BY_HAND);
    assertClose(part(found, 'hold').unknownS, 30 * MINUTE, BY_HAND);
    expect([found.unknownS, found.fluidM3.middle, found.fluidHighKnownM3]).toEqual([0, 0, 0]);
    assertClose(found.fluidM3.high * 1000, 4 + 13.5 + 13.5, BY_HAND);
  });

  test('above the top of the columns is unknown', () => {
    assertClose(planned(DRY, { holdAltitudeM: mFromFt(31000) }).planned.unknownS, 30 * MINUTE, BY_HAND);
  });

  test('without a duration meets nothing', () => {
    expect(planned(there(5000, 5500, UNKNOWN), { holdS: 0 }).planned.unknownS).toBe(0);
  });
});

describe('the approach', () => {
  // 10 min through six cells of 500 ft from 3,000 ft down: 100 s in each.
  test('meets freezing drizzle in one layer of it for its part of the time, and the hold does not', () => {
    const found = planned(there(500, 1000, { largeDrops: LARGE_DROPS.freezingDrizzle }));
    assertClose(found.planned.largeDropS, 100, BY_HAND);
    expect(found.planned).toMatchObject({ worstLargeDrops: 'freezing-drizzle', largeDropPart: 'approach' });
  });

  test('is flown through all the air below its altitude, vectors at that altitude', () => {
    const below = planned(there(0, 3000, CLOUD));
    assertClose(part(below, 'approach').moistureBelowFreezingS.middle, 10 * MINUTE, BY_HAND);
    expect(part(below, 'vectors').moistureBelowFreezingS.high).toBe(0);
    const at3000 = planned(there(3000, 3500, CLOUD));
    expect(part(at3000, 'approach').moistureBelowFreezingS.high).toBe(0);
    assertClose(part(at3000, 'vectors').moistureBelowFreezingS.middle, 10 * MINUTE, BY_HAND);
  });

  // 5 min at 150 kt are 12.5 NM: the last three points, 100 s each.
  test('an early descent is flown at the approach altitude over the last miles', () => {
    const found = planned(layer(3000, 3500, LIGHT_ICE, [DESTINATION - 2, DESTINATION - 2]));
    assertClose(part(found, 'early-descent').icingS.high, 100, BY_HAND);
    expect(
      part(planned(layer(3000, 3500, LIGHT_ICE, [0, DESTINATION - 3])), 'early-descent').icingS.high,
    ).toBe(0);
  });
});

describe('what is planned for, in the sums', () => {
  // 30 min at 0.3 mm/min are 9 mm, with 2 mm at lift-off 11; nine draws of ten have the ice.
  test('ice of the hold and ice left at lift-off are on the aeroplane at the landing', () => {
    const found = exposure(there(5000, 5500, LIGHT_ICE), { planned: PLANNED, residualIceM: 0.002 });
    assertClose(found.builtAtLandingM.middle * 1000, 11, BY_HAND_F32);
    expect(found.builtM.high).toBe(0);
  });

  test('severe icing of the hold counts where it is planned, not on the trip', () => {
    const found = planned(there(5000, 5500, { ...LIGHT_ICE, intensity: 4 }));
    assertClose(found.planned.severeHighS, 30 * MINUTE, BY_HAND);
    expect([found.planned.severePart, found.intensityS.severe.high]).toEqual(['hold', 0]);
  });

  test('every part of the flight is told by itself, in the order flown', () => {
    expect(planned(DRY).parts.map((each) => `${each.part} ${(each.durationS / MINUTE).toFixed(2)}`)).toEqual([
      'taxi 0.00',
      'climb 10.00',
      'cruise 38.67',
      'descent 20.00',
      'early-descent 5.00',
      'vectors 10.00',
      'approach 10.00',
      'hold 30.00',
    ]);
  });

  test('priming is taken at the taxi, where any fluid will flow', () => {
    const taxiL = (cellAt: CellAt) => planned(cellAt).parts[0]!.fluidM3.middle * 1000;
    expect([taxiL(there(5000, 5500, CLOUD)), taxiL(DRY)]).toEqual([4, 0]);
  });

  test('unknown air may need fluid, so that its high estimate is primed for', () => {
    const { low, high } = planned(there(5000, 5500, UNKNOWN)).parts[0]!.fluidM3;
    expect([low * 1000, high * 1000]).toEqual([0, 4]);
  });
});

describe('the alternate', () => {
  const leg = (cellAt: CellAt, minimumFt = 3000): AlternateLeg => {
    const route = makeTestRoute(60);
    return {
      name: 'CCCC',
      route,
      ...makeCurtain(route.pointCount, cellAt),
      minimum: flatMinimum(route.pointCount, minimumFt),
    };
  };
  const to = (cellAt: CellAt, minimumFt?: number) =>
    part(exposure(DRY, { planned: PLANNED, change: { alternate: leg(cellAt, minimumFt) } }), 'alternate');

  // 60 NM at 3,000 ft: up 3 min, 6 NM; down 6 min, 15 NM; 39 NM at 180 kt 13 min.
  test('is flown through its own air, with climb and descent', () => {
    const dry = to(DRY);
    assertClose(dry.durationS / MINUTE, 22, { abs: 1e-6, why: 'by hand' });
    expect([ftFromM(dry.altitudeM!), dry.icingS.high, dry.unknownS]).toEqual([3000, 0, 0]);
  });

  test('is flown at the altitude that meets least ice, not under the minimum altitude', () => {
    assertClose(ftFromM(to(layer(3000, 6000, LIGHT_ICE)).altitudeM!), 6000, BY_HAND);
    assertClose(ftFromM(to(DRY, 4500).altitudeM!), 5000, BY_HAND);
  });

  test('in unknown air is unknown', () => {
    const found = to(() => UNKNOWN);
    assertClose(found.unknownS, found.durationS, BY_HAND);
  });

  test('whose minimum altitude is above the ceiling is unknown all along, never left out', () => {
    const found = to(DRY, 26000);
    expect(found.altitudeM).toBeUndefined();
    assertClose(found.unknownS, (60 / 150) * 3600, BY_HAND);
  });
});
