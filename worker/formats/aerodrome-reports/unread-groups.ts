/** Groups that were not understood, with the reason: kept where they stood, told apart when they may be precipitation. */
import type { UnreadText } from '../pilot-reports/report.ts';
import { mayBePrecipitation } from '../precipitation-words.ts';
import type { ConditionsDraft } from './read-conditions.ts';

/** What a group is read into, and where it is kept when it cannot be. */
export interface UnreadPlace {
  readonly conditions: ConditionsDraft;
  readonly unread: UnreadText[];
  /** `report` for the body or base, else the word of the change. */
  readonly element: string;
  /** What may stand there. */
  readonly expected: string;
}

export const EXPECTED_IN_REPORT =
  'wind, visibility, weather, sky, temperatures or altimeter setting, each once';
export const EXPECTED_IN_CHANGE = 'wind, visibility, weather or sky, each once';

/** Keeps a group; after one that may be precipitation the weather of its place is not fully known. */
export function keepUnread(place: UnreadPlace, group: string): void {
  const isWeather = mayBePrecipitation(group);
  if (isWeather) place.conditions.hasUnreadWeather = true;
  const expected = isWeather ? 'a group of weather, as -FZRA, FZDZ or SN' : place.expected;
  const reason = `${place.element}: found ${JSON.stringify(group.slice(0, 40))}, expected ${expected}`;
  place.unread.push({ element: place.element, text: group, reason });
}

/** Groups from a change that cannot be read up to the next that can: when they hold is not known. */
export class LostChange {
  private readonly unread: UnreadText[];
  /** Of the open stretch in the list. */
  private index: number | undefined;

  constructor(unread: UnreadText[]) {
    this.unread = unread;
  }

  get isOpen(): boolean {
    return this.index !== undefined;
  }

  /** Opens a stretch with these groups, or adds them to the open one, which keeps its reason. */
  take(groups: string, reason: string): void {
    const before = this.index === undefined ? undefined : this.unread[this.index];
    const text = before === undefined ? groups : `${before.text} ${groups}`;
    this.index ??= this.unread.length;
    this.unread[this.index] = { element: 'change', text, reason: before?.reason ?? reason };
  }

  end(): void {
    this.index = undefined;
  }
}

/** Why a stretch is lost. */
export function lostReason(found: string, expected: string): string {
  return `change: found ${JSON.stringify(found.slice(0, 40))}, expected ${expected}; what follows is kept apart`;
}
