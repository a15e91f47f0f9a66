/**
 * What is planned for beyond the trip and may have to be flown: an early descent, vectors, approach and missed approach, a
 * hold, the way to an alternate. The same whatever altitude the trip has, so it is flown once for all of them.
 */
import { INTENSITY, LARGE_DROPS } from '../science/columns.ts';
import { mFromFt } from '../science/units.ts';
import { flyAlternate } from './alternate.ts';
import { type CellFacts, knownIndex } from './cell-facts.ts';
import {
  addDraws,
  atLeastS,
  makePartSums,
  makeWorstSums,
  type PartSums,
  summedDraws,
  summedParts,
  type WorstSums,
} from './draw-sums.ts';
import { spreadOfDraws } from './estimates.ts';
import { type Hazard, hazardsMet, reportedOn } from './hazards.ts';
import { addIceAir, type IceAirSums, iceAirOf, makeIceAirSums } from './ice-air.ts';
import { dropsWord, partExposure, worseDrops } from './part-exposure.ts';
import type { ChooseInput, Planned, PlannedExposure, PlannedPart } from './types.ts';

const S_PER_MIN = 60;
/** Where vectors, approach and hold are flown when nobody says, above the destination (judgement). */
const APPROACH_ABOVE_M = mFromFt(3000);
const HOLD_ABOVE_M = mFromFt(5000);

/** Judgement, but for the hold: 30 minutes is what is usually planned for. */
export function defaultPlanned(destinationElevationM: number): Planned {
  const fieldM = Number.isFinite(destinationElevationM) ? destinationElevationM : 0;
  return {
    earlyDescentS: 5 * S_PER_MIN,
    vectorsS: 10 * S_PER_MIN,
    approachS: 10 * S_PER_MIN,
    holdS: 30 * S_PER_MIN,
    approachAltitudeM: fieldM + APPROACH_ABOVE_M,
    holdAltitudeM: fieldM + HOLD_ABOVE_M,
  };
}

/** Some time in the air of one cell. */
export interface Stay {
  readonly pointIndex: number;
  readonly pressureAltitudeM: number;
  readonly durationS: number;
}

/** The curtain that stays are made in. */
export interface StayAir {
  readonly facts: CellFacts;
  readonly weather: ChooseInput['weather'];
  readonly icing: ChooseInput['icing'];
  readonly drawn: ChooseInput['drawn'];
  readonly hazards: readonly Hazard[];
}

export interface PlannedFlown {
  readonly exposure: PlannedExposure;
  /** All parts together, and those that are flown on every flight, draw by draw. */
  readonly sums: PartSums;
  readonly certainSums: PartSums;
  /** In unknown air on those that are flown on every flight. */
  readonly certainUnknownS: number;
  /** Pressure altitude of approach and vectors, m. */
  readonly approachM: number;
  /** Time in large drops, named or not, draw by draw. */
  readonly largeDropS: Float64Array;
}

interface Flown {
  readonly part: PlannedPart;
  readonly altitudeM: number | undefined;
  readonly durationS: number;
  readonly sums: PartSums;
  readonly worst: WorstSums;
  readonly iceAir: IceAirSums;
  readonly reported: readonly string[];
  readonly unknownS: number;
  readonly largeDropS: number;
  readonly largeDrops: number;
}

export function flyPlanned(input: ChooseInput, facts: CellFacts): PlannedFlown {
  const planned = overMinima(input, input.planned ?? defaultPlanned(input.route.fixes.at(-1)!.elevationM));
  const air = {
    facts,
    weather: input.weather,
    icing: input.icing,
    drawn: input.drawn,
    hazards: input.hazards ?? [],
  };
  const stays = {
    'early-descent': earlyStays(input, planned),
    vectors: staysAt(input, planned.approachAltitudeM, planned.vectorsS),
    approach: approachStays(input, planned),
    hold: staysAt(input, planned.holdAltitudeM, planned.holdS),
  };
  const flown = [
    flyPart('early-descent', stays['early-descent'], air, planned.approachAltitudeM),
    flyPart('vectors', stays.vectors, air, planned.approachAltitudeM),
    flyPart('approach', stays.approach, air, undefined),
    flyPart('hold', stays.hold, air, planned.holdAltitudeM),
  ];
  const hazards = [...hazardsMet(Object.values(stays).flat(), input.hazards ?? [])];
  if (input.alternate !== undefined) {
    const iceM =
      (input.residualIceM ?? 0) + spreadOfDraws(summedParts(flown.map(({ sums }) => sums)).builtM).high;
    const alternate = flyAlternate(input, input.alternate, { planned, iceM });
    flown.push(flyPart('alternate', alternate.stays, alternate.air, alternate.altitudeM));
    hazards.push(...hazardsMet(alternate.stays, input.alternate.hazards ?? []));
  }
  const certain = flown.filter(({ part }) => isCertain(part));
  return {
    exposure: { ...exposureOf(input, flown), hazards },
    sums: summedParts(flown.map(({ sums }) => sums)),
    certainSums: summedParts(certain.map(({ sums }) => sums)),
    certainUnknownS: certain.reduce((sumS, { unknownS }) => sumS + unknownS, 0),
    approachM: planned.approachAltitudeM - input.indicatedMinusPressureM,
    largeDropS: summedDraws(flown.map(({ worst }) => worst.largeDropS)),
  };
}

