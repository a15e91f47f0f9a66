/** Fluid arithmetic: how long a quantity lasts, what a flight needs, and whether what is carried covers it. */
import type { DrawSums } from './draw-sums.ts';
import { spreadOfDraws } from './estimates.ts';
import type { Aircraft, Exposure, FluidNeed, FluidProtection } from './types.ts';

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

/** Fluid a flight needs: nothing when it never flows, else priming once, the flow, and the reserve at normal flow. */
export function neededM3(
  protection: FluidProtection,
  times: { readonly normalS: number; readonly highS: number },
): number {
  if (times.normalS + times.highS === 0) return 0;
  const reserveM3 = protection.normalFlowM3PerS * protection.reserveS;
  return protection.primingM3 + flowedM3(protection, times) + reserveM3;
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
    coversHighEstimate: leastM3 === 0 || (onBoardM3 !== undefined && onBoardM3 >= leastM3),
  };
}

/** What a path needs, draw by draw. Unknown air flows at the normal setting in the high estimate. */
export function fluidSums(
  { protection }: Pick<Aircraft, 'protection'>,
  { moistS, highFlowS }: Pick<DrawSums, 'moistS' | 'highFlowS'>,
  unknownS: number,
): Pick<Exposure, 'fluidM3' | 'fluidHighKnownM3'> {
  if (protection.kind !== 'fluid') return { fluidM3: { low: 0, middle: 0, high: 0 }, fluidHighKnownM3: 0 };
  const needed = (moreS: number) =>
    spreadOfDraws(
      moistS.map((moist, draw) => {
        const highS = highFlowS[draw]!;
        return neededM3(protection, { normalS: Math.max(0, moist - highS) + moreS, highS });
      }),
    );
  const known = needed(0);
  return {
    fluidM3: { ...known, high: unknownS > 0 ? needed(unknownS).high : known.high },
    fluidHighKnownM3: known.high,
  };
}
