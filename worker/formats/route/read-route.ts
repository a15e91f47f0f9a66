/** Item 15 of the ICAO flight plan, word by word: points, what joins them, and the changes planned at them. */

import { refuseRoute } from './refuse-route.ts';
import { type RoutePoint, readPoint } from './route-points.ts';
import { type RouteWord, refuseWord, routeWords } from './route-words.ts';
import {
  type CruiseClimb,
  isSpeedLevel,
  readCruiseClimb,
  readSpeedLevel,
  type SpeedLevel,
} from './speed-level.ts';

/** Where an item begins in the text as given, and its word in upper case. */
interface Written {
  readonly word: string;
  readonly offset: number;
}

export interface RoutePointItem extends Written {
  readonly kind: 'point';
  readonly point: RoutePoint;
  /** Planned to begin here. */
  readonly change: SpeedLevel | undefined;
  readonly cruiseClimb: CruiseClimb | undefined;
  /** Flight rules from here on. */
  readonly rulesAfter: 'VFR' | 'IFR' | undefined;
}

export type RouteItem =
  | RoutePointItem
  | (Written & { readonly kind: 'direct' })
  | (Written & { readonly kind: 'airway' | 'procedure'; readonly designator: string });

export interface Route {
  /** Of the first stretch; undefined when the text begins with a point. */
  readonly initial: SpeedLevel | undefined;
  readonly items: readonly RouteItem[];
  /** The text ends with T: what follows is not given. */
  readonly isTruncated: boolean;
}

/** What is known of words that have the form of a designator. */
export interface RouteLookup {
  /**
   * undefined when not known: then an airway between two places and a long procedure are refused, a short word is an
   * identifier, and so is one in the form of an airway at either end.
   */
  readonly kindOf: (word: string) => 'place' | 'airway' | 'procedure' | undefined;
}

const LONGEST_TEXT = 2000;
const MOST_POINTS = 100;

/** Letters of ATS route designators, with the prefix of upper routes; ICAO Annex 11 appendix 1. */
const AIRWAY = /^(?:[ABGHJLMNPQRTVWYZ]\d{1,3}[FG]?|U[ABGHJLMNPQRTVWYZ]\d(?:\d\d)?[FG]?)$/;
/** Basic indicator, validity indicator, route indicator without I and O; ICAO Annex 11 appendix 3. */
const PROCEDURE = /^[A-Z]{2,5}[1-9][A-HJ-NP-Z]?$/;
/** Levels and speeds that stand alone, of which no identifier has the form. */
const HALF_GROUP = /^(?:FL?\d{3}|[NKSM]\d{4})$/;
const NOT_A_PLACE: ReadonlySet<string> = new Set(['VFR', 'IFR', 'GAT', 'OAT', 'DCT', 'T']);
/** Identifiers of places are no longer. */
const LONGEST_IDENTIFIER = 5;

interface Reading {
  initial: SpeedLevel | undefined;
  readonly items: RouteItem[];
  pointCount: number;
  truncation: RouteWord | undefined;
  /** Number of the last word that may be a place. */
  readonly lastPlace: number;
  readonly lookup: RouteLookup | undefined;
}

/**
 * Reads a whole route. Aerodromes of departure and destination are part of the text, as its first and last point.
 *
 * @param text    At most 2,000 characters and 100 points, parted by blanks, `..`, `-` or `>`.
 * @param lookup  Says of a word in the form of a designator what it is; without it nothing is guessed.
 * @returns       Items in the order written, with their offsets.
 * @throws        InvalidRequestError, field route, naming the word, its number and what was expected there.
 * @source        ICAO Doc 4444 appendix 2, item 15 (c), (1) to (6).
 */
export function readRoute(text: string, lookup?: RouteLookup): Route {
  if (text.length > LONGEST_TEXT) refuseRoute(`${text.length} characters`, `at most ${LONGEST_TEXT}`);
  const words = routeWords(text);
  const lastPlace = words.findLast((word) => !NOT_A_PLACE.has(word.text) && !isSpeedLevel(word.text));
  const reading: Reading = {
    initial: undefined,
    items: [],
    pointCount: 0,
    truncation: undefined,
    lastPlace: lastPlace?.number ?? 0,
    lookup,
  };
  for (const word of words) readWord(reading, word);
  const last = reading.items.at(-1);
  if (last !== undefined && last.kind !== 'point')
    refuseRoute(`the end of the route after ${last.word}`, 'a place');
  if (reading.pointCount < 2)
    refuseRoute(reading.pointCount === 0 ? 'no place' : 'one place', 'at least two places');
  return {
    initial: reading.initial,
    items: reading.items,
    isTruncated: reading.truncation !== undefined,
  };
}

/** Words in the form of an airway, each once, in order: what they are only a lookup can say. */
export function airwayLikeWords(text: string): string[] {
  const names = routeWords(text).map(nameOf);
  return [...new Set(names)].filter((name) => AIRWAY.test(name));
}

/** V3/N0150F110: the first part decides what a word is. */
const nameOf = ({ text }: RouteWord): string => text.split('/', 1)[0]!;

