/**
 * A brief's request as the query of the page's address, and back, without loss: a link opens the same brief.
 * `curtain` is not part of it: the page always asks for the cells.
 */
import { briefRequestSchema } from '../../worker/schema/request.ts';
import type { BriefOptions, BriefRequest, MinimumAltitude } from './contract.ts';

/** The fields a leg is entered with, as text; also the names of the query's parameters. */
export const LEG_PARAMETERS = [
  'route',
  'departure',
  'aircraft',
  'fluid',
  'minimum',
  'setting',
  'corridor',
  'altitudes',
  'fixed',
] as const;
export type LegParameter = (typeof LEG_PARAMETERS)[number];
export type LegText = Readonly<Partial<Record<LegParameter, string>>>;

export type LegReading =
  | { readonly kind: 'empty' }
  | { readonly kind: 'request'; readonly request: BriefRequest }
  | { readonly kind: 'invalid'; readonly parameter: LegParameter; readonly sentence: string };

/** A minimum that holds for the whole leg reaches as far as the contract lets it. */
const WHOLE_LEG_NM = 5000;

export function legTextFromRequest(request: BriefRequest): LegText {
  const { options } = request;
  const text: Partial<Record<LegParameter, string>> = {
    route: typeof request.route === 'string' ? request.route : JSON.stringify(request.route),
    departure: request.departure.atUtc,
    aircraft: typeof request.aircraft === 'string' ? request.aircraft : JSON.stringify(request.aircraft),
  };
  if (options?.fluidOnBoardL !== undefined) text.fluid = String(options.fluidOnBoardL);
  if (options?.minimumAltitudes !== undefined) text.minimum = minimumText(options.minimumAltitudes);
  if (options?.altimeterSettingHPa !== undefined) text.setting = String(options.altimeterSettingHPa);
  if (options?.corridorHalfWidthNm !== undefined) text.corridor = String(options.corridorHalfWidthNm);
  if (options?.altitudesFt !== undefined) text.altitudes = options.altitudesFt.join(',');
  if (options?.fixedAltitudeFt !== undefined) text.fixed = String(options.fixedAltitudeFt);
  return text;
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
  const draft: Record<string, unknown> = {
    route: jsonOrText(text.route),
    departure: { atUtc: text.departure ?? '' },
    aircraft: jsonOrText(text.aircraft),
  };
  const options = optionsFromText(text);
  if (Object.keys(options).length > 0) draft.options = options;
  const parsed = briefRequestSchema.safeParse(draft);
  if (parsed.success) return { kind: 'request', request: parsed.data };
  const parameter = parameterOfPath(parsed.error.issues[0]?.path.map(String) ?? []);
  return { kind: 'invalid', parameter, sentence: EXPECTED[parameter] };
}

/** The parameter that a field path of the contract (`options.fluidOnBoardL`, `route`) belongs to. */
export function parameterOfPath(path: readonly string[]): LegParameter {
  if (path[0] === 'departure') return 'departure';
  if (path[0] === 'aircraft') return 'aircraft';
  const option = path[0] === 'options' ? path[1] : undefined;
  const found = OPTION_PARAMETERS.find(([name]) => name === option);
  return found?.[1] ?? 'route';
}

const OPTION_PARAMETERS: readonly (readonly [keyof BriefOptions, LegParameter])[] = [
  ['fluidOnBoardL', 'fluid'],
  ['minimumAltitudes', 'minimum'],
  ['altimeterSettingHPa', 'setting'],
  ['corridorHalfWidthNm', 'corridor'],
  ['altitudesFt', 'altitudes'],
  ['fixedAltitudeFt', 'fixed'],
];

const EXPECTED: Readonly<Record<LegParameter, string>> = {
  route: 'The route needs at least a departure and a destination, such as KBTV DCT KBGR',
  departure: 'The departure needs a date and a time in UTC, such as 2026-01-14 and 11:30',
  aircraft: 'Choose an aircraft from the list',
  fluid: 'Fluid on board is a number of litres, 0 to 1,000',
  minimum: 'The minimum altitude is a number of feet, or parts of the leg such as 0-40:5000, 40-120:7000',
  setting: 'The altimeter setting is 850 to 1085 hPa, or 25.10 to 32.04 inHg',
  corridor: 'The corridor’s half-width is a number of nautical miles, more than 0 and at most 50',
  altitudes: 'The altitudes to consider are numbers of feet with commas between',
  fixed: 'The fixed altitude is a number of feet',
};

function jsonOrText(text: string | undefined): unknown {
  const trimmed = (text ?? '').trim();
  if (!trimmed.startsWith('{')) return trimmed;
  try {
    return JSON.parse(trimmed) as unknown;
  } catch {
    return trimmed;
  }
}

function optionsFromText(text: LegText): Record<string, unknown> {
  const options: Record<string, unknown> = {};
  if (text.fluid) options.fluidOnBoardL = numberFromText(text.fluid);
  if (text.minimum) options.minimumAltitudes = minimumFromText(text.minimum);
  if (text.setting) options.altimeterSettingHPa = settingHPaFromText(text.setting);
  if (text.corridor) options.corridorHalfWidthNm = numberFromText(text.corridor);
  if (text.altitudes) options.altitudesFt = text.altitudes.split(',').map(numberFromText);
  if (text.fixed) options.fixedAltitudeFt = numberFromText(text.fixed);
  return options;
}

/** NaN for anything but one plain number, so that the schema refuses it. */
function numberFromText(text: string): number {
  const trimmed = text.trim();
  return trimmed === '' ? Number.NaN : Number(trimmed);
}

const HPA_PER_INHG = 33.8638866;

/** A setting below 40 can only be inches of mercury. */
function settingHPaFromText(text: string): number {
  const value = numberFromText(text);
  return value < 40 ? Math.round(value * HPA_PER_INHG * 10) / 10 : value;
}

function minimumText(minimums: readonly MinimumAltitude[]): string {
  const only = minimums[0];
  if (minimums.length === 1 && only?.fromNm === 0 && only.toNm === WHOLE_LEG_NM)
    return String(only.altitudeFt);
  if (minimums.length === 0) return 'none';
  return minimums.map((part) => `${part.fromNm}-${part.toNm}:${part.altitudeFt}`).join(', ');
}

const MINIMUM_PART = /^([\d.]+(?:e[+-]?\d+)?)\s*-\s*([\d.]+(?:e[+-]?\d+)?)\s*:\s*(-?[\d.]+(?:e[+-]?\d+)?)$/;

function minimumFromText(text: string): unknown {
  if (text.trim() === 'none') return [];
  const whole = numberFromText(text);
  if (Number.isFinite(whole)) return [{ fromNm: 0, toNm: WHOLE_LEG_NM, altitudeFt: whole }];
  return text.split(',').map((part) => {
    const found = MINIMUM_PART.exec(part.trim());
    if (found === null) return part;
    return { fromNm: Number(found[1]), toNm: Number(found[2]), altitudeFt: Number(found[3]) };
  });
}
