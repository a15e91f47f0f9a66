/** Where a change of a forecast begins, where one should begin and does not, and why it cannot be read. */
import { type ChangeWord, looksLikeChange, readChangeWord } from './change-groups.ts';
import type { ClearSky, Weather } from './conditions.ts';
import type { ConditionsDraft } from './read-conditions.ts';
import { readSky } from './sky-group.ts';
import { type Period, readChangePeriod, readFrom, type Validity } from './taf-times.ts';
import { keepUnread, lostReason, type UnreadPlace } from './unread-groups.ts';
import { readWeather } from './weather-group.ts';
import { readWind } from './wind-group.ts';

export type FoundChange =
  | { readonly kind: 'change'; readonly word: ChangeWord; readonly period: Period; readonly taken: number }
  | { readonly kind: 'lost'; readonly groups: string; readonly taken: number; readonly reason: string }
  | { readonly kind: 'none' };

const NONE = { kind: 'none' } as const;

/** @param validity  undefined for a forecast that names none: no change can be placed in it. */
export function findChange(
  groups: readonly string[],
  index: number,
  validity: Validity | undefined,
): FoundChange {
  const word = readChangeWord(groups, index);
  if (word === undefined) {
    return looksLikeChange(groups[index]!)
      ? lost(groups, index, 1, 'a change as FM141800, TEMPO 1414/1418, BECMG 1414/1416 or PROB30 1414/1418')
      : NONE;
  }
  if (validity === undefined) return lost(groups, index, word.taken, 'a validity before any change');
  if (word.fromFigures !== undefined)
    return findFrom(groups, index, { word, figures: word.fromFigures, validity });
  const next = groups[index + word.taken] ?? '';
  const period = readChangePeriod(next, validity);
  if (period === undefined) {
    // `TEMPO FM1800`: the time belongs to the word before it, and begins no change of its own.
    const taken = word.taken + (/^(?:FM|TL|AT)\d/.test(next) ? 1 : 0);
    return lost(groups, index, taken, 'a period behind it, as 1414/1418');
  }
  return { kind: 'change', word, period, taken: word.taken + 1 };
}

function findFrom(
  groups: readonly string[],
  index: number,
  { word, figures, validity }: { word: ChangeWord; figures: string; validity: Validity },
): FoundChange {
  const fromMs = readFrom(figures, validity);
  if (typeof fromMs === 'number') {
    return { kind: 'change', word, period: { fromMs, untilMs: validity.untilMs }, taken: word.taken };
  }
  const ways = `day, hour and minute, as FM141800: ${figures.slice(0, 2)}:${figures.slice(2)}, or day ${figures.slice(0, 2)} at ${figures.slice(2)} UTC`;
  const expected = fromMs === 'ambiguous' ? ways : 'day, hour and minute inside the validity, as FM141800';
  return lost(groups, index, word.taken, expected);
}

function lost(groups: readonly string[], index: number, taken: number, expected: string): FoundChange {
  const text = groups.slice(index, index + taken).join(' ');
  const next = groups[index + taken] ?? '';
  // The figures behind a word are what is wrong with it.
  const found = /^\d/.test(next) ? `${text} ${next}` : text;
  return { kind: 'lost', groups: text, taken, reason: lostReason(found, expected) };
}

/**
 * A group that cannot be of the same time as what stands before it shows that the word of a change is missing: a second
 * wind, no cloud beside cloud, a clear sky beside precipitation.
 */
export function findMissingChange(
  conditions: ConditionsDraft,
  group: string,
): Exclude<FoundChange, { readonly kind: 'change' }> {
  const isSecondWind = conditions.wind !== null && readWind(group) !== undefined;
  if (!isSecondWind && !contradicts(conditions, group)) return NONE;
  const reason = lostReason(group, 'the word of a change before it: it cannot hold with what stands before');
  return { kind: 'lost', groups: group, taken: 1, reason };
}

/**
 * Takes a clear sky back that precipitation or cloud follows without the word of a change: which of the two holds, and
 * when, cannot be told. The word goes to the unread groups; the sky is not given, the weather not fully known.
 */
export function withdrawClear(place: UnreadPlace, group: string): void {
  const { conditions } = place;
  const clear = conditions.sky?.clear ?? null;
  if (clear === null || !contradicts(conditions, group)) return;
  conditions.sky = null;
  if (clear === 'CAVOK') conditions.visibility = null;
  conditions.hasUnreadWeather = true;
  keepUnread({ ...place, expected: `no ${group.slice(0, 20)} of the same time` }, clear);
}

/** Words for a sky from which nothing can fall; NSC and NCD leave cloud above or unseen. */
const CLOUDLESS: ReadonlySet<ClearSky> = new Set(['SKC', 'CLR', 'CAVOK']);
const FALLING: ReadonlySet<Weather['phenomena'][number]> = new Set([
  ...(['DZ', 'RA', 'SN', 'SG', 'PL', 'GR', 'GS', 'UP'] as const),
]);

const isFalling = ({ isInVicinity, phenomena }: Weather) =>
  !isInVicinity && phenomena.some((each) => FALLING.has(each));

function contradicts({ sky, weather }: ConditionsDraft, group: string): boolean {
  const told = readSky(group, null);
  const isCloudy = sky !== null && (sky.layers.length > 0 || sky.isObscured);
  if (told?.clear) return isCloudy || (CLOUDLESS.has(told.clear) && weather.some(isFalling));
  const clear = sky?.clear ?? null;
  if (told !== undefined) return clear !== null;
  const fallen = readWeather(group);
  return fallen !== undefined && isFalling(fallen) && clear !== null && CLOUDLESS.has(clear);
}
