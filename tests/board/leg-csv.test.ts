/** A schedule as CSV. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { legsToCsv, readLegsCsv } from '../../worker/board/leg-csv.ts';
import { FormatError } from '../../worker/errors.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { type ScheduleLeg, scheduleLegSchema, WEEKDAYS } from '../../worker/schema/board.ts';
import { makeLeg } from '../support/board-legs.ts';

const HEADER = 'label,route,weekdays,departureLocal,aircraft';
const ROW = 'RW 1,AAAA DCT BBBB,daily,05:40,generic-fluid-turboprop';

/** One row of named cells over the ones that a leg needs. */
function readRow(cells: Readonly<Record<string, string>>) {
  const whole = {
    ...{ label: 'RW 1', route: 'AAAA DCT BBBB', weekdays: 'daily', departureLocal: '05:40' },
    ...{ aircraft: 'generic-fluid-turboprop', ...cells },
  };
  const quoted = Object.values(whole).map((cell) => `"${cell.replaceAll('"', '""')}"`);
  return readLegsCsv(`${Object.keys(whole).join(',')}\n${quoted.join(',')}\n`);
}

function refusal(run: () => unknown): FormatError {
  try {
    run();
  } catch (error) {
    if (error instanceof FormatError) return error;
    throw error;
  }
  throw new Error('found nothing thrown, expected a FormatError');
}

