import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CSV_COLUMNS, csvTemplate, rowsIn } from '../../web/src/board/setup/csv-template.ts';
import { faultWords } from '../../web/src/board/setup/fault-words.ts';
import {
  draftOf,
  EMPTY_DRAFT,
  faultSentence,
  type LegDraft,
  legOfDraft,
} from '../../web/src/board/setup/leg-draft.ts';
import { legMatches, periodWords, weekdaysWords } from '../../web/src/board/setup/leg-words.ts';
import { LEG_COLUMN_NAMES } from '../../worker/board/leg-columns.ts';
import { readLegsCsv } from '../../worker/board/leg-csv.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { type ScheduleLeg, scheduleLegSchema, WEEKDAYS } from '../../worker/schema/board.ts';

const orNull = <T>(values: fc.Arbitrary<T>) => fc.option(values, { nil: null });
const name = (most: number) =>
  fc.string({ minLength: 1, maxLength: most }).filter((text) => text.trim() === text);
const figure = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => (value === 0 ? 0 : value));
const minima = orNull(fc.record({ ceilingFt: orNull(figure(0, 5000)), visibilityM: figure(0, 16_000) }));
const minimumAltitudes = fc.array(
  fc.record({ fromNm: figure(0, 5000), toNm: figure(0, 5000), altitudeFt: figure(-1000, 60_000) }),
  { maxLength: 4 },
);
const options = fc.record(
  { minimumAltitudes, takeoffWeightKg: figure(1, 9000), directionRule: fc.constant('faa-91-179' as const) },
  { requiredKeys: [] },
);
const dates = fc.constantFrom(
  ['2026-01-01', '2026-03-01'],
  ['2026-01-01', null],
  [null, '2026-03-01'],
  [null, null],
);
const legs: fc.Arbitrary<ScheduleLeg> = fc
  .record(
    {
      label: name(20),
      tail: orNull(name(12)),
      route: fc.string({ minLength: 3, maxLength: 500 }),
      weekdays: fc.array(fc.constantFrom(...WEEKDAYS), { minLength: 1, maxLength: 7 }),
      departureLocal: fc.constantFrom('00:00', '05:40', '23:59'),
      timeZone: orNull(fc.constantFrom('America/New_York', 'Pacific/Auckland')),
      dates,
      aircraft: fc.constantFrom('some-profile', builtInAircraft[0]!),
      plannedMinutes: orNull(figure(1, 1440)),
      alternate: orNull(fc.string({ minLength: 1, maxLength: 10 })),
      destinationMinima: minima,
      alternateMinima: minima,
      options,
    },
    { noNullPrototype: true },
  )
  .map(({ dates: [fromDate = null, untilDate = null], ...leg }) => ({ ...leg, fromDate, untilDate }));

const leg: ScheduleLeg = {
  label: 'EXAMPLE 101',
  tail: 'TAIL-1',
  route: 'KBTV DCT KBGR',
  weekdays: ['mon', 'tue'],
  departureLocal: '05:40',
  timeZone: null,
  fromDate: null,
  untilDate: null,
  aircraft: 'some-profile',
  plannedMinutes: 75,
  alternate: null,
  destinationMinima: null,
  alternateMinima: null,
};
const draft: LegDraft = draftOf(leg);

function legFrom(change: Partial<LegDraft>, original?: ScheduleLeg): ScheduleLeg {
  const reading = legOfDraft({ ...draft, ...change }, original);
  if (reading.kind !== 'leg') throw new Error(JSON.stringify(reading.faults));
  return reading.leg;
}

function faultsOf(change: Partial<LegDraft>, original?: ScheduleLeg): string[] {
  const reading = legOfDraft({ ...draft, ...change }, original);
  return reading.kind === 'leg'
    ? []
    : reading.faults.map((fault) => `${fault.field}: ${faultSentence(fault)}`);
}

