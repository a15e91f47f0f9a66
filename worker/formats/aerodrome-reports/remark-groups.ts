/** Remarks of one group: additive data, sensor words and times of weather. Each fills an empty place or is not taken. */
import type { Amount, RemarkContext, RemarksDraft } from './remarks.ts';
import type { NotObserved } from './report.ts';
import { takeWeatherEvents } from './weather-events.ts';

const MM_PER_IN = 25.4;
const MM_PER_HUNDREDTH_IN = MM_PER_IN / 100;
const M_PER_IN = MM_PER_IN / 1000;

/** Members that hold one number or nothing. */
type NumberName = {
  [Name in keyof RemarksDraft]: RemarksDraft[Name] extends number | null ? Name : never;
}[keyof RemarksDraft];

type Taker = (draft: RemarksDraft, match: RegExpExecArray, context: RemarkContext) => boolean;

/** Words without figures; a sensor word adds what is not observed. */
const SENSOR_WORDS: ReadonlyMap<string, NotObserved> = new Map([
  ['FZRANO', 'freezing-rain'],
  ['PNO', 'precipitation-amount'],
  ['PWINO', 'present-weather'],
  ['TSNO', 'thunderstorm'],
  ['RVRNO', 'runway-visual-range'],
  ['SLPNO', 'sea-level-pressure'],
  ['SLP///', 'sea-level-pressure'],
]);

/** @returns  1 when the group was taken, 0 when it is none of these or its place is filled. */
export function takeRemarkGroup(draft: RemarksDraft, group: string, context: RemarkContext): 0 | 1 {
  const sensor = SENSOR_WORDS.get(group);
  if (sensor !== undefined) return takeNotObserved(draft, sensor);
  const takers = TAKERS[group[0] ?? ''] ?? [];
  for (const [pattern, take] of takers) {
    const match = pattern.exec(group);
    if (match !== null) return take(draft, match, context) ? 1 : 0;
  }
  return takeWeatherEvents(draft, group, context.reportMs);
}

/** Adds an element once; a second word for it is not taken, so that it stays visible. */
export function takeNotObserved(draft: RemarksDraft, element: NotObserved): 0 | 1 {
  if (draft.notObserved.includes(element)) return 0;
  draft.notObserved.push(element);
  return 1;
}

/** By first character, so that a group meets few patterns. */
const TAKERS: Readonly<Record<string, readonly (readonly [RegExp, Taker])[]>> = {
  A: [
    [/^A[O0]([12]A?)$/, takeStationType],
    [/^A(\d{4})$/, (draft, match) => fill(draft, 'altimeterInHg', Number(match[1]) / 100)],
  ],
  T: [[/^T([01]\d{3})([01]\d{3}|\/{4})?$/, takeTenths]],
  S: [[/^SLP(\d{3})$/, takeSeaLevelPressure]],
  I: [
    [/^I([136])(\d{3}|\/{3})$/, takeIceAccretion],
    [/^ICG(?:IC|IP|ICIP)?$/, (draft) => flag(draft, 'isIceDetected')],
  ],
  F: [[/^FROIN$/, (draft) => flag(draft, 'isFrostOnIndicator')]],
  P: [
    [/^P(\d{4}|\/{4})$/, (draft, match) => fillAmount(draft, 'precipitation1h', match[1]!)],
    [/^PRES([RF])R$/, takePressureChange],
  ],
  1: [[/^1([01]\d{3})$/, (draft, match) => fill(draft, 'maximumTemperature6hC', tenths(match[1]!))]],
  2: [[/^2([01]\d{3})$/, (draft, match) => fill(draft, 'minimumTemperature6hC', tenths(match[1]!))]],
  4: [
    [/^4\/(\d{3})$/, (draft, match) => fill(draft, 'snowDepthM', Number(match[1]) * M_PER_IN)],
    [/^4([01]\d{3})([01]\d{3})$/, takeDayExtremes],
  ],
  5: [[/^5([0-8])(\d{3})$/, takePressureTendency]],
  6: [[/^6(\d{4}|\/{4})$/, takePeriodPrecipitation]],
  7: [[/^7(\d{4}|\/{4})$/, (draft, match) => fillAmount(draft, 'precipitation24h', match[1]!)]],
  9: [
    [/^931(\d{3})$/, (draft, match) => fill(draft, 'snowfall6hM', (Number(match[1]) * M_PER_IN) / 10)],
    [
      /^933(\d{3})$/,
      (draft, match) => fill(draft, 'snowWaterEquivalentMm', (Number(match[1]) * MM_PER_IN) / 10),
    ],
  ],
  $: [[/^\$$/, (draft) => flag(draft, 'isMaintenanceNeeded')]],
};

