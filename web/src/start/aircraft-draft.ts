/** An aircraft profile being edited: every figure as the text that stands in its field. */
import { type AircraftProfile, aircraftSchema, OXYGEN_KINDS } from '../../../worker/schema/aircraft.ts';
import { issueWords } from '../issue-words.ts';
import { numberFromText } from '../option-texts.ts';
import { FIGURE_GROUPS, FIGURE_TABLES, type FigureTable, PROTECTION_FIGURES } from './aircraft-figures.ts';

export interface DraftRow {
  readonly weightKg: string;
  readonly pressureAltitudeFt: string;
  readonly value: string;
}

export interface AircraftDraft {
  /** Of the edited profile: never that of another one kept. */
  readonly id: string;
  /** What is not edited, and what an empty field falls back to being: left out, or null. */
  readonly base: AircraftProfile;
  readonly name: string;
  readonly isCertified: boolean;
  readonly oxygen: string;
  readonly flapNote: string;
  /** "I, III". */
  readonly groundFluids: string;
  readonly wingSkin: string;
  /** By place in the profile; empty for none given. */
  readonly figures: Readonly<Record<string, string>>;
  readonly tables: Readonly<Record<FigureTable['path'], readonly DraftRow[]>>;
}

export type DraftReading =
  | { readonly kind: 'profile'; readonly profile: AircraftProfile }
  | {
      readonly kind: 'invalid';
      readonly complaints: Readonly<Record<string, string>>;
      readonly unchecked: unknown;
    };

/** Profiles made here are told from the service's own by this. */
const EDITED_PREFIX = 'edited-';
const LONGEST_ID = 60;

/** @param takenIds  Of the profiles kept on this device. */
export function draftOf(profile: AircraftProfile, takenIds: readonly string[] = []): AircraftDraft {
  const figures: Record<string, string> = {};
  for (const { path } of figuresOf(profile)) figures[path] = textOf(memberAt(profile, path));
  const rows = (path: FigureTable['path']) => rowsOf(profile[path]);
  return {
    id: editedId(profile.id, takenIds),
    base: profile,
    name: profile.name,
    isCertified: profile.certifiedForIcing,
    oxygen: profile.oxygen ?? '',
    flapNote: profile.landingWithIce?.flapNote ?? '',
    groundFluids: profile.groundFluids?.join(', ') ?? '',
    wingSkin: profile.wingSkin ?? '',
    figures,
    tables: {
      trueAirspeedKt: rows('trueAirspeedKt'),
      climbRateFtPerMin: rows('climbRateFtPerMin'),
      descentRateFtPerMin: rows('descentRateFtPerMin'),
      fuelFlowKgPerH: rows('fuelFlowKgPerH'),
    },
  };
}

function figuresOf({ protection }: AircraftProfile) {
  return [...FIGURE_GROUPS.flatMap(({ figures }) => figures), ...PROTECTION_FIGURES[protection.kind]];
}

function memberAt(profile: object, path: string): unknown {
  let here: unknown = profile;
  for (const key of path.split('.')) here = (here as Record<string, unknown> | null | undefined)?.[key];
  return here;
}

const textOf = (value: unknown) => (typeof value === 'number' ? String(value) : '');

/** A single number is a row at sea level: it holds at every altitude. */
function rowsOf(table: AircraftProfile['descentRateFtPerMin']): DraftRow[] {
  if (typeof table === 'number') return [{ weightKg: '', pressureAltitudeFt: '0', value: String(table) }];
  return table.map(({ weightKg, pressureAltitudeFt, value }) => ({
    weightKg: textOf(weightKg),
    pressureAltitudeFt: String(pressureAltitudeFt),
    value: String(value),
  }));
}

export function emptyRow(): DraftRow {
  return { weightKg: '', pressureAltitudeFt: '', value: '' };
}

/** Checked by the contract's schema; what is wrong is told by its place in the profile. */
export function readDraft(draft: AircraftDraft): DraftReading {
  const unchecked = profileOf(draft);
  const parsed = aircraftSchema.safeParse(unchecked);
  if (parsed.success) return { kind: 'profile', profile: parsed.data };
  const complaints: Record<string, string> = {};
  for (const issue of parsed.error.issues) complaints[issue.path.join('.')] ??= issueWords(issue);
  return { kind: 'invalid', complaints, unchecked };
}

function profileOf(draft: AircraftDraft): Record<string, unknown> {
  const { base, figures } = draft;
  const profile: Record<string, unknown> = {
    id: draft.id,
    name: draft.name.trim(),
    certifiedForIcing: draft.isCertified,
    protection: { kind: base.protection.kind },
  };
  if ((OXYGEN_KINDS as readonly string[]).includes(draft.oxygen)) profile.oxygen = draft.oxygen;
  for (const { path } of figuresOf(base)) setMember(profile, path, figures[path] ?? '');
  if (draft.flapNote.trim() !== '') setIn(profile, ['landingWithIce', 'flapNote'], draft.flapNote.trim());
  const fluids = draft.groundFluids.split(/[\s,]+/).filter((type) => type !== '');
  if (fluids.length > 0 || base.groundFluids?.length === 0) profile.groundFluids = fluids;
  if (draft.wingSkin !== '') profile.wingSkin = draft.wingSkin;
  keepNulls(profile, base);
  for (const { path } of FIGURE_TABLES) profile[path] = tableOf(draft.tables[path], base[path]);
  return profile;
}

/** An empty field is a member left out. */
function setMember(profile: Record<string, unknown>, path: string, text: string): void {
  if (text.trim() !== '') setIn(profile, path.split('.'), numberFromText(text));
}

function setIn(
  profile: Record<string, unknown>,
  [first = '', second]: readonly string[],
  value: unknown,
): void {
  if (second === undefined) profile[first] = value;
  else profile[first] = { ...(profile[first] as object | undefined), [second]: value };
}

/** "The manual gives none" is not "not said": what was null or was emptied stays null. */
function keepNulls(profile: Record<string, unknown>, base: AircraftProfile): void {
  for (const name of ['minimumIcingAirspeedKt', 'inletSeparator'] as const) {
    if (profile[name] === undefined && base[name] !== undefined) profile[name] = null;
  }
}

function tableOf(rows: readonly DraftRow[], base: AircraftProfile['descentRateFtPerMin']): unknown {
  const only = rows[0];
  if (typeof base === 'number' && rows.length === 1 && only !== undefined) return numberFromText(only.value);
  return rows.map(({ weightKg, pressureAltitudeFt, value }) => ({
    ...(weightKg.trim() === '' ? {} : { weightKg: numberFromText(weightKg) }),
    pressureAltitudeFt: numberFromText(pressureAltitudeFt),
    value: numberFromText(value),
  }));
}

export function isEditedId(id: string): boolean {
  return id.startsWith(EDITED_PREFIX);
}

/** Of the profile that an edited one began from. */
export function originalId(id: string): string {
  return isEditedId(id) ? id.slice(EDITED_PREFIX.length).replace(/^\d+-/, '') : id;
}

/** An edited profile is edited further; of another a new one is made. */
function editedId(id: string, takenIds: readonly string[]): string {
  if (isEditedId(id)) return id;
  const named = (count: number) =>
    `${EDITED_PREFIX}${count === 1 ? '' : `${count}-`}${id}`.slice(0, LONGEST_ID);
  let count = 1;
  while (takenIds.includes(named(count))) count += 1;
  return named(count);
}
