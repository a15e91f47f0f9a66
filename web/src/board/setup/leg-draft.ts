/** A leg of the schedule as the texts of its form, and back without loss. */
import {
  type Minima,
  type minimaSchema,
  type ScheduleLeg,
  scheduleLegSchema,
  WEEKDAYS,
  type Weekday,
} from '../../../../worker/schema/board.ts';
import { numberFromText, OPTION_TEXTS } from '../../option-texts.ts';

/** Fields that are typed; weekdays are switched, the aircraft is chosen. */
export const TEXT_FIELDS = [
  'label',
  'tail',
  'route',
  'departureLocal',
  'timeZone',
  'fromDate',
  'untilDate',
  'plannedMinutes',
  'alternate',
  'destinationCeilingFt',
  'destinationVisibilityM',
  'alternateCeilingFt',
  'alternateVisibilityM',
  'minimumAltitudes',
] as const;
export type TextField = (typeof TEXT_FIELDS)[number];
export type DraftField = TextField | 'weekdays' | 'aircraft';

export type LegDraft = Readonly<Record<TextField, string>> & {
  readonly weekdays: readonly Weekday[];
  /** Identifier of a profile; undefined keeps the figures that the leg itself carries. */
  readonly aircraft: string | undefined;
};

export interface DraftFault {
  readonly field: DraftField;
  readonly found: string;
  readonly expected: string;
}

export type DraftReading =
  | { readonly kind: 'leg'; readonly leg: ScheduleLeg }
  | { readonly kind: 'faults'; readonly faults: readonly DraftFault[] };

/** What each field takes, said where it holds something else. */
export const EXPECTED: Readonly<Record<DraftField, string>> = {
  label: '1 to 20 characters',
  tail: 'at most 12 characters',
  route: '3 to 500 characters of route',
  weekdays: 'one day at least',
  departureLocal: '00:00 to 23:59',
  timeZone: 'an IANA time zone such as America/New_York',
  fromDate: 'a date such as 2026-01-14',
  untilDate: 'a date such as 2026-01-14, not before the first',
  aircraft: 'an aircraft of the list',
  plannedMinutes: '1 to 1440 minutes',
  alternate: 'an identifier of at most 10 characters',
  destinationCeilingFt: '0 to 5000 ft',
  destinationVisibilityM: '0 to 16000 m, also beside a ceiling',
  alternateCeilingFt: '0 to 5000 ft',
  alternateVisibilityM: '0 to 16000 m, also beside a ceiling',
  minimumAltitudes: 'one altitude in feet, or stretches such as 0-45:6500, 45-130:6200',
};

export const EMPTY_DRAFT: LegDraft = {
  ...(Object.fromEntries(TEXT_FIELDS.map((name) => [name, ''])) as Record<TextField, string>),
  weekdays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  aircraft: '',
};

export function draftOf(leg: ScheduleLeg): LegDraft {
  const text = (value: string | number | null | undefined) => String(value ?? '');
  return {
    label: leg.label,
    tail: text(leg.tail),
    route: leg.route,
    weekdays: WEEKDAYS.filter((day) => leg.weekdays.includes(day)),
    departureLocal: leg.departureLocal,
    timeZone: text(leg.timeZone),
    fromDate: text(leg.fromDate),
    untilDate: text(leg.untilDate),
    aircraft: typeof leg.aircraft === 'string' ? leg.aircraft : undefined,
    plannedMinutes: text(leg.plannedMinutes),
    alternate: text(leg.alternate),
    destinationCeilingFt: text(leg.destinationMinima?.ceilingFt),
    destinationVisibilityM: text(leg.destinationMinima?.visibilityM),
    alternateCeilingFt: text(leg.alternateMinima?.ceilingFt),
    alternateVisibilityM: text(leg.alternateMinima?.visibilityM),
    minimumAltitudes: OPTION_TEXTS.minimum.toText(leg.options ?? {}) ?? '',
  };
}

/** @param original  The leg that is changed: what nobody touched, and what the form does not show, stays as it has it. */
export function legOfDraft(draft: LegDraft, original?: ScheduleLeg): DraftReading {
  const candidate = { ...candidateOf(draft), ...untouched(draft, original) };
  const parsed = scheduleLegSchema.safeParse(candidate);
  const fields = new Set(parsed.success ? [] : parsed.error.issues.map(({ path }) => fieldOf(path)));
  if (draft.untilDate !== '' && draft.fromDate !== '' && draft.untilDate < draft.fromDate)
    fields.add('untilDate');
  if (parsed.success && fields.size === 0) return { kind: 'leg', leg: parsed.data };
  const faults = [...fields].map((field) => ({
    field,
    found: foundIn(draft, field),
    expected: EXPECTED[field],
  }));
  return { kind: 'faults', faults };
}

