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
import type { Finding, RampWeather } from '../../ground/treatment.ts';
import type { RampCondition } from '../../schema/ground-words.ts';

/** A temperature in whole degrees is rounded. */
const ROUNDED_K = 0.5;
/** Fog and mist in air as cold as this rime, whatever the report calls them, °C. */
const FREEZES_C = 0;
/** A skin may be so much colder than the air: rain in air no warmer than this may freeze on it, °C (judgement). */
const MAY_FREEZE_C = 2;
/** Cloud with a base no higher than this may drizzle, ft (judgement). */
const LOW_CLOUD_FT = 3000;
/** Cloud higher than this does not keep a wing from cooling under the sky, ft (judgement). */
const COVERING_CLOUD_FT = 10_000;

/** What its own words cannot tell apart. */
interface Doubts {
  /** No person looked: freezing drizzle may be rain. */
  readonly isAutomatic: boolean;
  readonly temperature: RampTemperature | undefined;
  readonly visibilityM: number | null;
  readonly light: Light;
}

/**
 * @param light  At the aerodrome: snow is judged by how far one sees in it.
 * @checked tests/sources/report-facts/ramp-weather.test.ts
 */
export function rampWeatherOf(report: MetarReport, light: Light): RampWeather {
  const temperature = temperatureOf(report);
  const { isAutomatic, weather } = report;
  const doubts = { isAutomatic, temperature, visibilityM: lowestVisibilityM(report), light };
  const isToldWhole = isWhole(report, temperature);
  return {
    temperature,
    dewPointC: report.remarks?.dewPointC ?? report.dewPointC ?? undefined,
    windKt: report.wind?.speedKt ?? undefined,
    isSkyClear: isClear(report.sky),
    falling: isToldWhole ? seenBy(report, fallingOf(weather, doubts), temperature) : undefined,
    isRaining: isToldWhole ? weather.some((each) => isRain(each) && !each.isInVicinity) : undefined,
    also: alsoIn(report, temperature),
  };
}

/** A machine under low cloud does not see freezing drizzle, pellets or grains: that it tells of nothing is no word. */
function seenBy(
  { isAutomatic, sky }: MetarReport,
  falling: RampCondition[],
  temperature: RampTemperature | undefined,
): RampCondition[] | undefined {
  return falling.length === 0 && isAutomatic && mayBeCold(temperature) && isLowSky(sky) ? undefined : falling;
}

const isLowSky = (sky: Sky | null) => sky === null || sky.isObscured || sky.layers.some(isLowCover);

/** Nothing that falls here may be missing from its groups. */
function isWhole(report: MetarReport, temperature: RampTemperature | undefined): boolean {
  const { isNil, notObserved, hasUnreadWeather, isAutomatic, visibility, sky, remarks } = report;
  if (isNil || hasUnreadWeather || notObserved.some((each) => HIDES_PRECIPITATION.has(each))) return false;
  // Nobody looked: nothing is told by leaving a group out.
  if (visibility === null && sky?.clear !== 'CAVOK') return false;
  if (!mayBeCold(temperature)) return true;
  if (notObserved.some((each) => HIDES_FREEZING.has(each))) return false;
  // A machine that tells rain from snow says so in its remarks.
  return !isAutomatic || remarks !== null;
}

const mayBeCold = (temperature: RampTemperature | undefined) =>
  temperature === undefined || temperature.coldestC <= MAY_FREEZE_C;

/** Near, recent, expected, or not to be seen by a machine: each speaks against a dry ramp. */
function alsoIn(report: MetarReport, temperature: RampTemperature | undefined): Finding[] {
  if (!mayBeCold(temperature)) return [];
  const { weather, recentWeather, remarks, trends, isAutomatic, sky } = report;
  const wet = (groups: readonly Weather[]) => groups.filter(isWet).map(({ text }) => text);
  const may = (what: string, groups: readonly string[]): Finding[] =>
    groups.length === 0
      ? []
      : [{ need: 'may-be-needed', reason: `${what}: ${[...new Set(groups)].join(' ')}` }];
  const events = [
    ...(remarks?.weatherEvents ?? []).map((each) => each.weather),
    ...(remarks?.weatherMentioned ?? []),
  ];
  const isIceSensed = (remarks?.iceAccretion.length ?? 0) > 0 || remarks?.isIceDetected === true;
  const unseen: Finding = {
    need: 'may-be-needed',
    reason: 'A machine under low cloud does not see freezing drizzle, ice pellets or snow grains',
  };
  return [
    ...may(
      'In the vicinity',
      weather.filter(({ isInVicinity }) => isInVicinity).map(({ text }) => text),
    ),
    ...may('Recent', [...wet(recentWeather), ...wet(events)]),
    ...may(
      'Expected by the trend',
      trends.flatMap((trend) => wet(trend.weather)),
    ),
    ...(trends.some(({ unread, hasUnreadWeather }) => hasUnreadWeather || unread.length > 0)
      ? may('Not understood', ['part of the trend'])
      : []),
    ...(isIceSensed ? may('Ice', ['on the sensor of the station']) : []),
    ...(isAutomatic && isLowSky(sky) ? [unseen] : []),
  ];
}

