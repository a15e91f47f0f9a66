/** One candidate, a single altitude or a stepped profile: can it be flown at all, and if so what does the flight meet. */
import { CELL_STATE } from '../science/columns.ts';
import type { CandidateAltitude, ChoiceContext, FlownCandidate, Path, TriedCandidate } from './candidate.ts';
import { type CellFacts, FACT, flownIndex } from './cell-facts.ts';
import { cellLowerEdgeM, cellNumber } from './cells.ts';
import { exposureAt } from './exposure.ts';
import { makeFlightPath } from './flight-path.ts';
import { fluidNeed } from './fluid.ts';
import { hazardsMet, metTogether } from './hazards.ts';
import { refusalOf } from './refusals.ts';
import type { ChooseInput, Direction, Fix, ProfileLevel } from './types.ts';
import { isBeyondLimits, verdictOf } from './verdict-rules.ts';
import { waysOut } from './way-out.ts';

/** Altitudes so near are equal, m. */
const COLD_DUST_M = 0.15;

/** @param levels  In order, the first from 0. */
export function tryCandidate(context: ChoiceContext, levels: readonly ProfileLevel[]): TriedCandidate {
  const { input } = context;
  const indicatedAltitudeM = Math.max(...levels.map(({ altitudeM }) => altitudeM));
  const path = pathOf(context, levels);
  const altitude: CandidateAltitude = {
    indicatedAltitudeM,
    pressureAltitudeM: indicatedAltitudeM - input.indicatedMinusPressureM,
    levels,
    direction: directionOfAll(context, levels),
    path: path.kind === 'path' ? path : undefined,
  };
  const barred = refusalOf(context, altitude, path);
  if (barred !== undefined) return { kind: 'refused', ...altitude, ...barred };
  return flown(context, altitude, path as Path);
}

function directionOfAll({ directionOf }: ChoiceContext, levels: readonly ProfileLevel[]): Direction {
  return levels.every(({ altitudeM }) => directionOf(altitudeM) === 'right-way') ? 'right-way' : 'ask';
}

function pathOf(
  { input, facts, windAt, departureM, destinationM }: ChoiceContext,
  levels: readonly ProfileLevel[],
) {
  return makeFlightPath({
    route: input.route,
    aircraft: input.aircraft,
    windAt,
    layout: input.icing.axis,
    levels: levels.map(({ fromM, altitudeM }) => ({
      fromM,
      pressureAltitudeM: altitudeM - input.indicatedMinusPressureM,
    })),
    departurePressureAltitudeM: departureM,
    destinationPressureAltitudeM: destinationM,
    facts,
    residualIceM: input.residualIceM ?? 0,
  });
}

function flown(context: ChoiceContext, altitude: CandidateAltitude, path: Path): FlownCandidate {
  const { input, facts, windows, planned } = context;
  const { aircraft, weather, icing, drawn, route, minimum, indicatedMinusPressureM } = input;
  const residualIceM = input.residualIceM ?? 0;
  const exposure = exposureAt({
    aircraft,
    path,
    weather,
    icing,
    drawn,
    facts,
    planned,
    windows,
    residualIceM,
    hazards: input.hazards ?? [],
  });
  const fluid = fluidNeed(aircraft, exposure, input.fluidOnBoardM3);
  const ways = waysOut({
    route,
    aircraft,
    facts,
    minimum,
    indicatedMinusPressureM,
    path,
    aerodromes: input.aerodromes ?? [],
  });
  const hazards = metTogether([hazardsMet(path.steps, input.hazards ?? []), planned.exposure.hazards]);
  const { code, reasons } = verdictOf({ exposure, aircraft, fluid, waysOut: ways, hazards });
  return {
    kind: 'flown',
    ...altitude,
    path,
    exposure,
    fluid,
    waysOut: ways,
    separatorS: separatorSeconds(path, facts),
    verdict: code,
    limitsBroken: reasons.filter((each) => isBeyondLimits(each.code)).length,
    verdictReasons: reasons,
    isUnderColdMinimum:
      altitude.levels.length === 1 && altitude.indicatedAltitudeM < context.coldMinimumM - COLD_DUST_M,
  };
}

function separatorSeconds(path: Path, facts: CellFacts): number {
  return path.steps.reduce((sumS, { pointIndex, pressureAltitudeM, durationS }) => {
    const index = flownIndex(facts, pointIndex, cellNumber(facts, pressureAltitudeM));
    return index >= 0 && (facts.answers[index]! & FACT.separator) !== 0 ? sumS + durationS : sumS;
  }, 0);
}

/** Where the climb starts or the descent ends: the elevation, else the lowest air of the column, sea level at least. */
export function fieldPressureAltitudeM(input: ChooseInput, fix: Fix, point: number): number {
  const seaLevelM = -input.indicatedMinusPressureM;
  if (Number.isFinite(fix.elevationM)) return fix.elevationM + seaLevelM;
  const { axis, state } = input.icing;
  let cell = 0;
  while (cell < axis.cellCount - 1 && state[point * axis.cellCount + cell] === CELL_STATE.belowGround)
    cell += 1;
  return Math.max(seaLevelM, cellLowerEdgeM(axis, cell));
}
