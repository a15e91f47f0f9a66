import { describe, expect, it } from 'vitest';
import { aircraftForAddress, isTooLongForAddress } from '../../web/src/device-aircraft.ts';
import { draftOf, isEditedId, originalId, readDraft } from '../../web/src/start/aircraft-draft.ts';
import { FIGURE_GROUPS, FIGURE_TABLES, PROTECTION_FIGURES } from '../../web/src/start/aircraft-figures.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';

const [turboprop] = builtInAircraft as [AircraftProfile, ...AircraftProfile[]];

/** Every number of a profile, by its place; rows of tables left to the tables' own test. */
function numbersOf(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return [path];
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return [];
  return Object.entries(value).flatMap(([key, member]) =>
    numbersOf(member, path === '' ? key : `${path}.${key}`),
  );
}

describe('the aircraft editor', () => {
  it.each(builtInAircraft.map((profile) => [profile.id, profile] as const))(
    'opened on %s and left alone changes nothing but the identifier',
    (_id, profile) => {
      const reading = readDraft(draftOf(profile));
      expect(reading.kind === 'profile' && { ...reading.profile, id: profile.id }).toEqual(profile);
    },
  );

  it('has a field for every number that any built-in profile holds', () => {
    const fields = new Set<string>([
      ...FIGURE_GROUPS.flatMap(({ figures }) => figures.map(({ path }) => path)),
      ...Object.values(PROTECTION_FIGURES).flatMap((figures) => figures.map(({ path }) => path)),
      ...FIGURE_TABLES.map(({ path }) => path),
    ]);
    const missing = builtInAircraft
      .flatMap((profile) => numbersOf(profile))
      .filter((path) => !fields.has(path));
    expect(missing).toEqual([]);
  });

  it('takes a figure that was edited', () => {
    const draft = draftOf(turboprop);
    const reading = readDraft({ ...draft, figures: { ...draft.figures, ceilingFt: '18000' } });
    expect(reading.kind === 'profile' && reading.profile.ceilingFt).toBe(18000);
  });

  it.each([
    ['ceilingFt', '-4', 'more than 0 is needed'],
    ['ceilingFt', '99999', 'at most 60000 is allowed'],
    ['ceilingFt', 'high', 'a number is needed'],
    ['ceilingFt', '', 'a number is needed'],
    ['protection.usableL', '12 L', 'a number is needed'],
    ['protection.densityKgPerL', '0.5', 'at least 0.8 is needed'],
    ['iceLoss.climbRatePctPerMm', '', 'a number is needed'],
  ])('says why %s cannot be "%s": %s', (path, text, sentence) => {
    const draft = draftOf(turboprop);
    const reading = readDraft({ ...draft, figures: { ...draft.figures, [path]: text } });
    expect(reading.kind === 'invalid' && reading.complaints[path]).toBe(sentence);
  });

  it('says which cell of a table does not fit', () => {
    const draft = draftOf(turboprop);
    const rows = draft.tables.fuelFlowKgPerH.map((row, index) =>
      index === 1 ? { ...row, value: '0' } : row,
    );
    const reading = readDraft({ ...draft, tables: { ...draft.tables, fuelFlowKgPerH: rows } });
    expect(reading.kind === 'invalid' && reading.complaints['fuelFlowKgPerH.1.value']).toBe(
      'more than 0 is needed',
    );
  });

  it('keeps a least speed that the manual does not give as not given', () => {
    const draft = draftOf(turboprop);
    const reading = readDraft({ ...draft, figures: { ...draft.figures, minimumIcingAirspeedKt: '' } });
    expect(reading.kind === 'profile' && reading.profile.minimumIcingAirspeedKt).toBeNull();
  });

  it('takes the skin of the wing, and leaves out one that is not said', () => {
    const draft = draftOf(turboprop);
    expect(draft.wingSkin).toBe('');
    const reading = readDraft({ ...draft, wingSkin: 'composite' });
    if (reading.kind !== 'profile') throw new Error('not taken');
    expect(reading.profile.wingSkin).toBe('composite');
    const again = readDraft({ ...draftOf(reading.profile), wingSkin: '' });
    expect(again.kind === 'profile' && 'wingSkin' in again.profile).toBe(false);
    expect(readDraft({ ...draft, wingSkin: 'wood' }).kind).toBe('invalid');
  });

  it('makes a table of one rate of descent once a second row is added', () => {
    const draft = draftOf(turboprop);
    const rows = [
      ...draft.tables.descentRateFtPerMin,
      { weightKg: '', pressureAltitudeFt: '10000', value: '900' },
    ];
    const reading = readDraft({ ...draft, tables: { ...draft.tables, descentRateFtPerMin: rows } });
    expect(reading.kind === 'profile' && reading.profile.descentRateFtPerMin).toEqual([
      { pressureAltitudeFt: 0, value: 700 },
      { pressureAltitudeFt: 10000, value: 900 },
    ]);
  });
});

describe('the identifier of an edited profile', () => {
  it('is never that of another one kept on the device', () => {
    const first = draftOf(turboprop).id;
    const second = draftOf(turboprop, [first]).id;
    expect([isEditedId(first), isEditedId(second), first === second]).toEqual([true, true, false]);
    expect([originalId(first), originalId(second)]).toEqual([turboprop.id, turboprop.id]);
  });

  it('stays when the edited profile is edited further', () => {
    const id = draftOf(turboprop).id;
    expect(draftOf({ ...turboprop, id }, [id]).id).toBe(id);
  });
});

describe('the address of a leg with an edited aircraft', () => {
  it('carries every built-in profile whole', () => {
    for (const profile of builtInAircraft) expect(isTooLongForAddress(JSON.stringify(profile))).toBe(false);
  });

  it('of a profile too long still carries it where this device keeps nothing', () => {
    const rows = Array.from({ length: 80 }, (_, index) => ({ pressureAltitudeFt: index * 300, value: 150 }));
    const text = JSON.stringify({ ...turboprop, trueAirspeedKt: rows });
    expect(isTooLongForAddress(text)).toBe(true);
    expect(aircraftForAddress(text)).toBe(text);
  });
});
