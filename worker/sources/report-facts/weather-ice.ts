/** Freezing precipitation, ice pellets and freezing fog among the weather groups of an aerodrome. */
import type { HazardLevel } from '../../flight/hazard-levels.ts';
import type { HazardSeverity } from '../../flight/hazards.ts';
import { isFreezing, type Weather } from '../../formats/aerodrome-reports/conditions.ts';
import type { UnreadText } from '../../formats/pilot-reports/report.ts';
import { mFromFt } from '../../science/units.ts';
import { OPEN } from './make-report.ts';

export interface WeatherIce {
  readonly severity: HazardSeverity;
  /** "freezing rain". */
  readonly words: string;
  readonly lower: HazardLevel;
  readonly upper: HazardLevel;
}

/** Rain that freezes, and pellets, come from a warm layer: there are large drops or melting ice up to its top. */
const TO_WARM_TOP: HazardLevel = { kind: 'freezing-level' };
/** Freezing fog is ice near the ground, ft above it (a judgement). */
const FOG_DEPTH_M = mFromFt(1000);

/**
 * What a list of groups holds of it, each kind once. Precipitation of an unknown kind that freezes counts as rain.
 *
 * @param elevationM  of the aerodrome, m; NaN where it is not known, then fog has no upper end.
 */
export function iceOfWeather(weather: readonly Weather[], elevationM: number): WeatherIce[] {
  const freezing = weather.filter(isFreezing).flatMap(({ phenomena }) => phenomena);
  const has = (...names: readonly string[]) => freezing.some((each) => names.includes(each));
  const found: WeatherIce[] = [];
  const add = (severity: HazardSeverity, words: string, upper: HazardLevel) =>
    found.push({ severity, words, lower: OPEN, upper });
  if (has('RA')) add('large-drops', 'freezing rain', TO_WARM_TOP);
  if (has('UP')) add('large-drops', 'freezing precipitation', TO_WARM_TOP);
  if (has('DZ')) add('large-drops', 'freezing drizzle', { kind: 'cloud-top' });
  if (weather.some(({ phenomena }) => phenomena.includes('PL')))
    add('large-drops', 'ice pellets', TO_WARM_TOP);
  if (has('FG', 'BR')) add('unstated', 'freezing fog', fogTop(elevationM));
  return found;
}

function fogTop(elevationM: number): HazardLevel {
  if (!Number.isFinite(elevationM)) return OPEN;
  return { kind: 'altitude', altitudeM: elevationM + FOG_DEPTH_M, marginM: 0 };
}

/** Liquid, or of an unknown kind, and not said to freeze: in air below freezing it may all the same. */
export function hasLiquid(weather: readonly Weather[]): boolean {
  return weather.some(
    (each) => !isFreezing(each) && each.phenomena.some((name) => ['RA', 'DZ', 'UP'].includes(name)),
  );
}

/** Letters of freezing precipitation or pellets in groups that no rule reads. */
export function mayHoldIce(unread: readonly UnreadText[]): boolean {
  return unread.some(({ text }) =>
    /FZ(?!LVL)|(?<![A-Z])(?:SH|SN|RA|DZ|[-+])*PL(?:RA|DZ|SN)?(?![A-Z])/.test(text),
  );
}
