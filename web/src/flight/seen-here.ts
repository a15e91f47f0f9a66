/** What the brief holds for the place where somebody looks: its air, the forecast, the fluid, the way out and the ice ahead. */
import { aircraftFromProfile } from '../../../worker/flight/aircraft.ts';
import { gaugeTemperatureK } from '../../../worker/flight/gauge-temperature.ts';
import { tableValue } from '../../../worker/flight/performance-table.ts';
import {
  judgeSeenIce,
  type LargeDropSign,
  type SeenAnswer,
  type SeenPlan,
} from '../../../worker/flight/seen-ice.ts';
import type { Aircraft } from '../../../worker/flight/types.ts';
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import { leadingEdge, rod } from '../../../worker/science/growth.ts';
import {
  pressureAltitudeMFromIndicatedM,
  pressurePaFromPressureAltitudeM,
} from '../../../worker/science/standard-atmosphere.ts';
import {
  hPaFromPa,
  kFromC,
  ktFromMps,
  mFromFt,
  mpsFromKt,
  paFromHPa,
} from '../../../worker/science/units.ts';
import { type WayStretch, wayStretches } from '../answer/file-line.ts';
import { levelAtFt, waysOf } from '../considered.ts';
import type { BriefMember, Candidate, CurtainAnswer, RoutePoint } from '../contract.ts';
import { cellAt, nearestPointIndex } from '../curtain.ts';
import { timeAtMs } from '../leg-time.ts';
import { plannedFluidLeftL } from '../strips/fluid-left.ts';
import { altitudeOverFt, pathPieces } from '../table/path-pieces.ts';
import { catchOf, flownKt, wingAirOf } from './cue-rows.ts';

/** The place on the path that the cursor is at. */
export interface Here {
  readonly distanceNm: number;
  readonly altitudeFt: number;
  /** Static, of the forecast; undefined where the air is unknown. */
  readonly temperatureC: number | undefined;
  readonly pressureHPa: number;
  /** Of the part of the flight: a climb is slower than the cruise. */
  readonly trueAirspeedKt: number;
  readonly phase: 'climb' | 'level' | 'descent';
  readonly forecast: SeenPlan['forecast'];
  /** What the brief has as a way from here, whether it is one or not; undefined where none was worked out. */
  readonly stretch: WayStretch | undefined;
  /** That, where it leads out of ice; undefined else. */
  readonly way: WayStretch | undefined;
  /** As planned, L; undefined where nobody knows. */
  readonly fluidLeftL: number | undefined;
  readonly ahead: SeenPlan['ahead'];
  readonly aircraft: Aircraft;
  readonly profile: AircraftProfile;
}

/** undefined without the cells, and for an altitude that was not flown. */
export function hereOf(
  brief: BriefMember,
  candidate: Candidate,
  { distanceNm, profile }: { readonly distanceNm: number; readonly profile: AircraftProfile },
): Here | undefined {
  const { curtain, leg, limits } = brief;
  const { flownFt } = candidate;
  if (curtain === undefined || flownFt === null) return undefined;
  const aircraft = aircraftFromProfile(profile);
  const altitudeFt = altitudeOverFt(curtain.distanceNm, flownFt, distanceNm);
  if (!Number.isFinite(altitudeFt)) return undefined;
  const pressureAltitudeM = pressureAltitudeMFromIndicatedM(
    mFromFt(altitudeFt),
    paFromHPa(limits.altimeterSettingHPa),
  );
  const cell = cellAt(curtain, nearestPointIndex(curtain.distanceNm, distanceNm), altitudeFt);
  const stretch = stretchAt(brief, candidate, distanceNm);
  const phase = phaseAt(brief, candidate, { distanceNm, altitudeFt });
  const cruiseKt = ktFromMps(tableValue(aircraft.trueAirspeedMps, pressureAltitudeM));
  return {
    distanceNm,
    altitudeFt,
    temperatureC: cell.value('temperature'),
    pressureHPa: hPaFromPa(pressurePaFromPressureAltitudeM(pressureAltitudeM)),
    trueAirspeedKt: flownKt(phase, cruiseKt, profile),
    phase,
    forecast: forecastAt(candidate, { distanceNm, altitudeFt, probability: cell.value('icingProbability') }),
    stretch,
    way: isWay(stretch) ? stretch : undefined,
    fluidLeftL: plannedFluidLeftL(brief, candidate, { distanceNm, aircraft: profile }),
    ahead: aheadOf(curtain, flownFt, { distanceNm, points: leg.points }),
    aircraft,
    profile,
  };
}

/** Less is level flight and an altimeter. */
const CLIMBING_FT = 300;

function phaseAt(
  { leg }: BriefMember,
  candidate: Candidate,
  { distanceNm, altitudeFt }: { readonly distanceNm: number; readonly altitudeFt: number },
): Here['phase'] {
  if (altitudeFt > levelAtFt(candidate, distanceNm) - CLIMBING_FT) return 'level';
  return distanceNm < leg.distanceNm / 2 ? 'climb' : 'descent';
}

/** Ice is told of a part from this chance on. */
const POSSIBLE = 0.05;
/** A part's ice begins and ends in the middle of steps. */
const NEAR_NM = 3;

