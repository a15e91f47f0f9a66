/** Each option of a brief as one short text, and back: what the form shows and the address carries. */
import type { BriefOptions, MinimumAltitude } from './contract.ts';
import { HPA_PER_INHG } from './numbers.ts';

/** What is carried for an option: its own text, or undefined where the request does not name it. */
interface OptionText {
  readonly option: keyof BriefOptions;
  readonly toText: (options: BriefOptions) => string | undefined;
  /** What cannot be read is passed on for the contract to refuse. */
  readonly fromText: (text: string) => unknown;
}

const plain = (option: keyof BriefOptions, fromText: OptionText['fromText']): OptionText => ({
  option,
  toText: (options) => (options[option] === undefined ? undefined : String(options[option])),
  fromText,
});

/** The whole list of options that the address carries; `planned` is made of two. */
export const OPTION_TEXTS = {
  fluid: plain('fluidOnBoardL', numberFromText),
  minimum: {
    option: 'minimumAltitudes',
    toText: ({ minimumAltitudes }) => minimumAltitudes && minimumText(minimumAltitudes),
    fromText: minimumFromText,
  },
  setting: plain('altimeterSettingHPa', settingHPaFromText),
  corridor: plain('corridorHalfWidthNm', numberFromText),
  altitudes: {
    option: 'altitudesFt',
    toText: ({ altitudesFt }) => altitudesFt?.join(','),
    fromText: (text) => text.split(',').map(numberFromText),
  },
  fixed: plain('fixedAltitudeFt', numberFromText),
  crossing: {
    option: 'minimumCrossings',
    toText: ({ minimumCrossings }) => minimumCrossings && crossingText(minimumCrossings),
    fromText: crossingFromText,
  },
  hold: {
    option: 'planned',
    toText: ({ planned }) => (planned?.holdMinutes === undefined ? undefined : String(planned.holdMinutes)),
    fromText: (text) => ({ holdMinutes: numberFromText(text) }),
  },
  planned: {
    option: 'planned',
    toText: ({ planned }) => planned && plannedText(planned),
    fromText: plannedFromText,
  },
  weight: plain('takeoffWeightKg', numberFromText),
  direction: plain('directionRule', (text) => text.trim()),
  oxygen: plain('oxygenRule', (text) => text.trim()),
  air: plain('airMass', (text) => text.trim()),
  later: plain('laterDepartures', numberFromText),
  alternate: plain('alternate', (text) => text.trim()),
  routes: {
    option: 'otherRoutes',
    toText: ({ otherRoutes }) => otherRoutes && routesText(otherRoutes),
    fromText: routesFromText,
  },
} as const satisfies Record<string, OptionText>;

export type OptionParameter = keyof typeof OPTION_TEXTS;

export const OPTION_PARAMETERS = Object.keys(OPTION_TEXTS) as OptionParameter[];

export function optionTexts(options: BriefOptions): Partial<Record<OptionParameter, string>> {
  const texts: Partial<Record<OptionParameter, string>> = {};
  for (const parameter of OPTION_PARAMETERS) {
    const text = OPTION_TEXTS[parameter].toText(options);
    if (text !== undefined) texts[parameter] = text;
  }
  return texts;
}

export function optionsFromTexts(texts: Partial<Record<OptionParameter, string>>): Record<string, unknown> {
  const options: Record<string, unknown> = {};
  for (const parameter of OPTION_PARAMETERS) {
    const text = texts[parameter];
    if (text === undefined || text === '') continue;
    const { option, fromText } = OPTION_TEXTS[parameter];
    options[option] = joined(options[option], fromText(text));
  }
  return options;
}

/** Two parameters of one option add up. */
function joined(before: unknown, value: unknown): unknown {
  return isMembers(before) && isMembers(value) ? { ...before, ...value } : value;
}