function takeStationType(draft: RemarksDraft, match: RegExpExecArray): boolean {
  if (draft.stationType !== null) return false;
  draft.stationType = `AO${match[1] as '1' | '1A' | '2' | '2A'}`;
  return true;
}

function takeTenths(draft: RemarksDraft, match: RegExpExecArray): boolean {
  if (!fill(draft, 'temperatureC', tenths(match[1]!))) return false;
  if (match[2] !== undefined && !match[2].startsWith('/')) draft.dewPointC = tenths(match[2]);
  return true;
}

/** The two reductions to sea level differ by some 25 hPa on a high plateau in the cold; beyond, one of them is wrong. */
const MOST_APART_HPA = 30;

/** SLPppp leaves out the hundreds: of 9pp.p and 10pp.p that nearer to the altimeter setting, else by the middle. */
function takeSeaLevelPressure(draft: RemarksDraft, match: RegExpExecArray, context: RemarkContext): boolean {
  const overHundreds = Number(match[1]) / 10;
  const { altimeterHPa } = context;
  if (altimeterHPa === null) {
    return fill(draft, 'seaLevelPressureHPa', overHundreds + (overHundreds < 50 ? 1000 : 900));
  }
  const fits = [900, 1000]
    .map((hundreds) => hundreds + overHundreds)
    .filter((each) => Math.abs(each - altimeterHPa) <= MOST_APART_HPA);
  return fits.length === 1 && fill(draft, 'seaLevelPressureHPa', fits[0]!);
}

function takeIceAccretion(draft: RemarksDraft, match: RegExpExecArray): boolean {
  const hours = Number(match[1]) as 1 | 3 | 6;
  if (draft.iceAccretion.some((each) => each.hours === hours)) return false;
  draft.iceAccretion.push({ hours, ...amountOf(match[2]!) });
  return true;
}

function takePressureChange(draft: RemarksDraft, match: RegExpExecArray): boolean {
  if (draft.pressureChange !== null) return false;
  draft.pressureChange = match[1] === 'R' ? 'rising-rapidly' : 'falling-rapidly';
  return true;
}

function takeDayExtremes(draft: RemarksDraft, match: RegExpExecArray): boolean {
  if (draft.minimumTemperature24hC !== null) return false;
  draft.minimumTemperature24hC = tenths(match[2]!);
  return fill(draft, 'maximumTemperature24hC', tenths(match[1]!));
}

function takePressureTendency(draft: RemarksDraft, match: RegExpExecArray): boolean {
  if (draft.pressureTendency !== null) return false;
  draft.pressureTendency = { code: Number(match[1]), changeHPa: Number(match[2]) / 10 };
  return true;
}

/** The 6 group speaks of six hours at 00, 06, 12 and 18, of three at 03, 09, 15 and 21 UTC. */
function takePeriodPrecipitation(
  draft: RemarksDraft,
  match: RegExpExecArray,
  context: RemarkContext,
): boolean {
  if (draft.precipitationPeriod !== null) return false;
  const hour = new Date(context.reportMs + HOURLY_EARLY_MS).getUTCHours();
  const hours = hour % 6 === 0 ? 6 : hour % 6 === 3 ? 3 : null;
  draft.precipitationPeriod = { ...amountOf(match[1]!), hours };
  return true;
}

/** Hourly reports are made some minutes before their hour. */
const HOURLY_EARLY_MS = 15 * 60_000;

function fill(draft: RemarksDraft, name: NumberName, value: number): boolean {
  if (draft[name] !== null) return false;
  draft[name] = value;
  return true;
}

function fillAmount(
  draft: RemarksDraft,
  name: 'precipitation1h' | 'precipitation24h',
  figures: string,
): boolean {
  if (draft[name] !== null) return false;
  draft[name] = amountOf(figures);
  return true;
}

function flag(
  draft: RemarksDraft,
  name: 'isIceDetected' | 'isFrostOnIndicator' | 'isMaintenanceNeeded',
): boolean {
  if (draft[name]) return false;
  draft[name] = true;
  return true;
}

/** Hundredths of an inch; all noughts are a trace, slashes an amount that could not be determined. */
function amountOf(figures: string): Amount {
  if (figures.startsWith('/')) return { mm: null, isTrace: false };
  const hundredths = Number(figures);
  return { mm: hundredths * MM_PER_HUNDREDTH_IN, isTrace: hundredths === 0 };
}

/** snTTT: tenths of a degree, the first figure 1 below zero. */
function tenths(figures: string): number {
  const value = Number(figures.slice(1)) / 10;
  return figures[0] === '1' ? -value : value;
}