describe('the form of a leg', () => {
  it('gives back every leg of the schedule that nobody touched', () => {
    fc.assert(
      fc.property(legs, (stored) => {
        expect(scheduleLegSchema.safeParse(stored).success).toBe(true);
        expect(legOfDraft(draftOf(stored), stored)).toEqual({ kind: 'leg', leg: stored });
      }),
    );
  });

  it('reads what it shows also without the leg it came from', () => {
    const plain = legs.filter(
      ({ route, alternate, aircraft }) =>
        route.trim() === route &&
        (alternate ?? '').trim() === (alternate ?? '') &&
        typeof aircraft === 'string',
    );
    fc.assert(
      fc.property(plain, (stored) => {
        const { options: storedOptions, ...members } = stored;
        const minimum = storedOptions?.minimumAltitudes;
        const weekdays = WEEKDAYS.filter((day) => stored.weekdays.includes(day));
        const expected = {
          ...members,
          weekdays,
          ...(minimum ? { options: { minimumAltitudes: minimum } } : {}),
        };
        expect(legOfDraft(draftOf(stored))).toEqual({ kind: 'leg', leg: expected });
      }),
    );
  });

  it('changes what was typed, and keeps what it does not show', () => {
    const original: ScheduleLeg = {
      ...leg,
      aircraft: builtInAircraft[0]!,
      options: {
        directionRule: 'icao-annex-2',
        minimumAltitudes: [{ fromNm: 0, toNm: 45, altitudeFt: 6500 }],
      },
    };
    const typed = { ...draftOf(original), minimumAltitudes: '', destinationVisibilityM: '1200' };
    expect(legOfDraft(typed, original)).toEqual({
      kind: 'leg',
      leg: {
        ...original,
        destinationMinima: { ceilingFt: null, visibilityM: 1200 },
        options: { directionRule: 'icao-annex-2' },
      },
    });
  });

  it('takes a time with and without its colon', () => {
    expect(
      ['5:40', '0540', '540', ' 05:40 '].map((departureLocal) => legFrom({ departureLocal }).departureLocal),
    ).toEqual(['05:40', '05:40', '05:40', '05:40']);
  });

  it('takes minimum altitudes by stretches, and one for all', () => {
    expect(legFrom({ minimumAltitudes: '0-45:6500, 45-130:6200' }).options?.minimumAltitudes).toHaveLength(2);
    expect(legFrom({ minimumAltitudes: '6500' }).options?.minimumAltitudes?.[0]?.altitudeFt).toBe(6500);
  });

  it.each<[string, Partial<LegDraft>, string]>([
    ['no label', { label: ' ' }, 'label: found “ ”, expected 1 to 20 characters'],
    [
      'a time past midnight',
      { departureLocal: '24:10' },
      'departureLocal: found “24:10”, expected 00:00 to 23:59',
    ],
    ['no weekday', { weekdays: [] }, 'weekdays: found nothing, expected one day at least'],
    [
      'a zone of nowhere',
      { timeZone: 'Mars/Base' },
      'timeZone: found “Mars/Base”, expected an IANA time zone',
    ],
    [
      'minutes in words',
      { plannedMinutes: 'an hour' },
      'plannedMinutes: found “an hour”, expected 1 to 1440 minutes',
    ],
    [
      'a ceiling alone',
      { destinationCeilingFt: '400' },
      'destinationVisibilityM: found nothing, expected 0 to 16000 m',
    ],
    [
      'a ceiling in words',
      { alternateCeilingFt: 'low', alternateVisibilityM: '800' },
      'alternateCeilingFt: found “low”',
    ],
    ['half a stretch', { minimumAltitudes: '0-45' }, 'minimumAltitudes: found “0-45”, expected one altitude'],
    ['no aircraft', { aircraft: '' }, 'aircraft: found nothing, expected an aircraft of the list'],
    [
      'a last day before the first',
      { fromDate: '2026-02-01', untilDate: '2026-01-01' },
      'untilDate: found “2026-01-01”, expected a date such as 2026-01-14, not before the first',
    ],
  ])('refuses %s at its field, with what was found and expected', (_what, change, sentence) => {
    const faults = faultsOf(change);
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain(sentence);
  });

  it('refuses an empty form', () => {
    const reading = legOfDraft(EMPTY_DRAFT);
    const fields = reading.kind === 'faults' ? reading.faults.map(({ field }) => field).sort() : [];
    expect(fields).toEqual(['aircraft', 'departureLocal', 'label', 'route']);
  });
});

describe('the example file of legs', () => {
  it('reads as one leg, and names no column that the service does not have', () => {
    const csv = csvTemplate(builtInAircraft[0]!.id, 'America/New_York');
    const { legs: read, rejected } = readLegsCsv(csv);
    expect(rejected).toEqual([]);
    expect(read).toHaveLength(1);
    expect(CSV_COLUMNS.filter((column) => !LEG_COLUMN_NAMES.includes(column))).toEqual([]);
    expect(rowsIn(csv)).toBe(1);
  });

  it('names every column but the one for further options', () => {
    expect(LEG_COLUMN_NAMES.filter((column) => !CSV_COLUMNS.some((each) => each === column))).toEqual([
      'otherOptions',
    ]);
  });
});

describe('a leg in words', () => {
  it('joins neighboring weekdays', () => {
    expect(weekdaysWords(WEEKDAYS)).toBe('daily');
    expect(weekdaysWords(['fri', 'mon', 'tue', 'wed', 'thu'])).toBe('Mon–Fri');
    expect(weekdaysWords(['mon', 'tue', 'sun'])).toBe('Mon, Tue, Sun');
    expect(weekdaysWords(['sat', 'sun'])).toBe('Sat, Sun');
  });

  it('says a period with one end or two', () => {
    expect(periodWords({ fromDate: null, untilDate: null })).toBe('');
    expect(periodWords({ fromDate: '2026-01-01', untilDate: null })).toBe('from 2026-01-01');
    expect(periodWords({ fromDate: null, untilDate: '2026-03-01' })).toBe('until 2026-03-01');
    expect(periodWords({ fromDate: '2026-01-01', untilDate: '2026-03-01' })).toBe('2026-01-01 to 2026-03-01');
  });

  it('is found by flight, tail and place', () => {
    expect(['example', 'tail-1', 'kbgr', ''].map((text) => legMatches(leg, text))).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect(legMatches({ ...leg, tail: null }, 'tail-1')).toBe(false);
  });
});

it('says why a call brought nothing, with what the service named', () => {
  const problem = (status: number, detail: string) =>
    faultWords({ kind: 'problem', problem: { type: 'about:blank', title: 'Refused', status, detail } });
  expect(problem(422, 'legs.0.label: found "", expected 1 to 20 characters')).toBe(
    'Legs.0.label: found "", expected 1 to 20 characters.',
  );
  expect(problem(401, 'no')).toContain('The key was refused');
  expect(problem(403, 'no')).toContain('may only look');
  expect(problem(502, 'status 502')).toBe('Refused (status 502).');
  expect(faultWords({ kind: 'timeout', afterMs: 20_000 })).toContain('what became of it is not known');
  expect(faultWords({ kind: 'not-understood', where: 'legs.0' })).toContain('at legs.0');
});