describe('readLegsCsv', () => {
  it('reads a leg of the columns that it needs; the others are null', () => {
    const { legs, rejected } = readLegsCsv(`${HEADER}\n${ROW}`);
    expect(rejected).toEqual([]);
    expect(legs).toEqual([makeLeg({ label: 'RW 1', tail: null, plannedMinutes: null })]);
  });

  it('reads every column, in whatever order the header has them', () => {
    const { legs, rejected } = readRow({
      minimumAltitudes: '0-45:6500 45-130.5:6200',
      ...{ takeoffWeightKg: '3900', tail: 'N101', timeZone: 'America/New_York' },
      ...{ fromDate: '2026-01-01', untilDate: '2026-03-31', plannedMinutes: '75', alternate: 'CCCC' },
      ...{ destinationCeilingFt: '200', destinationVisibilityM: '800', alternateVisibilityM: '1600' },
      otherOptions: '{"corridorHalfWidthNm":8}',
    });
    expect(rejected).toEqual([]);
    expect(legs[0]).toEqual(
      makeLeg({
        ...{ label: 'RW 1', timeZone: 'America/New_York', plannedMinutes: 75, alternate: 'CCCC' },
        ...{ fromDate: '2026-01-01', untilDate: '2026-03-31' },
        destinationMinima: { ceilingFt: 200, visibilityM: 800 },
        alternateMinima: { ceilingFt: null, visibilityM: 1600 },
        options: {
          corridorHalfWidthNm: 8,
          takeoffWeightKg: 3900,
          minimumAltitudes: [
            { fromNm: 0, toNm: 45, altitudeFt: 6500 },
            { fromNm: 45, toNm: 130.5, altitudeFt: 6200 },
          ],
        },
      }),
    );
  });

  it.each([
    ['daily', WEEKDAYS],
    ['mon-fri', WEEKDAYS.slice(0, 5)],
    ['sun mon  TUE', ['mon', 'tue', 'sun']],
    ['fri-mon', ['mon', 'fri', 'sat', 'sun']],
    ['mon,wed; mon', ['mon', 'wed']],
  ])('reads the weekdays %s', (weekdays, days) => {
    expect(readRow({ weekdays }).legs[0]!.weekdays).toEqual(days);
  });

  it.each([
    ['5:40', '05:40'],
    ['05:40:00', '05:40'],
    ['23:59', '23:59'],
  ])('reads the departure %s as spreadsheets write it', (departureLocal, time) => {
    expect(readRow({ departureLocal }).legs[0]!.departureLocal).toBe(time);
  });

  it.each([
    ['label', '', 'label: found "", expected 1 to 20 characters'],
    ['label', 'x'.repeat(21), `label: found "${'x'.repeat(21)}", expected 1 to 20 characters`],
    [
      'route',
      `AA${'A'.repeat(600)}`,
      `route: found "${'A'.repeat(40)}…", expected 3 to 500 characters of route`,
    ],
    ['weekdays', 'monday', 'weekdays: found "monday", expected daily, mon-fri or mon tue wed'],
    ['weekdays', 'mon-', 'weekdays: found "mon-", expected daily, mon-fri or mon tue wed'],
    ['departureLocal', '24:00', 'departureLocal: found "24:00", expected 00:00 to 23:59'],
    ['departureLocal', '5.40', 'departureLocal: found "5.40", expected 00:00 to 23:59'],
    ['timeZone', 'Vermont', 'timeZone: found "Vermont", expected an IANA time zone such as America/New_York'],
    ['fromDate', '30.02.2026', 'fromDate: found "30.02.2026", expected a date such as 2026-01-14'],
    ['untilDate', '2026-02-30', 'untilDate: found "2026-02-30", expected a date such as 2026-01-14'],
    ['plannedMinutes', '0x10', 'plannedMinutes: found "0x10", expected 1 to 1440 minutes'],
    ['plannedMinutes', '1441', 'plannedMinutes: found "1441", expected 1 to 1440 minutes'],
    ['takeoffWeightKg', '-1', 'takeoffWeightKg: found "-1", expected more than 0 kg'],
    ['destinationVisibilityM', '1/2SM', 'destinationVisibilityM: found "1/2SM", expected 0 to 16000 m'],
    [
      'destinationCeilingFt',
      '200',
      'destinationVisibilityM: found nothing beside a ceiling, expected 0 to 16000 m',
    ],
    [
      'minimumAltitudes',
      '0-45 6500',
      'minimumAltitudes: found "0-45 6500", expected at most 50 of fromNm-toNm:altitudeFt, as 0-45:6500 45-130:6200',
    ],
    [
      'otherOptions',
      '{"curtain":true}',
      'otherOptions: found "{"curtain":true}", expected JSON of further options of a brief, each as the API has it',
    ],
    [
      'aircraft',
      '{"id":1}',
      'aircraft: found "{"id":1}", expected the id of an aircraft profile, or a whole profile as JSON',
    ],
  ])('refuses a row for its %s %j, naming what was found and expected', (column, cell, reason) => {
    const { legs, rejected } = readRow({ [column]: cell });
    expect(legs).toEqual([]);
    expect(rejected).toEqual([
      {
        line: 2,
        reason: reason.replace(/(?<=found ")(\{.*\})(?=",)/, (json) => json.replaceAll('"', '\\"')),
      },
    ]);
  });

  it('refuses dates that end before they begin', () => {
    expect(readRow({ fromDate: '2026-03-01', untilDate: '2026-02-01' }).rejected[0]!.reason).toBe(
      'untilDate: found "2026-02-01", expected 2026-03-01 or later',
    );
  });

  it('keeps the rows that read beside those that do not', () => {
    const { legs, rejected } = readLegsCsv(`${HEADER}\n${ROW}\nRW 2,AAAA,never,05:40,x\n${ROW}\nRW 3,a\n`);
    expect(legs).toHaveLength(2);
    expect(rejected).toEqual([
      { line: 3, reason: 'weekdays: found "never", expected daily, mon-fri or mon tue wed' },
      { line: 5, reason: 'row: found 2 cells, expected 5 as in the header' },
    ]);
  });

  it.each(['\n', '\r\n', '\r'])(
    'counts lines through empty ones and cells of several, broken by %j',
    (end) => {
      const text = [
        '\uFEFF',
        HEADER,
        '',
        '"RW ""1""","AAAA',
        'DCT',
        'BBBB",daily,05:40,x',
        ' , ,,,',
        'RW 2,AAAA DCT BBBB,x,05:40,y',
        '',
      ].join(end);
      const { legs, rejected } = readLegsCsv(text.replace(`\uFEFF${end}`, '\uFEFF'));
      expect(legs.map(({ label, route }) => [label, route])).toEqual([['RW "1"', `AAAA${end}DCT${end}BBBB`]]);
      expect(rejected.map(({ line }) => line)).toEqual([7]);
    },
  );

  it('takes formulas of a cell for text', () => {
    expect(readRow({ label: '=1+1' }).legs[0]!.label).toBe('=1+1');
    expect(readRow({ label: "'=1+1" }).legs[0]!.label).toBe('=1+1');
    expect(legsToCsv([makeLeg({ label: '=1+1' })])).toContain("\r\n'=1+1,");
  });

  it.each<[string, string, Partial<FormatError>]>([
    ['nothing', '', { what: 'header', found: 'nothing' }],
    ['a column that nobody knows', `${HEADER},Color\n`, { what: 'header', found: '"Color"' }],
    ['a column twice', `${HEADER},label\n`, { found: 'label twice', expected: 'each column once' }],
    ['no column for the route', 'label,weekdays,departureLocal,aircraft\n', { found: 'no route' }],
    [
      'a quote that does not close',
      `${HEADER}\n${ROW}\n"RW 2,a\n${ROW}\n`,
      { what: 'row', place: { unit: 'line', line: 3 } },
    ],
    ['text behind a quote', `${HEADER}\n"RW" 1,a\n`, { place: { unit: 'line', line: 2 } }],
    [
      'more than 2,000 legs',
      `${HEADER}\n${`${ROW}\n`.repeat(2001)}`,
      { found: '2001 legs', expected: 'at most 2000' },
    ],
    ['more than 1 MiB', `${HEADER}\n${' '.repeat(1_048_576)}`, { expected: 'at most 1048576 bytes' }],
    [
      'more than 1 MiB in letters of several bytes',
      `${HEADER}\n${'é'.repeat(600_000)}`,
      { expected: 'at most 1048576 bytes' },
    ],
  ])('refuses a file with %s', (_, text, fields) => {
    expect(refusal(() => readLegsCsv(text))).toMatchObject({ format: 'legs CSV', ...fields });
  });

  it('reads 2,000 legs, blank lines beside them not counted', () => {
    expect(readLegsCsv(`${HEADER}\n${`${ROW}\n\n`.repeat(2000)}`).legs).toHaveLength(2000);
  });

  it('never throws anything but a FormatError', () => {
    const pieces = fc.constantFrom(
      HEADER,
      ROW,
      '"',
      ',',
      '\n',
      '\r',
      '=',
      'daily',
      '05:40',
      '{',
      '\uFEFF',
      'é',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(pieces, fc.string({ maxLength: 3 })), { maxLength: 30 }), (parts) => {
        try {
          readLegsCsv(`${HEADER}\n${parts.join('')}`);
        } catch (error) {
          expect(error).toBeInstanceOf(FormatError);
        }
      }),
      { numRuns: 1000 },
    );
  });
});

