/** What a curtain over the place of a pilot's report says of what he reports: ice in his band, how much of the air, cloud top. Pure. */
import { ICE_UNLIKELY } from '../flight/estimates.ts';
import { type LevelAir, LIKELY_CLOUD, levelSpanM, likelyCloudTopM } from '../flight/hazard-levels.ts';
import { CELL_STATE } from '../science/columns.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import type { ObservedBand } from '../sources/report-facts/pilot-observation.ts';
import type { ForecastTop } from '../sources/scores.ts';

/**
 * Probability from which ice counts as forecast: above it the brief takes air for too icy to get out to. Of a model's own
 * supercooled cloud 0.15 finds 79 % in 21 % of the air, and 0.4 finds 17 % (README, skill on a forecast's own cloud).
 */
export const ICE_FORECAST_FROM = ICE_UNLIKELY;
/** A forecast within this of the reported band counts. @source common practice of verification, from memory */
const MATCH_M = mFromFt(1000);
/** The air whose flagged share is told: from the ground up to this. */
const VOLUME_TOP_M = mFromFt(20_000);
/** From here up altitudes are flight levels. */
const FLIGHT_LEVELS_FROM_M = mFromFt(18_000);

export interface ForecastAtReport {
  /** Greatest of the known cells in the band, 0-1; undefined where none is known. */
  readonly probability: number | undefined;
  /** undefined: not known. That there is none needs every cell of the band to be known. */
  readonly isIce: boolean | undefined;
  readonly flaggedShare: number | undefined;
  readonly top: ForecastTop;
}

/**
 * @param band  undefined where nothing is asked of it.
 * @checked     tests/brief/score-report.test.ts
 */
export function forecastAtReport(air: LevelAir, band: ObservedBand | undefined): ForecastAtReport {
  return { ...iceInBand(air, band), flaggedShare: flaggedShare(air), top: forecastTop(air) };
}

function iceInBand(
  air: LevelAir,
  band: ObservedBand | undefined,
): Pick<ForecastAtReport, 'probability' | 'isIce'> {
  if (band === undefined) return { probability: undefined, isIce: undefined };
  const { cellCount, lowestM, cellDepthM } = air.icing.axis;
  let probability: number | undefined;
  let isWhole = true;
  for (let point = 0; point < air.icing.columnCount; point += 1) {
    const leastM = edgeM(band.lowerFt, air, point).leastM;
    const mostM = edgeM(band.upperFt, air, point).mostM;
    if (mostM > lowestM + cellCount * cellDepthM) isWhole = false;
    for (let cell = 0; cell < cellCount; cell += 1) {
      const lowerM = lowestM + cell * cellDepthM;
      if (lowerM + cellDepthM <= leastM || lowerM >= mostM) continue;
      const index = point * cellCount + cell;
      if (isUnderground(air, index)) continue;
      const chance = chanceOfIce(air, index);
      if (chance === undefined) isWhole = false;
      else probability = Math.max(probability ?? 0, chance);
    }
  }
  if (probability === undefined) return { probability, isIce: undefined };
  const isIce = probability >= ICE_FORECAST_FROM;
  return { probability, isIce: isIce || isWhole ? isIce : undefined };
}

/** Wide enough for every reading of the altitude, and for the match. */
function edgeM(altitudeFt: number, air: LevelAir, point: number) {
  return levelSpanM({ kind: 'altitude', altitudeM: mFromFt(altitudeFt), marginM: MATCH_M }, air, point);
}

/** There is no air under the ground, nor under the sea where a column begins above it. */
function isUnderground({ icing, weather }: LevelAir, index: number): boolean {
  const { cellCount, lowestM, cellDepthM } = icing.axis;
  const upperM = lowestM + ((index % cellCount) + 1) * cellDepthM;
  const isGround = icing.state[index] === CELL_STATE.belowGround;
  return isGround || (upperM <= 0 && weather.state[index] !== CELL_STATE.known);
}

/** Of ice in cloud or of large drops; undefined where the cell is not known. */
function chanceOfIce({ icing }: LevelAir, index: number): number | undefined {
  if (icing.state[index] !== CELL_STATE.known) return undefined;
  const chance = Math.max(icing.icingProbability[index]!, icing.largeDropProbability[index]!);
  return Number.isFinite(chance) ? chance : undefined;
}

function flaggedShare(air: LevelAir): number | undefined {
  const { cellCount, lowestM, cellDepthM } = air.icing.axis;
  let known = 0;
  let flagged = 0;
  for (let index = 0; index < air.icing.state.length; index += 1) {
    if (lowestM + ((index % cellCount) + 0.5) * cellDepthM > VOLUME_TOP_M) continue;
    const chance = chanceOfIce(air, index);
    if (chance === undefined) continue;
    known += 1;
    if (chance >= ICE_FORECAST_FROM) flagged += 1;
  }
  return known === 0 ? undefined : flagged / known;
}

/** Over several points the highest of them; unknown where one is, since it may be the highest. */
function forecastTop(air: LevelAir): ForecastTop {
  const tops = Array.from({ length: air.icing.columnCount }, (_, point) => topOver(air, point));
  if (tops.some(({ kind }) => kind === 'unknown')) return { kind: 'unknown' };
  const altitudesFt = tops.flatMap((top) => (top.kind === 'top' ? [top.altitudeFt] : []));
  if (altitudesFt.length === 0) return { kind: 'no-cloud' };
  return { kind: 'top', altitudeFt: Math.max(...altitudesFt) };
}

function topOver(air: LevelAir, point: number): ForecastTop {
  const topM = likelyCloudTopM(air.icing, point);
  if (topM !== undefined)
    return { kind: 'top', altitudeFt: Math.round(ftFromM(asReadM(air, point, topM)) / 100) * 100 };
  return isKnownClear(air, point) ? { kind: 'no-cloud' } : { kind: 'unknown' };
}

/** No cloud is forecast only where every cell between the ground and 20,000 ft is known. */
function isKnownClear(air: LevelAir, point: number): boolean {
  const { cellCount, lowestM, cellDepthM } = air.icing.axis;
  for (let cell = 0; cell < cellCount; cell += 1) {
    const index = point * cellCount + cell;
    if (isUnderground(air, index)) continue;
    const isKnown = air.icing.state[index] === CELL_STATE.known;
    if (isKnown && !(air.icing.cloudProbability[index]! < LIKELY_CLOUD)) return false;
    if (!isKnown && lowestM + cell * cellDepthM < VOLUME_TOP_M) return false;
  }
  return true;
}

/** A cell's edge as an altimeter on the local setting shows it: its height in the air; from 18,000 ft on the flight level. */
function asReadM({ weather }: LevelAir, point: number, edgeAltitudeM: number): number {
  if (edgeAltitudeM >= FLIGHT_LEVELS_FROM_M) return edgeAltitudeM;
  const { cellCount, lowestM, cellDepthM } = weather.axis;
  const above = point * cellCount + Math.round((edgeAltitudeM - lowestM) / cellDepthM);
  const heightM = (weather.geopotentialHeightM[above - 1]! + weather.geopotentialHeightM[above]!) / 2;
  return Number.isFinite(heightM) ? heightM : edgeAltitudeM;
}