const isMembers = (value: unknown): value is object =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** NaN for anything but one plain number, so that the schema refuses it. "45,5" is read as many write it; "1,000" is not one plain number. */
export function numberFromText(text: string): number {
  const trimmed = text.trim();
  return trimmed === '' ? Number.NaN : Number(trimmed.replace(/^(-?\d+),(\d{1,2})$/, '$1.$2'));
}

/** A setting below 40 can only be inches of mercury. */
function settingHPaFromText(text: string): number {
  const value = numberFromText(text);
  return value < 40 ? Math.round(value * HPA_PER_INHG * 10) / 10 : value;
}

/** A minimum that holds for the whole leg reaches as far as the contract lets it. */
const WHOLE_LEG_NM = 5000;

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

type Crossings = NonNullable<BriefOptions['minimumCrossings']>;

/** A fix that could be read as a distance, or that holds what stands between, goes as it is in JSON. */
const PLAIN_FIX = /^[A-Z][A-Z0-9]*$/i;

/** "KESTU:9000, 40:7000": a fix or a distance, and the altitude there. */
function crossingText(crossings: Crossings): string {
  if (crossings.length === 0) return 'none';
  const isPlain = crossings.every(({ fix }) => fix === undefined || PLAIN_FIX.test(fix));
  if (!isPlain) return JSON.stringify(crossings);
  return crossings.map(({ atNm, fix, altitudeFt }) => `${fix ?? atNm}:${altitudeFt}`).join(', ');
}

function crossingFromText(text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === 'none') return [];
  if (trimmed.startsWith('[')) return parsedOr(trimmed);
  return trimmed.split(',').map((part) => {
    const [place = '', feet = '', ...rest] = part.split(':').map((piece) => piece.trim());
    if (rest.length > 0) return part;
    const altitudeFt = numberFromText(feet);
    return PLAIN_FIX.test(place) ? { fix: place, altitudeFt } : { atNm: numberFromText(place), altitudeFt };
  });
}

export function parsedOr(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return text;
  }
}

type OtherRoutes = NonNullable<BriefOptions['otherRoutes']>;

/** One route text a line; anything else (lines on a map, minima of its own) goes as it is in JSON. */
function routesText(routes: OtherRoutes): string {
  if (routes.length === 0) return 'none';
  const isPlain = routes.every((route) => typeof route === 'string' && isOneLine(route));
  return isPlain ? routes.join('\n') : JSON.stringify(routes);
}

const isOneLine = (route: string) =>
  route === route.trim() && route !== 'none' && !/[\n\r]/.test(route) && !/^[[{]/.test(route) && route !== '';

function routesFromText(text: string): unknown {
  const trimmed = text.trim();
  if (trimmed === 'none') return [];
  if (trimmed.startsWith('[')) return parsedOr(trimmed);
  return trimmed
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
}

type Planned = NonNullable<BriefOptions['planned']>;

/** Words of the address for what is planned beside the hold. */
const PLANNED_WORDS = {
  early: 'earlyDescentMinutes',
  vectors: 'vectorsMinutes',
  approach: 'approachMinutes',
  'approach-ft': 'approachAltitudeFt',
  'hold-ft': 'holdAltitudeFt',
} as const satisfies Record<string, keyof Planned>;

/** undefined where the hold says all there is. */
function plannedText(planned: Planned): string | undefined {
  const parts = Object.entries(PLANNED_WORDS).flatMap(([word, member]) =>
    planned[member] === undefined ? [] : [`${word}:${planned[member]}`],
  );
  if (parts.length > 0) return parts.join(', ');
  return planned.holdMinutes === undefined ? 'default' : undefined;
}

function plannedFromText(text: string): unknown {
  if (text.trim() === 'default') return {};
  const planned: Record<string, unknown> = {};
  for (const part of text.split(',')) {
    const [word = '', amount = ''] = part.split(':').map((piece) => piece.trim());
    const member = (PLANNED_WORDS as Record<string, string>)[word] ?? word;
    planned[member] = numberFromText(amount);
  }
  return planned;
}
