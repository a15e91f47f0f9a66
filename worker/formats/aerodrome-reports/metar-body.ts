/** Groups that an observation has and a trend has not, and the marks of what was not observed. */

import type { MetarDraft } from './read-metar.ts';
import type { NotObserved } from './report.ts';
import { readRunwayState, readRunwayVisualRange } from './runway-groups.ts';
import { readAltimeter, readSeaSurface, readTemperatures } from './temperature-pressure-groups.ts';
import { EXPECTED_IN_REPORT, keepUnread } from './unread-groups.ts';
import { VISIBILITY_NOT_OBSERVED } from './visibility-group.ts';
import { readRecentWeather } from './weather-group.ts';
import { WIND_NOT_OBSERVED } from './wind-group.ts';

const COLOR_STATE = /^(?:BLACK)?(?:BLU\+?|WHT|GRN|YLO[12]?|AMB|RED)$|^BLACK$/;
const SHEAR_RUNWAY = /^R(?:WY)?(\d{2}[LCR]?)$/;

/** @returns  how many groups were taken; 0 when the group is none of these, or its place is filled. */
export function takeBodyGroup(draft: MetarDraft, groups: readonly string[], index: number): number {
  const group = groups[index]!;
  return (
    takeTemperatures(draft, group) ||
    takeAltimeter(draft, group) ||
    takeRunway(draft, group) ||
    takeWord(draft, group) ||
    takeRecentWeather(draft, group) ||
    takeWindShear(draft, groups, index) ||
    takeSeaSurface(draft, group) ||
    takeMissing(draft, group)
  );
}

function takeTemperatures(draft: MetarDraft, group: string): number {
  const pair = readTemperatures(group);
  if (pair === undefined || draft.temperatureC !== null || draft.dewPointC !== null) return 0;
  if (pair.temperatureC === null && pair.dewPointC === null) return takeNoTemperatures(draft, group);
  withdrawNoTemperatures(draft);
  draft.temperatureC = pair.temperatureC;
  draft.dewPointC = pair.dewPointC;
  if (pair.temperatureC === null) draft.notObserved.push('temperature');
  if (pair.dewPointC === null) draft.notObserved.push('dew-point');
  return 1;
}

const NO_TEMPERATURES = ['temperature', 'dew-point'] as const;

/** Five slashes; before anything else they stand for a wind without its unit. */
function takeNoTemperatures(draft: MetarDraft, group: string): number {
  if (draft.notObserved.includes('temperature') || (group === '/////' && isNothingTold(draft))) return 0;
  draft.notObserved.push(...NO_TEMPERATURES);
  return 1;
}

/** A pair after the slashes shows that these stood for something else. */
function withdrawNoTemperatures(draft: MetarDraft): void {
  if (!draft.notObserved.includes('temperature')) return;
  draft.notObserved = draft.notObserved.filter((each) => each !== 'temperature' && each !== 'dew-point');
  keepUnread(
    { conditions: draft, unread: draft.unread, element: 'report', expected: EXPECTED_IN_REPORT },
    '/////',
  );
}

/** A Q and an A group may both stand. */
function takeAltimeter(draft: MetarDraft, group: string): number {
  const altimeter = readAltimeter(group);
  if (altimeter === undefined) return 0;
  if (altimeter.value === null) return addNotObserved(draft, 'altimeter');
  const name = altimeter.unit === 'hPa' ? 'altimeterHPa' : 'altimeterInHg';
  if (draft[name] !== null) return 0;
  draft[name] = altimeter.value;
  return 1;
}

function takeRunway(draft: MetarDraft, group: string): number {
  if (group[0] !== 'R') return 0;
  const range = readRunwayVisualRange(group);
  if (range !== undefined) return draft.runwayVisualRanges.push(range) && 1;
  const state = readRunwayState(group);
  return state === undefined ? 0 : draft.runwayStates.push(state) && 1;
}

function takeWord(draft: MetarDraft, group: string): number {
  const flags = { AUTO: 'isAutomatic', NIL: 'isNil', NOSIG: 'isNoChangeExpected' } as const;
  if (group === 'AUTO' || group === 'NIL' || group === 'NOSIG') {
    if (draft[flags[group]]) return 0;
    draft[flags[group]] = true;
    return 1;
  }
  if (group === 'COR' && !draft.isCorrection) {
    draft.isCorrection = true;
    return 1;
  }
  if (!COLOR_STATE.test(group)) return 0;
  draft.colorStates.push(group);
  return 1;
}

function takeRecentWeather(draft: MetarDraft, group: string): number {
  if (group === 'RE//') return addNotObserved(draft, 'recent-weather');
  const weather = readRecentWeather(group);
  if (weather === undefined) return 0;
  draft.recentWeather.push(weather);
  return 1;
}

/** `WS R24L`, `WS RWY06 RWY24`, `WS RWY 06`, `WS ALL RWY`. */
function takeWindShear(draft: MetarDraft, groups: readonly string[], index: number): number {
  if (groups[index] !== 'WS') return 0;
  if (groups[index + 1] === 'ALL' && groups[index + 2] === 'RWY') {
    draft.windShearRunways.push('ALL');
    return 3;
  }
  const spaced = groups[index + 1] === 'RWY' ? SHEAR_RUNWAY.exec(`R${groups[index + 2]}`) : null;
  if (spaced !== null) {
    draft.windShearRunways.push(spaced[1]!);
    return 3;
  }
  let end = index + 1;
  for (; end < groups.length; end += 1) {
    const match = SHEAR_RUNWAY.exec(groups[end]!);
    if (match === null) break;
    draft.windShearRunways.push(match[1]!);
  }
  return end > index + 1 ? end - index : 0;
}

function takeSeaSurface(draft: MetarDraft, group: string): number {
  const sea = readSeaSurface(group);
  if (sea === undefined || draft.seaSurface !== null) return 0;
  draft.seaSurface = sea;
  return 1;
}

/** Slashes by their number, and M as some American machines send it, by its place. */
function takeMissing(draft: MetarDraft, group: string): number {
  if (group === '/////' && isNothingTold(draft)) return takeMissingWind(draft);
  if (group === '////' || group === '////SM') return takeMissingVisibility(draft);
  if (group === '//') return addNotObserved(draft, 'present-weather');
  if (group === '/') return takeMissingVisibility(draft);
  if (group !== 'M') return 0;
  if (draft.sky !== null) return 0;
  if (draft.wind === null && draft.visibility === null) return takeMissingWind(draft);
  return takeMissingVisibility(draft) || addNotObserved(draft, 'present-weather');
}

function isNothingTold({ wind, visibility, weather, sky }: MetarDraft): boolean {
  return wind === null && visibility === null && sky === null && weather.length === 0;
}

function takeMissingWind(draft: MetarDraft): number {
  if (draft.wind !== null) return 0;
  draft.wind = WIND_NOT_OBSERVED;
  return 1;
}

function takeMissingVisibility(draft: MetarDraft): number {
  if (draft.visibility !== null) return 0;
  draft.visibility = VISIBILITY_NOT_OBSERVED;
  return 1;
}

function addNotObserved(draft: MetarDraft, element: NotObserved): number {
  if (draft.notObserved.includes(element)) return 0;
  draft.notObserved.push(element);
  return 1;
}