/** Flown on every flight; the hold and the alternate may never be. */
const isCertain = (part: PlannedPart): boolean => part !== 'hold' && part !== 'alternate';

/** Nobody holds lower than the minimum of the last point, where it is known; vectors go down to their own minima. */
export function overMinima({ minimum }: Pick<ChooseInput, 'minimum'>, planned: Planned): Planned {
  const lowestM = minimum.altitudeM.at(-1)!;
  if (Number.isNaN(lowestM)) return planned;
  return { ...planned, holdAltitudeM: Math.max(planned.holdAltitudeM, lowestM) };
}

function flyPart(
  part: PlannedPart,
  stays: readonly Stay[],
  air: StayAir,
  altitudeM: number | undefined,
): Flown {
  const { facts, icing, drawn } = air;
  const sums = makePartSums(drawn.drawCount);
  const worst = makeWorstSums(drawn.drawCount);
  const iceAir = makeIceAirSums();
  const flown = { durationS: 0, unknownS: 0, largeDropS: 0, largeDrops: LARGE_DROPS.none as number };
  for (const { pointIndex, pressureAltitudeM, durationS } of stays) {
    flown.durationS += durationS;
    const index = knownIndex(facts, pointIndex, pressureAltitudeM);
    if (index < 0) {
      flown.unknownS += durationS;
      continue;
    }
    addDraws({ part: sums, worst }, drawn, { durationS, index });
    addIceAir(iceAir, air, { index, pressureAltitudeM, durationS });
    const drops = icing.largeDrops[index]!;
    if (drops !== LARGE_DROPS.none) flown.largeDropS += durationS;
    flown.largeDrops = worseDrops(flown.largeDrops, drops);
  }
  return { part, altitudeM, sums, worst, iceAir, reported: reportedOn(stays, air.hazards), ...flown };
}

/** At the approach altitude over the last points, evenly. */
function earlyStays(input: ChooseInput, planned: Planned): Stay[] {
  const { route, aircraft } = input;
  const reachM = planned.earlyDescentS * aircraft.descentTrueAirspeedMps;
  const endM = route.distanceM.at(-1)!;
  const points = Array.from(route.distanceM.keys()).filter(
    (point) => endM - route.distanceM[point]! <= reachM,
  );
  const pressureAltitudeM = planned.approachAltitudeM - input.indicatedMinusPressureM;
  return points.map((pointIndex) => ({
    pointIndex,
    pressureAltitudeM,
    durationS: planned.earlyDescentS / points.length,
  }));
}

/** At one indicated altitude over the destination. */
function staysAt(input: ChooseInput, altitudeM: number, durationS: number): Stay[] {
  const pressureAltitudeM = altitudeM - input.indicatedMinusPressureM;
  return [{ pointIndex: input.route.pointCount - 1, pressureAltitudeM, durationS }];
}

/** From the approach altitude to the ground and up again, evenly through the cells between. */
function approachStays(input: ChooseInput, planned: Planned): Stay[] {
  const { cellDepthM } = input.icing.axis;
  const elevationM = input.route.fixes.at(-1)!.elevationM;
  const depthM = Math.max(0, planned.approachAltitudeM - (Number.isFinite(elevationM) ? elevationM : 0));
  const count = Math.max(1, Math.round(depthM / cellDepthM));
  const durationS = planned.approachS / count;
  return Array.from({ length: count }, (_, each) =>
    staysAt(input, planned.approachAltitudeM - ((each + 0.5) * depthM) / count, durationS),
  ).flat();
}

function exposureOf({ aircraft }: ChooseInput, flown: readonly Flown[]): Omit<PlannedExposure, 'hazards'> {
  const severeS = flown.map(({ worst }) => atLeastS(worst, INTENSITY.severe));
  const severeHighS = severeS.map((sums) => spreadOfDraws(sums).high);
  const together = summedParts(flown.map(({ sums }) => sums));
  const partWithMost = (ofS: readonly number[]) => {
    const mostS = Math.max(...ofS);
    return mostS > 0 ? flown[ofS.indexOf(mostS)]!.part : undefined;
  };
  return {
    parts: flown.map(({ part, altitudeM, durationS, unknownS, sums, iceAir, reported }) =>
      partExposure(
        aircraft,
        { part, altitudeM, durationS, unknownS, iceAir: iceAirOf(iceAir, aircraft), reported },
        sums,
      ),
    ),
    unknownS: flown.reduce((sumS, { unknownS }) => sumS + unknownS, 0),
    largeDropS: flown.reduce((sumS, { largeDropS }) => sumS + largeDropS, 0),
    worstLargeDrops: dropsWord(
      flown.reduce((worst, { largeDrops }) => worseDrops(worst, largeDrops), LARGE_DROPS.none as number),
    ),
    icingHighS: spreadOfDraws(together.icingS).high,
    severeHighS: spreadOfDraws(summedDraws(severeS)).high,
    largeDropPart: partWithMost(flown.map(({ largeDropS }) => largeDropS)),
    severePart: partWithMost(severeHighS),
  };
}