const text = (most: number) =>
  fc
    .string({
      unit: fc.constantFrom('A', 'b', '7', ' ', '=', '+', '-', '@', "'", '"', ',', '\n', 'é', ';'),
      minLength: 3,
      maxLength: most,
    })
    .map((each) => each.trim())
    .filter((each) => each.length >= 3);
const nullable = <T>(of: fc.Arbitrary<T>) => fc.option(of);
const tenths = (most: number) => fc.integer({ min: 0, max: most * 10 }).map((value) => value / 10);
const minima = nullable(fc.record({ ceilingFt: nullable(tenths(5000)), visibilityM: tenths(16_000) }));
const legs: fc.Arbitrary<ScheduleLeg> = fc
  .record({
    label: text(20),
    tail: nullable(text(12)),
    route: text(60),
    weekdays: fc.subarray([...WEEKDAYS], { minLength: 1 }),
    departureLocal: fc.constantFrom('00:00', '05:40', '23:59'),
    timeZone: nullable(fc.constantFrom('America/New_York', 'Pacific/Chatham', 'UTC')),
    fromDate: nullable(fc.constantFrom('2026-01-01', '2026-01-14')),
    untilDate: nullable(fc.constantFrom('2026-01-14', '2026-12-31')),
    aircraft: fc.constantFrom('generic-fluid-turboprop', builtInAircraft[0]!),
    plannedMinutes: nullable(fc.integer({ min: 1, max: 1440 })),
    alternate: nullable(text(10)),
    destinationMinima: minima,
    alternateMinima: minima,
    minimumAltitudes: nullable(
      fc.array(
        fc.record({
          fromNm: tenths(500),
          toNm: tenths(500),
          altitudeFt: fc.integer({ min: -900, max: 20_000 }),
        }),
        {
          minLength: 1,
          maxLength: 4,
        },
      ),
    ),
    takeoffWeightKg: nullable(fc.integer({ min: 1, max: 9000 })),
    airMass: nullable(fc.constantFrom('maritime' as const)),
  })
  .map(({ minimumAltitudes, takeoffWeightKg, airMass, ...leg }) => {
    const options = Object.fromEntries(
      Object.entries({ airMass, minimumAltitudes, takeoffWeightKg }).filter(([, value]) => value !== null),
    );
    return Object.keys(options).length === 0 ? leg : { ...leg, options };
  });

describe('legsToCsv', () => {
  it('reads back as the same legs', () => {
    fc.assert(
      fc.property(fc.array(legs, { maxLength: 5 }), (given) => {
        for (const leg of given) expect(scheduleLegSchema.safeParse(leg).success).toBe(true);
        expect(readLegsCsv(legsToCsv(given))).toEqual({ legs: given, rejected: [] });
      }),
      { numRuns: 500 },
    );
  });

  it('names every column once', () => {
    expect(legsToCsv([])).toBe(
      'label,tail,route,weekdays,departureLocal,timeZone,fromDate,untilDate,aircraft,plannedMinutes,alternate,' +
        'destinationCeilingFt,destinationVisibilityM,alternateCeilingFt,alternateVisibilityM,takeoffWeightKg,' +
        'minimumAltitudes,otherOptions\r\n',
    );
  });
});
