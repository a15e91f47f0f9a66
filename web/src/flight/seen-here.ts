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
import { waysOf } from '../considered.ts';
import type { BriefMember, Candidate, CurtainAnswer, RoutePoint } from '../contract.ts';
import { cellAt, nearestPointIndex } from '../curtain.ts';
import { timeAtMs } from '../leg-time.ts';
import { plannedFluidLeftL } from '../strips/fluid-left.ts';
import { altitudeOverFt, pathPieces } from '../table/path-pieces.ts';
import { growthMps, wingAirOf } from './cue-rows.ts';

/** The place on the path that the cursor is at. */
export interface Here {
  readonly distanceNm: number;
  readonly altitudeFt: number;
  /** Static, of the forecast; undefined where the air is unknown. */
  readonly temperatureC: number | undefined;
  readonly pressureHPa: number;
  readonly trueAirspeedKt: number;
  readonly forecast: SeenPlan['forecast'];
  /** The way on from here; undefined where none is known, or none was looked for since no ice was forecast. */
  readonly way: WayStretch | undefined;
  /** As planned, L; undefined where nobody knows. */
  readonly fluidLeftL: number | undefined;
  readonly aheadS: number | undefined;
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
  return {
    distanceNm,
    altitudeFt,
    temperatureC: cell.value('temperature'),
    pressureHPa: hPaFromPa(pressurePaFromPressureAltitudeM(pressureAltitudeM)),
    trueAirspeedKt: ktFromMps(tableValue(aircraft.trueAirspeedMps, pressureAltitudeM)),
    forecast: forecastAt(candidate, { distanceNm, altitudeFt, probability: cell.value('icingProbability') }),
    way: wayAt(brief, candidate, distanceNm),
    fluidLeftL: plannedFluidLeftL(brief, candidate, { distanceNm, aircraft: profile }),
    aheadS: iceAheadS(curtain, flownFt, { distanceNm, points: leg.points }),
    aircraft,
    profile,
  };
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
  const here = (exposure?.parts ?? []).flatMap(({ ice, growthMmPerMin }) => {
    if (ice?.alongNm == null || growthMmPerMin === null) return [];
    const [fromNm, toNm] = ice.alongNm;
    if (distanceNm < fromNm - NEAR_NM || distanceNm > toNm + NEAR_NM) return [];
    const offFt = Math.max(ice.lowerFt - altitudeFt, altitudeFt - ice.upperFt, 0);
    return [{ offFt, growthMmPerMin }];
  });
  const nearest = here.sort((a, b) => a.offFt - b.offFt)[0];
  // Ice is possible in the cell, and yet no draw of the flight met any: there is nothing to hold it against.
  if (nearest === undefined) return { kind: 'unknown' };
  return { kind: 'ice', wingGrowthMps: growthMps(nearest.growthMmPerMin) };
}

function wayAt({ leg }: BriefMember, candidate: Candidate, distanceNm: number): WayStretch | undefined {
  const stretches = wayStretches(waysOf(candidate, leg.points));
  const found = stretches.find(({ toNm }) => distanceNm <= toNm) ?? stretches.at(-1);
  const isWay = found !== undefined && !['not-needed', 'none', 'unknown'].includes(found.way);
  return isWay ? found : undefined;
}

/** Time in air that may hold ice on the rest of the path; undefined where some of it is unknown. */
function iceAheadS(
  curtain: CurtainAnswer,
  flownFt: readonly number[],
  { distanceNm, points }: { readonly distanceNm: number; readonly points: readonly RoutePoint[] },
): number | undefined {
  const ahead = pathPieces(curtain, flownFt).filter(({ toNm }) => toNm > distanceNm);
  if (ahead.some(({ look }) => look.kind === 'unknown')) return undefined;
  return ahead.reduce((sumS, { look, fromNm, toNm }) => {
    if (look.kind !== 'ice') return sumS;
    const fromMs = timeAtMs(points, Math.max(fromNm, distanceNm));
    const toMs = timeAtMs(points, toNm);
    return fromMs === undefined || toMs === undefined ? sumS : sumS + (toMs - fromMs) / 1000;
  }, 0);
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

/** undefined where neither the forecast nor the gauge says how cold it is. */
export function judgeHere(brief: BriefMember, here: Here, entry: SeenEntry): SeenAnswer | undefined {
  const temperatureC = entry.gaugeC === undefined ? here.temperatureC : staticOfGauge(here, entry.gaugeC);
  if (temperatureC === undefined) return undefined;
  const air = wingAirOf({ ...here, temperatureC }, brief, here.profile);
  const { protection, certifiedForIcing } = here.aircraft;
  const leftL = entry.fluidLeftL ?? here.fluidLeftL;
  return judgeSeenIce(
    {
      part: entry.part === 'rod' ? rod(entry.rodDiameterMm / 2000) : leadingEdge(air.wingNoseRadiusM),
      thicknessM: entry.thicknessMm / 1000,
      readingM: entry.readingMm / 1000,
      durationS: entry.minutes * 60,
      air,
      signs: entry.signs,
      isProtectionBehind: entry.isProtectionBehind,
    },
    {
      isCertifiedForIcing: certifiedForIcing,
      forecast: here.forecast,
      fluid:
        protection.kind === 'fluid'
          ? { protection, leftM3: leftL === undefined ? undefined : leftL / 1000 }
          : undefined,
      outS: here.way?.minutes == null ? undefined : here.way.minutes * 60,
      aheadS: here.aheadS,
    },
  );
}

/** The still air for what the gauge shows at the speed of this altitude, °C. */
export function staticOfGauge({ aircraft, trueAirspeedKt }: Here, gaugeC: number): number {
  const stillK = kFromC(0);
  return gaugeC - (gaugeTemperatureK(stillK, mpsFromKt(trueAirspeedKt), aircraft) - stillK);
}