function readWord(reading: Reading, word: RouteWord): void {
  const { text } = word;
  if (reading.truncation !== undefined) refuseWord(word, 'nothing after T, which ends a truncated route');
  const kind = designatorKind(reading, word);
  if (text === 'DCT') joinWith(reading, word, { kind: 'direct', ...written(word) });
  else if (text === 'T') truncate(reading, word);
  else if (text === 'VFR' || text === 'IFR') changeRules(reading, word, text);
  else if (isSpeedLevel(text)) changeHere(reading, word);
  else if (kind !== undefined) joinWith(reading, word, { kind, designator: text, ...written(word) });
  else addPoint(reading, word);
}

function addPoint(reading: Reading, word: RouteWord): void {
  if (word.text === 'GAT' || word.text === 'OAT') {
    refuseWord(word, 'VFR or IFR: other changes of flight rules are not supported');
  }
  const name = nameOf(word);
  if (NOT_A_PLACE.has(name)) {
    refuseWord(
      word,
      'a place with its change of speed and level, and the flight rules after it, as LEB/N0150F080 IFR',
    );
  }
  if (HALF_GROUP.test(name) && reading.lookup?.kindOf(name) !== 'place') {
    refuseWord(word, 'speed and level together, as N0110F090');
  }
  reading.items.push(readPointItem(word));
  reading.pointCount += 1;
  if (reading.pointCount > MOST_POINTS) refuseWord(word, `at most ${MOST_POINTS} places`);
}

function written(word: RouteWord): Written {
  return { word: word.text, offset: word.offset };
}

/** What joins two points must follow one; that another follows is seen at the next word or the end. */
function joinWith(reading: Reading, word: RouteWord, item: RouteItem): void {
  if (reading.items.at(-1)?.kind !== 'point') refuseWord(word, `${word.text} between two places`);
  reading.items.push(item);
}

function truncate(reading: Reading, word: RouteWord): void {
  if (reading.items.at(-1)?.kind !== 'point') refuseWord(word, 'T after a place');
  reading.truncation = word;
}

function changeRules(reading: Reading, word: RouteWord, rulesAfter: 'VFR' | 'IFR'): void {
  const before = reading.items.at(-1);
  if (before?.kind !== 'point') refuseWord(word, 'a change of flight rules after a place');
  if (before.rulesAfter !== undefined) refuseWord(word, 'one change of flight rules at a place');
  reading.items[reading.items.length - 1] = { ...before, rulesAfter };
}

/** A group on its own belongs to the point before it; before the first point it is the first stretch's. */
function changeHere(reading: Reading, word: RouteWord): void {
  const change = readSpeedLevel(word.text, word);
  const index = reading.items.findLastIndex((item) => item.kind === 'point');
  const before = reading.items[index];
  if (before?.kind !== 'point') {
    if (reading.initial !== undefined) refuseWord(word, 'a place after the first speed and level group');
    reading.initial = change;
    return;
  }
  if (before.change !== undefined || before.cruiseClimb !== undefined)
    refuseWord(word, 'one speed and level group a place');
  reading.items[index] = { ...before, change };
}

function designatorKind(reading: Reading, word: RouteWord): 'airway' | 'procedure' | undefined {
  const { text } = word;
  const name = nameOf(word);
  const isAirway = AIRWAY.test(name);
  if (!isAirway && !PROCEDURE.test(name)) return undefined;
  const known = reading.lookup?.kindOf(name);
  if (known === 'place') return undefined;
  if (known !== undefined) {
    if (name !== text) refuseWord(word, 'a change of speed or level at a place, not on a designator');
    return known;
  }
  const isAtEnd = reading.items.length === 0 || word.number === reading.lastPlace;
  if (isAirway && isAtEnd) return undefined;
  if (isAirway) {
    refuseWord(word, 'fixes: airway designators are not supported, give the places along it');
  }
  if (name.length > LONGEST_IDENTIFIER) {
    refuseWord(
      word,
      'an identifier of 2-5 letters and digits: departure and arrival designators are not supported, give the places along it',
    );
  }
  return undefined;
}

function readPointItem(word: RouteWord): RoutePointItem {
  const parts = word.text.split('/');
  const item = { kind: 'point', ...written(word), rulesAfter: undefined } as const;
  if (parts[0] === 'C' && parts.length > 1) {
    const cruiseClimb = parts.length === 3 ? readCruiseClimb(parts[2]!, word) : undefined;
    if (cruiseClimb === undefined) {
      refuseWord(word, 'a cruise climb as C/48N050W/M082F290F350 or C/48N050W/M082F290PLUS');
    }
    return { ...item, point: readPoint(parts[1]!, word), change: undefined, cruiseClimb };
  }
  const change = parts.length === 2 ? readSpeedLevel(parts[1]!, word) : undefined;
  if (parts.length > 1 && change === undefined) {
    refuseWord(word, 'a place with one speed and level group, as KBTV/N0160A110');
  }
  return { ...item, point: readPoint(parts[0]!, word), change, cruiseClimb: undefined };
}