const isWet = ({ phenomena }: Weather) => phenomena.some((each) => WET.has(each));
const WET: ReadonlySet<Phenomenon> = new Set(['DZ', 'RA', 'SN', 'SG', 'IC', 'PL', 'GR', 'GS', 'UP']);
const isLowCover = ({ amount, baseAglFt }: Sky['layers'][number]) =>
  (amount === 'BKN' || amount === 'OVC') && baseAglFt !== null && baseAglFt <= LOW_CLOUD_FT;

/** The lowest of all that it tells. */
function lowestVisibilityM({ visibility, runwayVisualRanges }: MetarReport): number | null {
  const lowest = lowestOf(visibility);
  const ranges = runwayVisualRanges.flatMap(({ visualRangeM }) =>
    visualRangeM === null ? [] : [visualRangeM],
  );
  const all = [...(lowest === null ? [] : [lowest]), ...ranges];
  return all.length === 0 ? null : Math.min(...all);
}

function lowestOf(visibility: Visibility | null): number | null {
  if (visibility === null) return null;
  if (visibility.bound === 'below') return 0;
  const { visibilityM, minimumM, directions } = visibility;
  const all = [visibilityM, minimumM, ...directions.map((each) => each.visibilityM)].filter(
    (each) => each !== null,
  );
  return all.length === 0 ? null : Math.min(...all);
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
  }: Omit<Doubts, 'visibilityM' | 'isAutomatic'> & { fromMs: number; untilMs: number },
): RampCondition[] | undefined {
  const { validFromMs, validUntilMs, base, changes } = taf;
  if (taf.isNil || taf.isCancellation || taf.unread.length > 0 || base.hasUnreadWeather) return undefined;
  if (validFromMs === null || validUntilMs === null || fromMs < validFromMs || untilMs > validUntilMs)
    return undefined;
  const bearing = changes.filter((change) => change.fromMs <= untilMs && change.untilMs >= fromMs);
  if (bearing.some((change) => change.unread.length > 0 || change.hasUnreadWeather)) return undefined;
  const groups: readonly Conditions[] = [base, ...bearing];
  // Whether rain freezes hangs on a temperature that a forecast does not give.
  const hasRain = groups.some(({ weather }) =>
    weather.some((each) => isRain(each) && !each.descriptors.includes('FZ')),
  );
  if (hasRain && doubts.temperature === undefined) return undefined;
  const temperature = doubts.temperature ?? WORST_WITHOUT_RAIN;
  const found = groups.flatMap(({ weather, visibility }) =>
    fallingOf(weather, {
      ...doubts,
      temperature,
      visibilityM: lowestOf(visibility ?? base.visibility),
      isAutomatic: false,
    }),
  );
  return [...new Set(found)];
}

/** Fog rimes in it, and snow is at its heaviest for a visibility: warm snow is the heavier by the charts. */
const WORST_WITHOUT_RAIN: RampTemperature = { warmestC: FREEZES_C, coldestC: FREEZES_C };

/** Without these nobody can tell that nothing falls, or what. */
const HIDES_PRECIPITATION: ReadonlySet<NotObserved> = new Set([
  'present-weather',
  'precipitation-type',
  'visibility',
]);
/** Without these, in the cold, nobody can tell that nothing freezes. */
const HIDES_FREEZING: ReadonlySet<NotObserved> = new Set(['freezing-rain', 'icing']);

