/** Fluid arithmetic: how long a quantity lasts, what a flight needs, and whether what is carried covers it. */
import type { PartSums } from './draw-sums.ts';
import { NOTHING, spreadOfDraws } from './estimates.ts';
import type { Aircraft, Exposure, FluidNeed, FluidProtection, Spread } from './types.ts';

/** Time a quantity lasts at one flow, less what is kept back and what bursts take; 0 when nothing is left. */
export function enduranceS(tank: {
  readonly usableM3: number;
  readonly flowM3PerS: number;
  readonly reserveM3?: number;
  readonly burstsM3?: number;
}): number {
  const freeM3 = tank.usableM3 - (tank.reserveM3 ?? 0) - (tank.burstsM3 ?? 0);
  return Math.max(0, freeM3) / tank.flowM3PerS;
}

/** Fluid that flows in given times at each setting, without priming or reserve. */
export function flowedM3(
  flows: Pick<FluidProtection, 'normalFlowM3PerS' | 'highFlowM3PerS'>,
  times: { readonly normalS: number; readonly highS: number },
): number {
  return flows.normalFlowM3PerS * times.normalS + flows.highFlowM3PerS * times.highS;
}

/** Fluid that a flight takes from the tank: nothing when it never flows, else priming once and the flow. */
export function usedM3(
  protection: FluidProtection,
  times: { readonly normalS: number; readonly highS: number },
): number {
  return times.normalS + times.highS === 0 ? 0 : protection.primingM3 + flowedM3(protection, times);
}

/** Fluid a flight must have: what it takes, one clearing of the windshield, and the reserve at normal flow. */
export function neededM3(
  protection: FluidProtection,
  times: { readonly normalS: number; readonly highS: number },
): number {
  const usedOnlyM3 = usedM3(protection, times);
  return usedOnlyM3 === 0 ? 0 : usedOnlyM3 + protection.windshieldM3 + reserveM3(protection);
}

export function reserveM3({ normalFlowM3PerS, reserveS }: FluidProtection): number {
  return normalFlowM3PerS * reserveS;
}

/**
 * What an altitude needs against what is carried; undefined without a fluid system. The high estimate is covered only
 * when it fits and, once any fluid is needed, the dispatch minimum is on board too.
 */
export function fluidNeed(
  aircraft: Aircraft,
  exposure: Exposure,
  onBoardM3: number | undefined,
): FluidNeed | undefined {
  if (aircraft.protection.kind !== 'fluid') return undefined;
  const { minimumDispatchM3 } = aircraft.protection;
  const leastM3 = exposure.fluidM3.high > 0 ? Math.max(exposure.fluidM3.high, minimumDispatchM3) : 0;
  return {
    onBoardM3,
    neededM3: exposure.fluidM3,
    minimumDispatchM3,
    reserveM3: reserveM3(aircraft.protection),
    windshieldM3: aircraft.protection.windshieldM3,
    coversHighEstimate:
      onBoardM3 === undefined ? leastM3 === 0 : onBoardM3 >= Math.max(leastM3, minimumDispatchM3),
  };
}

/** What is flown, draw by draw, and how long in unknown air: that flows at the normal setting in the high estimate. */
interface FlownSums {
  readonly sums: PartSums;
  readonly unknownS: number;
}

/** What a flight takes from the tank, priming included, m3; zeros without a fluid system. */
export function takenM3({ protection }: Pick<Aircraft, 'protection'>, flown: FlownSums): Spread {
  if (protection.kind !== 'fluid') return NOTHING;
  return withUnknown(flown, (times) => usedM3(protection, times)).all;
}

/** What a flight must have on board, with all that is planned for. */
export function fluidNeeds(
  { protection }: Pick<Aircraft, 'protection'>,
  everything: FlownSums,
): Pick<Exposure, 'fluidM3' | 'fluidHighKnownM3'> {
  if (protection.kind !== 'fluid') return { fluidM3: NOTHING, fluidHighKnownM3: 0 };
  const { all, known } = withUnknown(everything, (times) => neededM3(protection, times));
  return { fluidM3: all, fluidHighKnownM3: known.high };
}

function withUnknown(
  { sums: { moistS, highFlowS }, unknownS }: FlownSums,
  ofTimes: (times: { normalS: number; highS: number }) => number,
): { readonly all: Spread; readonly known: Spread } {
  const spread = (moreS: number): Spread =>
    spreadOfDraws(
      moistS.map((moist, draw) => {
        const times = settingTimes(moist, highFlowS[draw]!);
        return ofTimes({ ...times, normalS: times.normalS + moreS });
      }),
    );
  const known = spread(0);
  return { known, all: unknownS > 0 ? { ...known, high: spread(unknownS).high } : known };
}

/** Time at each setting out of time in moisture, of which some asks for the high one. */
export function settingTimes(moistS: number, highS: number): { normalS: number; highS: number } {
  return { normalS: Math.max(0, moistS - highS), highS };
}
