/** Takes the groups that observations, trends and forecasts share, one after the other. */
import type { Conditions } from './conditions.ts';
import type { Draft } from './draft.ts';
import { readSky } from './sky-group.ts';
import { readVisibility, VISIBILITY_OF_CAVOK } from './visibility-group.ts';
import { readPartedWeather, readWeather } from './weather-group.ts';
import { readWind, withExtremeDirections } from './wind-group.ts';

export type ConditionsDraft = Draft<Conditions>;

export function emptyConditions(): ConditionsDraft {
  return {
    wind: null,
    visibility: null,
    weather: [],
    hasUnreadWeather: false,
    isWeatherEnding: false,
    sky: null,
  };
}

/** True once a group was taken. */
export function hasConditions(draft: ConditionsDraft): boolean {
  const { wind, visibility, weather, isWeatherEnding, sky } = draft;
  return wind !== null || visibility !== null || weather.length > 0 || isWeatherEnding || sky !== null;
}

/**
 * Reads the group at the index into the draft.
 *
 * @returns  how many groups were taken; 0 when the group is none of these, or tells a second time what stands already.
 */
export function takeCondition(draft: ConditionsDraft, groups: readonly string[], index: number): number {
  const group = groups[index]!;
  return (
    takeWind(draft, group) ||
    takeVisibility(draft, groups, index) ||
    takeSky(draft, group) ||
    takeWeather(draft, groups, index)
  );
}

function takeWind(draft: ConditionsDraft, group: string): number {
  const wind = draft.wind === null ? readWind(group) : withExtremeDirections(draft.wind, group);
  if (wind === undefined) return 0;
  draft.wind = wind;
  return 1;
}

function takeVisibility(draft: ConditionsDraft, groups: readonly string[], index: number): number {
  const read = readVisibility(groups, index, draft.visibility);
  if (read === undefined) return 0;
  draft.visibility = read.visibility;
  return read.taken;
}

/** CAVOK stands for the visibility as well. */
function takeSky(draft: ConditionsDraft, group: string): number {
  const sky = readSky(group, draft.sky);
  if (sky === undefined) return 0;
  draft.sky = sky;
  if (group === 'CAVOK') draft.visibility ??= VISIBILITY_OF_CAVOK;
  return 1;
}

function takeWeather(draft: ConditionsDraft, groups: readonly string[], index: number): number {
  const group = groups[index]!;
  if (group === 'NSW') {
    if (draft.isWeatherEnding) return 0;
    draft.isWeatherEnding = true;
    return 1;
  }
  const parted = readPartedWeather(group, groups[index + 1] ?? '');
  const weather = parted ?? readWeather(group);
  if (weather === undefined) return 0;
  draft.weather.push(weather);
  return parted === undefined ? 1 : 2;
}

/** Groups that were sent without the blank between them: `3000BR`, `1200NE+TSRA`, `32009KT9000`, `SCT045FEW100`. */
const JOINED = [
  /^(\d{4}(?:[NS]?[EW]|[NS])?)([+-]?[A-Z]{2,10})$/,
  /^(.{5,15}(?:KT|MPS|KMH))(\d{4})$/,
  /^((?:FEW|SCT|BKN|OVC)\d{3}(?:CB|TCU)?)((?:FEW|SCT|BKN|OVC)\d{3}(?:CB|TCU)?)$/,
] as const;

/** Reads a group that is two joined ones into the draft; 1 when both were read, else 0 and the draft is as before. */
export function takeJoinedConditions(draft: ConditionsDraft, group: string): number {
  for (const pattern of JOINED) {
    const match = pattern.exec(group);
    if (match === null) continue;
    const trial = { ...draft, weather: [...draft.weather] };
    const parts = [match[1]!, match[2]!];
    if (takeCondition(trial, parts, 0) !== 1 || takeCondition(trial, parts, 1) !== 1) continue;
    Object.assign(draft, trial);
    return 1;
  }
  return 0;
}