/** Body and remarks may disagree: then it may be either. */
function temperatureOf({ remarks, temperatureC }: MetarReport): RampTemperature | undefined {
  const tenths = remarks?.temperatureC ?? null;
  const body = temperatureC === null ? [] : [temperatureC - ROUNDED_K, temperatureC + ROUNDED_K];
  if (tenths === null && body.length === 0) return undefined;
  const isOne = tenths !== null && body.every((edge) => Math.abs(edge - tenths) <= 2 * ROUNDED_K + EQUAL_K);
  if (tenths !== null && isOne) return { warmestC: tenths, coldestC: tenths };
  const all = tenths === null ? body : [tenths, ...body];
  return { warmestC: Math.max(...all), coldestC: Math.min(...all) };
}
const EQUAL_K = 1e-9;

function isClear(sky: Sky | null): boolean | undefined {
  if (sky === null) return undefined;
  if (sky.isObscured) return false;
  if (sky.clear !== null) return true;
  const amounts = sky.layers.map(({ amount }) => amount);
  const covers = ({ amount, baseAglFt }: Sky['layers'][number]) =>
    (amount === 'BKN' || amount === 'OVC') && baseAglFt !== null && baseAglFt <= COVERING_CLOUD_FT;
  if (sky.layers.some(covers)) return false;
  return amounts.length > 0 && amounts.every((amount) => amount !== null) ? true : undefined;
}

function fallingOf(weather: readonly Weather[], doubts: Doubts): RampCondition[] {
  const here = weather.filter(({ isInVicinity }) => !isInVicinity);
  return [...new Set(here.flatMap((group) => conditionsOf(group, doubts)))];
}

const SINGLE: Partial<Record<Phenomenon, RampCondition>> = {
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
    ...(phenomena.includes('SG') ? (['snow-grains', snowOf(group, doubts)] as const) : []),
    ...(isFog(group) && rimesHere(group, doubts) ? (['freezing-fog'] as const) : []),
    ...(isRain(group) ? rainOf(group, doubts) : []),
    ...others,
  ];
}

const isRain = ({ phenomena }: Weather) => phenomena.includes('RA') || phenomena.includes('DZ');
const isFog = ({ phenomena }: Weather) => phenomena.includes('FG') || phenomena.includes('BR');

/** FZ says so; without it the temperature does, where it is not known to be above freezing. */
function rimesHere({ descriptors }: Weather, { temperature }: Doubts): boolean {
  return descriptors.includes('FZ') || temperature === undefined || temperature.coldestC <= FREEZES_C;
}

/** Rain that no report calls freezing has no time where it may freeze all the same. */
function rainOf(group: Weather, doubts: Doubts): RampCondition[] {
  if (group.descriptors.includes('FZ')) return [freezingRainOf(group, doubts)];
  return mayBeCold(doubts.temperature) ? ['rain-near-freezing'] : [];
}

/** @source "Use light freezing rain times if freezing drizzle cannot be positively identified": tables of 2003-04. */
function freezingRainOf({ phenomena, intensity }: Weather, { isAutomatic }: Doubts): RampCondition {
  if (phenomena.includes('RA')) return intensity === 'light' ? 'light-freezing-rain' : 'freezing-rain';
  return isAutomatic || intensity === 'heavy' ? 'light-freezing-rain' : 'freezing-drizzle';
}

const LIGHTEST_BY_SIGN = { light: 'light-snow', moderate: 'moderate-snow', heavy: 'heavy-snow' } as const;
const BY_WEIGHT: readonly RampCondition[] = ['very-light-snow', 'light-snow', 'moderate-snow', 'heavy-snow'];

/** By visibility, and never lighter than the report says. */
function snowOf(
  { intensity, descriptors }: Weather,
  { visibilityM, temperature, light }: Doubts,
): RampCondition {
  if (descriptors.includes('BL') || descriptors.includes('DR')) return 'blowing-snow';
  const bySign = LIGHTEST_BY_SIGN[intensity];
  if (bySign === 'heavy-snow') return bySign;
  if (visibilityM === null || temperature === undefined) return 'unknown-precipitation';
  const byView = heavierSnowIntensity({ visibilityM, temperatureC: temperature.warmestC, light });
  return BY_WEIGHT.indexOf(byView) > BY_WEIGHT.indexOf(bySign) ? byView : bySign;
}
