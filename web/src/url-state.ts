/**
 * A brief's request as the query of the page's address, and back, without loss: a link opens the same brief.
 * `curtain` is not part of it: the page always asks for the cells.
 */
import { aircraftSchema } from '../../worker/schema/aircraft.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';
import type { BriefRequest } from './contract.ts';
import { isOnDeviceOnly } from './device-aircraft.ts';
import { issueWords } from './issue-words.ts';
import {
  OPTION_PARAMETERS,
  OPTION_TEXTS,
  type OptionParameter,
  optionsFromTexts,
  optionTexts,
  parsedOr,
} from './option-texts.ts';
import { amountText, zoneWord } from './units.ts';

/** The fields a leg is entered with, as text; also the names of the query's parameters. */
export const LEG_PARAMETERS = ['route', 'departure', 'aircraft', ...OPTION_PARAMETERS] as const;
export type LegParameter = 'route' | 'departure' | 'aircraft' | OptionParameter;
export type LegText = Readonly<Partial<Record<LegParameter, string>>>;

export type LegReading =
  | { readonly kind: 'empty' }
  | { readonly kind: 'request'; readonly request: BriefRequest }
  | { readonly kind: 'invalid'; readonly parameter: LegParameter; readonly sentence: string };

export function legTextFromRequest(request: BriefRequest): LegText {
  return {
    route: typeof request.route === 'string' ? request.route : JSON.stringify(request.route),
    departure: request.departure.atUtc,
    aircraft: typeof request.aircraft === 'string' ? request.aircraft : JSON.stringify(request.aircraft),
    ...optionTexts(request.options ?? {}),
  };
}

export function queryFromLegText(text: LegText): string {
  const query = new URLSearchParams();
  for (const name of LEG_PARAMETERS) {
    const value = text[name];
    if (value !== undefined && value !== '') query.set(name, value);
  }
  return query.toString();
}

export function legTextFromQuery(search: string): LegText {
  const query = new URLSearchParams(search);
  const text: Partial<Record<LegParameter, string>> = {};
  for (const name of LEG_PARAMETERS) {
    const value = query.get(name);
    if (value !== null && value !== '') text[name] = value;
  }
  return text;
}

/** Text to request, checked by the contract's own schema; the first thing that does not fit is named. */
export function readLegText(text: LegText): LegReading {
  if (LEG_PARAMETERS.every((name) => (text[name] ?? '') === '')) return { kind: 'empty' };
  if (isOnDeviceOnly(text.aircraft ?? '')) {
    return { kind: 'invalid', parameter: 'aircraft', sentence: ON_ANOTHER_DEVICE };
  }
  const draft: Record<string, unknown> = {
    route: jsonOrText(text.route),
    departure: { atUtc: text.departure ?? '' },
    aircraft: jsonOrText(text.aircraft),
  };
  const options = optionsFromTexts(text);
  if (Object.keys(options).length > 0) draft.options = options;
  const parsed = briefRequestSchema.safeParse(draft);
  if (parsed.success) return { kind: 'request', request: parsed.data };
  const parameter = parameterOfPath(parsed.error.issues[0]?.path.map(String) ?? [], text);
  const sentence = parameter === 'aircraft' ? aircraftSentence(draft.aircraft) : expectedWords(parameter);
  return { kind: 'invalid', parameter, sentence };
}

function expectedWords(parameter: LegParameter): string {
  if (parameter === 'departure')
    return `The departure needs a date and a time, ${zoneWord()}, such as 2026-01-14 and 11:30`;
  if (parameter === 'fluid') return `Fluid on board is a number, 0 to ${amountText('1,000', 'L')}`;
  return EXPECTED[parameter];
}

const ON_ANOTHER_DEVICE =
  'This link names an aircraft whose figures are kept on another device: choose one from the list';

/** Of a profile with figures of its own, the first that does not fit. */
function aircraftSentence(aircraft: unknown): string {
  if (typeof aircraft !== 'object') return EXPECTED.aircraft;
  const issue = aircraftSchema.safeParse(aircraft).error?.issues[0];
  if (issue === undefined) return EXPECTED.aircraft;
  return `The aircraft’s figures do not fit at ${issue.path.join('.')}: ${issueWords(issue)}`;
}

/** The parameter that a field path of the contract (`options.fluidOnBoardL`, `route`) belongs to. */
export function parameterOfPath(path: readonly string[], text: LegText = {}): LegParameter {
  if (path[0] === 'departure') return 'departure';
  if (path[0] === 'aircraft') return 'aircraft';
  const option = path[0] === 'options' ? path[1] : undefined;
  if (option === 'planned')
    return path[2] === 'holdMinutes' || text.planned === undefined ? 'hold' : 'planned';
  return OPTION_PARAMETERS.find((name) => OPTION_TEXTS[name].option === option) ?? 'route';
}

const EXPECTED: Readonly<Record<Exclude<LegParameter, 'departure' | 'fluid'>, string>> = {
  route: 'The route needs at least a departure and a destination, such as KBTV DCT KBGR',
  aircraft: 'Choose an aircraft from the list',
  minimum: 'The minimum altitude is a number of feet, or parts of the leg such as 0-40:5000, 40-120:7000',
  setting: 'The altimeter setting is 850 to 1085 hPa, or 25.10 to 32.04 inHg',
  corridor: 'The corridor’s half-width is a number of nautical miles, 0.1 to 50',
  altitudes: 'The altitudes to consider are numbers of feet with commas between',
  fixed: 'The fixed altitude is a number of feet',
  crossing: 'Crossings are a fix or a distance in NM, a colon and feet, such as KESTU:9000, 40:7000',
  hold: 'The hold is a number of minutes, 0 to 240',
  planned:
    'What is planned is early, vectors, approach, approach-ft or hold-ft, each with a number, such as vectors:10',
  weight: 'The take-off weight is a number of kilograms',
  direction: 'The rule of direction is faa-91-179 or icao-annex-2',
  oxygen: 'The oxygen rule is faa-135-89 or faa-91-211',
  air: 'The cloud’s air is continental or maritime',
  later: 'Later departures are a whole number of hours, 0 to 6',
  alternate: 'The alternate is the identifier of an aerodrome',
  routes: 'Other routes are one a line, at most four, between the same two places',
};

function jsonOrText(text: string | undefined): unknown {
  const trimmed = (text ?? '').trim();
  return trimmed.startsWith('{') ? parsedOr(trimmed) : trimmed;
}