/** The spread of the part that is flown here. */
function forecastAt(
  { exposure }: Candidate,
  {
    distanceNm,
    altitudeFt,
    probability,
  }: { readonly distanceNm: number; readonly altitudeFt: number; readonly probability: number | undefined },
): SeenPlan['forecast'] {
  if (probability === undefined) return { kind: 'unknown' };
  if (probability < POSSIBLE) return { kind: 'no-ice' };
  const here = (exposure?.parts ?? []).flatMap(({ ice, catchGPerM2S }) => {
    if (ice?.alongNm == null || catchGPerM2S === null) return [];
    const [fromNm, toNm] = ice.alongNm;
    if (distanceNm < fromNm - NEAR_NM || distanceNm > toNm + NEAR_NM) return [];
    const offFt = Math.max(ice.lowerFt - altitudeFt, altitudeFt - ice.upperFt, 0);
    return [{ offFt, catchGPerM2S, hasLargeDrops: ice.hasLargeDrops }];
  });
  const nearest = here.sort((a, b) => a.offFt - b.offFt)[0];
  if (nearest?.hasLargeDrops) return { kind: 'large-drops' };
  // Ice is possible in the cell, and yet no draw of the flight met any: there is nothing to hold it against.
  if (nearest === undefined) return { kind: 'unknown' };
  return { kind: 'ice', catchKgPerM2S: catchOf(nearest.catchGPerM2S) };
}

function stretchAt({ leg }: BriefMember, candidate: Candidate, distanceNm: number): WayStretch | undefined {
  const stretches = wayStretches(waysOf(candidate, leg.points));
  return stretches.find(({ toNm }) => distanceNm <= toNm) ?? stretches.at(-1);
}

/** Who sees ice is not out of it by staying where none was forecast. */
function isWay(stretch: WayStretch | undefined): boolean {
  return stretch !== undefined && !['not-needed', 'stay', 'none', 'unknown'].includes(stretch.way);
}

/** On the rest of the path: time in air that may hold ice, and in air that nobody knows. */
function aheadOf(
  curtain: CurtainAnswer,
  flownFt: readonly number[],
  { distanceNm, points }: { readonly distanceNm: number; readonly points: readonly RoutePoint[] },
): SeenPlan['ahead'] {
  let [iceS, unknownS] = [0, 0];
  for (const { look, fromNm, toNm } of pathPieces(curtain, flownFt)) {
    if (toNm <= distanceNm) continue;
    const fromMs = timeAtMs(points, Math.max(fromNm, distanceNm));
    const toMs = timeAtMs(points, toNm);
    if (fromMs === undefined || toMs === undefined) continue;
    if (look.kind === 'ice') iceS += (toMs - fromMs) / 1000;
    if (look.kind === 'unknown') unknownS += (toMs - fromMs) / 1000;
  }
  return { iceS, unknownS };
}

export interface SeenEntry {
  readonly part: 'rod' | 'wing';
  readonly rodDiameterMm: number;
  readonly thicknessMm: number;
  readonly readingMm: number;
  readonly minutes: number;
  /** As the gauge shows it; undefined: the forecast's air. */
  readonly gaugeC: number | undefined;
  /** Read from the gauge; undefined: as planned. */
  readonly fluidLeftL: number | undefined;
  readonly signs: readonly LargeDropSign[];
  readonly isProtectionBehind: boolean;
}

/** Where neither the forecast nor the gauge says how cold it is, and without a place, signs and the tank are judged alone. */
export function judgeHere(brief: BriefMember, here: Here | undefined, entry: SeenEntry): SeenAnswer {
  const temperatureC = temperatureOf(here, entry);
  const air =
    here && temperatureC !== undefined
      ? wingAirOf({ ...here, temperatureC }, brief, here.profile)
      : undefined;
  const wingRadiusM = air?.wingNoseRadiusM ?? 0;
  return judgeSeenIce(
    {
      part: entry.part === 'rod' ? rod(entry.rodDiameterMm / 2000) : leadingEdge(wingRadiusM),
      thicknessM: entry.thicknessMm / 1000,
      readingM: entry.readingMm / 1000,
      durationS: entry.minutes * 60,
      air,
      signs: entry.signs,
      isProtectionBehind: entry.isProtectionBehind,
    },
    planOf(here, entry),
  );
}

function temperatureOf(here: Here | undefined, { gaugeC }: SeenEntry): number | undefined {
  return here && gaugeC !== undefined ? staticOfGauge(here, gaugeC) : here?.temperatureC;
}

const NOTHING_KNOWN: SeenPlan = {
  isCertifiedForIcing: undefined,
  forecast: { kind: 'unknown' },
  fluid: undefined,
  outS: undefined,
  ahead: { iceS: 0, unknownS: 0 },
};

function planOf(here: Here | undefined, { fluidLeftL }: SeenEntry): SeenPlan {
  if (here === undefined) return NOTHING_KNOWN;
  const { protection, certifiedForIcing } = here.aircraft;
  const leftL = fluidLeftL ?? here.fluidLeftL;
  return {
    isCertifiedForIcing: certifiedForIcing,
    forecast: here.forecast,
    fluid:
      protection.kind === 'fluid'
        ? { protection, leftM3: leftL === undefined ? undefined : leftL / 1000 }
        : undefined,
    outS: here.way?.minutes == null ? undefined : here.way.minutes * 60,
    ahead: here.ahead,
  };
}

/** The still air for what the gauge shows at the speed of this altitude, °C. */
export function staticOfGauge({ aircraft, trueAirspeedKt }: Here, gaugeC: number): number {
  const stillK = kFromC(0);
  return gaugeC - (gaugeTemperatureK(stillK, mpsFromKt(trueAirspeedKt), aircraft) - stillK);
}