export function faultSentence({ found, expected }: DraftFault): string {
  return `found ${found === '' ? 'nothing' : `“${found}”`}, expected ${expected}`;
}

function foundIn(draft: LegDraft, field: DraftField): string {
  const value = draft[field] ?? '';
  return typeof value === 'string' ? value : value.join(' ');
}

function candidateOf(draft: LegDraft) {
  const text = (name: TextField) => draft[name].trim();
  const textOrNull = (name: TextField) => (text(name) === '' ? null : text(name));
  const minimumAltitudes = minimumOf(text('minimumAltitudes'));
  return {
    label: text('label'),
    tail: textOrNull('tail'),
    route: text('route'),
    weekdays: draft.weekdays,
    departureLocal: clockOf(text('departureLocal')),
    timeZone: textOrNull('timeZone'),
    fromDate: textOrNull('fromDate'),
    untilDate: textOrNull('untilDate'),
    aircraft: draft.aircraft ?? '',
    plannedMinutes: numberOrNull(text('plannedMinutes')),
    alternate: textOrNull('alternate'),
    destinationMinima: minimaOf(text('destinationCeilingFt'), text('destinationVisibilityM')),
    alternateMinima: minimaOf(text('alternateCeilingFt'), text('alternateVisibilityM')),
    ...(minimumAltitudes === undefined ? {} : { options: { minimumAltitudes } }),
  };
}

/** Members of the leg as it was whose fields show what they showed. */
function untouched(draft: LegDraft, original: ScheduleLeg | undefined): Partial<ScheduleLeg> {
  if (original === undefined) return {};
  const before = draftOf(original);
  const isSame = (...fields: DraftField[]) =>
    fields.every((field) => String(draft[field]) === String(before[field]));
  const kept: [string, unknown][] = PLAIN_MEMBERS.filter((name) => isSame(name)).map((name) => [
    name,
    original[name],
  ]);
  for (const side of ['destination', 'alternate'] as const)
    if (isSame(`${side}CeilingFt`, `${side}VisibilityM`))
      kept.push([`${side}Minima`, original[`${side}Minima`]]);
  const { options } = original;
  if (isSame('minimumAltitudes')) {
    if (options !== undefined) kept.push(['options', options]);
  } else if (options !== undefined) kept.push(['options', changedOptions(options, draft)]);
  return Object.fromEntries(kept) as Partial<ScheduleLeg>;
}

const PLAIN_MEMBERS = [
  'label',
  'tail',
  'route',
  'weekdays',
  'departureLocal',
  'timeZone',
  'fromDate',
  'untilDate',
  'aircraft',
  'plannedMinutes',
  'alternate',
] as const satisfies readonly DraftField[];

type LegOptions = NonNullable<ScheduleLeg['options']>;

function changedOptions(options: LegOptions, draft: LegDraft): LegOptions {
  const { minimumAltitudes: _before, ...others } = options;
  const minimumAltitudes = minimumOf(draft.minimumAltitudes.trim());
  return minimumAltitudes === undefined ? others : ({ ...others, minimumAltitudes } as LegOptions);
}

/** undefined for an empty field; what cannot be read is passed on for the contract to refuse. */
function minimumOf(text: string): unknown {
  return text === '' ? undefined : OPTION_TEXTS.minimum.fromText(text);
}

function minimaOf(ceiling: string, visibility: string): Minima | null {
  if (ceiling === '' && visibility === '') return null;
  return { ceilingFt: numberOrNull(ceiling), visibilityM: numberFromText(visibility) };
}

const numberOrNull = (text: string) => (text === '' ? null : numberFromText(text));

/** Takes "5:40", "0540" and "540" too. */
function clockOf(text: string): string {
  const found = /^(\d{1,2}):?(\d{2})$/.exec(text);
  return found === null ? text : `${found[1]!.padStart(2, '0')}:${found[2]}`;
}

/** Where in the form a member of the contract stands. */
function fieldOf(path: readonly PropertyKey[]): DraftField {
  const [member, part] = path.map(String);
  if (member === 'options') return 'minimumAltitudes';
  for (const side of ['destination', 'alternate'] as const)
    if (member === `${side}Minima`) return part === CEILING ? `${side}CeilingFt` : `${side}VisibilityM`;
  return member as DraftField;
}

const CEILING = 'ceilingFt' satisfies keyof typeof minimaSchema.shape;
