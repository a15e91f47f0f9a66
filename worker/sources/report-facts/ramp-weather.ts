/** An observation as the ground folder asks for it: what falls on a ramp, in the columns of holdover tables. */
import type {
  Conditions,
  Phenomenon,
  Sky,
  Visibility,
  Weather,
} from '../../formats/aerodrome-reports/conditions.ts';
import type { MetarReport, NotObserved, TafReport } from '../../formats/aerodrome-reports/report.ts';
import type { RampTemperature } from '../../ground/holdover.ts';
import { heavierSnowIntensity, type Light } from '../../ground/snow-intensity.ts';
import type { RampWeather } from '../../ground/treatment.ts';
import type { RampCondition } from '../../schema/ground-words.ts';

/** A temperature in whole degrees is rounded. */
const ROUNDED_K = 0.5;
/** Rain in air as cold as this freezes on what it falls on, whatever the report calls it, °C. */
const FREEZES_C = 0;

/** What its own words cannot tell apart. */
interface Doubts {
  /** No person looked: freezing drizzle may be rain. */
  readonly isAutomatic: boolean;
  readonly temperature: RampTemperature | undefined;
  readonly visibility: Visibility | null;
  readonly light: Light;
}

/**
 * @param light  At the aerodrome: snow is judged by how far one sees in it.
 * @checked tests/sources/report-facts/ramp-weather.test.ts
 */
export function rampWeatherOf(report: MetarReport, light: Light): RampWeather {
  const temperature = temperatureOf(report);
  const { isAutomatic, visibility, weather } = report;
  const doubts = { isAutomatic, temperature, visibility, light };
  const isToldWhole = !report.isNil && !report.notObserved.some((each) => HIDES_PRECIPITATION.has(each));
  return {
    temperature,
    dewPointC: report.remarks?.dewPointC ?? report.dewPointC ?? undefined,
    windKt: report.wind?.speedKt ?? undefined,
    isSkyClear: isClear(report.sky),
    falling: isToldWhole && !report.hasUnreadWeather ? fallingOf(weather, doubts) : undefined,
    isRaining: isToldWhole ? weather.some((each) => isRain(each) && !each.isInVicinity) : undefined,
  };
}

/**
 * Everything that a forecast lets fall within a period, with any chance; undefined where parts of it cannot be read or it does not
 * cover the period.
 */
export function fallingInForecast(
  taf: TafReport,
  {
    fromMs,
    untilMs,
    ...doubts
  }: Omit<Doubts, 'visibility' | 'isAutomatic'> & { fromMs: number; untilMs: number },
): RampCondition[] | undefined {
  const { validFromMs, validUntilMs, base, changes } = taf;
  if (taf.isNil || taf.isCancellation || taf.unread.length > 0 || base.hasUnreadWeather) return undefined;
  if (validFromMs === null || validUntilMs === null || fromMs < validFromMs || untilMs > validUntilMs)
    return undefined;
  const bearing = changes.filter((change) => change.fromMs <= untilMs && change.untilMs >= fromMs);
  if (bearing.some((change) => change.unread.length > 0 || change.hasUnreadWeather)) return undefined;
  const groups: readonly Conditions[] = [base, ...bearing];
  const found = groups.flatMap(({ weather, visibility }) =>
    fallingOf(weather, { ...doubts, visibility: visibility ?? base.visibility, isAutomatic: false }),
  );
  return [...new Set(found)];
}

/** Without these nobody can tell that nothing falls, or what. */
const HIDES_PRECIPITATION: ReadonlySet<NotObserved> = new Set(['present-weather', 'precipitation-type']);

function temperatureOf({ remarks, temperatureC }: MetarReport): RampTemperature | undefined {
  const tenths = remarks?.temperatureC ?? null;
  if (tenths !== null) return { warmestC: tenths, coldestC: tenths };
  if (temperatureC === null) return undefined;
  return { warmestC: temperatureC + ROUNDED_K, coldestC: temperatureC - ROUNDED_K };
}

function isClear(sky: Sky | null): boolean | undefined {
  if (sky === null) return undefined;
  if (sky.isObscured) return false;
  if (sky.clear !== null) return true;
  const amounts = sky.layers.map(({ amount }) => amount);
  if (amounts.some((amount) => amount === 'BKN' || amount === 'OVC')) return false;
  return amounts.length > 0 && amounts.every((amount) => amount !== null) ? true : undefined;
}

function fallingOf(weather: readonly Weather[], doubts: Doubts): RampCondition[] {
  const here = weather.filter(({ isInVicinity }) => !isInVicinity);
  return [...new Set(here.flatMap((group) => conditionsOf(group, doubts)))];
}

const SINGLE: Partial<Record<Phenomenon, RampCondition>> = {
  SG: 'snow-grains',
  PL: 'ice-pellets',
  GR: 'hail',
  GS: 'snow-pellets',
  IC: 'ice-crystals',
  UP: 'unknown-precipitation',
};

/** Of one group: its liquid, its snow, and each other thing that it names. */
function conditionsOf(group: Weather, doubts: Doubts): RampCondition[] {
  const { phenomena } = group;
  const others = phenomena.flatMap((phenomenon) => SINGLE[phenomenon] ?? []);
  const hasSnow = phenomena.includes('SN');
  if (hasSnow && phenomena.some((each) => each === 'RA' || each === 'DZ'))
    return ['rain-and-snow', ...others];
  return [
    ...(hasSnow ? [snowOf(group, doubts)] : []),
    ...(isFog(group) && freezesHere(group, doubts) ? (['freezing-fog'] as const) : []),
    ...(isRain(group) && freezesHere(group, doubts) ? [freezingRainOf(group, doubts)] : []),
    ...others,
  ];
}

const isRain = ({ phenomena }: Weather) => phenomena.includes('RA') || phenomena.includes('DZ');
const isFog = ({ phenomena }: Weather) => phenomena.includes('FG');

/** FZ says so; without it the temperature does, where it is not known to be above freezing. */
function freezesHere({ descriptors }: Weather, { temperature }: Doubts): boolean {
  return descriptors.includes('FZ') || temperature === undefined || temperature.coldestC <= FREEZES_C;
}

/** @source "Use light freezing rain times if freezing drizzle cannot be positively identified": tables of 2003-04. */
function freezingRainOf({ phenomena, intensity }: Weather, { isAutomatic }: Doubts): RampCondition {
  if (phenomena.includes('RA')) return intensity === 'light' ? 'light-freezing-rain' : 'freezing-rain';
  return isAutomatic || intensity === 'heavy' ? 'light-freezing-rain' : 'freezing-drizzle';
}

/** By visibility, and heavy where the report says so. */
function snowOf(
  { intensity, descriptors }: Weather,
  { visibility, temperature, light }: Doubts,
): RampCondition {
  if (descriptors.includes('BL') || descriptors.includes('DR')) return 'blowing-snow';
  if (intensity === 'heavy') return 'heavy-snow';
  const visibilityM = visibility?.minimumM ?? visibility?.visibilityM ?? null;
  if (visibilityM === null || temperature === undefined) return 'unknown-precipitation';
  if (visibility?.bound === 'below') return 'heavy-snow';
  return heavierSnowIntensity({ visibilityM, temperatureC: temperature.warmestC, light });
}
