/** The way from the destination to the alternate, at the altitude that meets least. */
import { mFromFt } from '../science/units.ts';
import { type CellFacts, FACT, knownIndex, makeCellFacts } from './cell-facts.ts';
import { type FlightPath, makeFlightPath } from './flight-path.ts';
import { markDangers } from './hazards.ts';
import { ICED_FROM_M } from './ice-effects.ts';
import type { Stay, StayAir } from './planned.ts';
import type { AlternateLeg, ChooseInput, Planned } from './types.ts';
import { windFromColumns } from './wind.ts';

const STEP_M = mFromFt(1000);

type Path = Extract<FlightPath, { kind: 'path' }>;

/**
 * @param iceM  On the aeroplane when it leaves the destination.
 * @returns     Stays along the alternate's own curtain; unknown all along when no altitude can be reached.
 */
export function flyAlternate(
  input: ChooseInput,
  leg: AlternateLeg,
  { planned, iceM }: { readonly planned: Planned; readonly iceM: number },
): { readonly stays: readonly Stay[]; readonly altitudeM: number | undefined; readonly air: StayAir } {
  const facts = makeCellFacts(leg);
  markDangers(facts, leg.hazards ?? []);
  const air = { facts, weather: leg.weather, icing: leg.icing, drawn: leg.drawn, hazards: leg.hazards ?? [] };
  const tried = altitudesM(input, leg, { planned, iceM }).flatMap((altitudeM) => {
    const path = pathAt(input, leg, { facts, altitudeM, iceM });
    return path === undefined ? [] : [{ altitudeM, path, cost: costOf(path, facts) }];
  });
  const [best] = tried.sort((a, b) => a.cost - b.cost || a.altitudeM - b.altitudeM);
  if (best !== undefined) return { stays: best.path.steps, altitudeM: best.altitudeM, air };
  const durationS = leg.route.distanceM.at(-1)! / input.aircraft.descentTrueAirspeedMps;
  return {
    stays: [{ pointIndex: 0, pressureAltitudeM: Number.NaN, durationS }],
    altitudeM: undefined,
    air,
  };
}

/** Thousands of feet indicated from the approach altitude, or the minimum where it is known, to the ceiling. */
function altitudesM(
  { aircraft, indicatedMinusPressureM }: ChooseInput,
  leg: AlternateLeg,
  { planned, iceM }: { readonly planned: Planned; readonly iceM: number },
) {
  const known = leg.minimum.altitudeM.filter((altitudeM) => Number.isFinite(altitudeM));
  const lowestM = Math.max(planned.approachAltitudeM, ...known);
  const ceilingM = iceM >= ICED_FROM_M ? aircraft.icedCeilingM : aircraft.ceilingM;
  const highestM = ceilingM + indicatedMinusPressureM;
  const altitudes: number[] = [];
  for (let step = Math.ceil(lowestM / STEP_M - 1e-6); step * STEP_M <= highestM; step += 1) {
    altitudes.push(step * STEP_M);
  }
  return altitudes;
}

function pathAt(
  { aircraft, indicatedMinusPressureM }: ChooseInput,
  leg: AlternateLeg,
  {
    facts,
    altitudeM,
    iceM,
  }: { readonly facts: CellFacts; readonly altitudeM: number; readonly iceM: number },
): Path | undefined {
  const field = (elevationM: number) =>
    (Number.isFinite(elevationM) ? elevationM : 0) - indicatedMinusPressureM;
  const path = makeFlightPath({
    route: leg.route,
    aircraft,
    windAt: windFromColumns(leg.weather),
    layout: leg.icing.axis,
    levels: [{ fromM: 0, pressureAltitudeM: altitudeM - indicatedMinusPressureM }],
    departurePressureAltitudeM: field(leg.route.fixes[0]!.elevationM),
    destinationPressureAltitudeM: field(leg.route.fixes.at(-1)!.elevationM),
    facts,
    residualIceM: iceM,
  });
  return path.kind === 'path' ? path : undefined;
}

/** Expected time in ice, unknown air counted as ice, and a little for the time itself. */
function costOf(path: Path, facts: CellFacts): number {
  return path.steps.reduce((cost, step) => {
    const index = knownIndex(facts, step.pointIndex, step.pressureAltitudeM);
    const danger = index >= 0 && (facts.answers[index]! & FACT.danger) !== 0 ? 10 : 0;
    return cost + step.durationS * ((index >= 0 ? facts.iceRatio[index]! : 1) + danger + 0.1);
  }, 0);
}
