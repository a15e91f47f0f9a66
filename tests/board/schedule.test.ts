/** Legs by weekday and wall time as flights, through every change of the clock. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flightsOfLegs } from '../../worker/board/schedule.ts';
import { InvalidRequestError } from '../../worker/errors.ts';
import type { ScheduleLeg } from '../../worker/schema/board.ts';
import { legId, storedLeg } from '../support/board-legs.ts';

const DAY_MS = 86_400_000;

/** "YYYY-MM-DD HH:MM UTC" of each flight, after its local day. */
function flown(leg: Partial<ScheduleLeg>, from: string, to: string): string[] {
  const window = { timeZone: 'UTC', fromMs: Date.parse(from), toMs: Date.parse(to) };
  return flightsOfLegs([storedLeg(leg)], window).map(
    ({ id, departureMs }) =>
      `${id.slice(-10)} at ${new Date(departureMs).toISOString().slice(0, 16).replace('T', ' ')}`,
  );
}

describe('flightsOfLegs', () => {
  it('has a flight for each weekday of the leg, named after leg and local day', () => {
    const window = {
      timeZone: 'America/New_York',
      fromMs: Date.parse('2026-01-12T00:00Z'),
      toMs: Date.parse('2026-01-18T23:59Z'),
    };
    const [first, ...others] = flightsOfLegs([storedLeg({ weekdays: ['mon', 'fri'] })], window);
    expect(first).toMatchObject({
      id: `${legId('leg')}.2026-01-12`,
      legId: legId('leg'),
      departureMs: Date.parse('2026-01-12T10:40Z'),
    });
    expect(others.map(({ id }) => id.slice(-10))).toEqual(['2026-01-16']);
  });

  it('takes the leg’s own zone before the board’s, and the local day where UTC has another', () => {
    const leg = { timeZone: 'Pacific/Auckland', departureLocal: '06:00', weekdays: ['wed' as const] };
    expect(flown(leg, '2026-01-12T00:00Z', '2026-01-19T00:00Z')).toEqual(['2026-01-14 at 2026-01-13 17:00']);
  });

  it('has both ends of the window, and both ends of the leg’s dates', () => {
    const leg = { fromDate: '2026-01-13', untilDate: '2026-01-14' };
    expect(flown(leg, '2026-01-13T05:40Z', '2026-01-14T05:40Z')).toHaveLength(2);
    expect(flown(leg, '2026-01-13T05:41Z', '2026-01-14T05:39Z')).toHaveLength(0);
    expect(flown(leg, '2026-01-01T00:00Z', '2026-02-01T00:00Z')).toHaveLength(2);
  });

  it('is in order of departure, of whichever zone, and of id where two depart at once', () => {
    const window = {
      timeZone: 'UTC',
      fromMs: Date.parse('2026-01-14T00:00Z'),
      toMs: Date.parse('2026-01-14T23:00Z'),
    };
    const legs = [
      storedLeg({ departureLocal: '12:00' }, 'b'),
      storedLeg({ departureLocal: '12:00' }, 'a'),
      storedLeg({ departureLocal: '06:30', timeZone: 'America/New_York' }, 'c'),
    ];
    expect(flightsOfLegs(legs, window).map(({ legId: id }) => id[0])).toEqual(['c', 'a', 'b']);
  });

  it.each([
    [
      'a time that does not exist in spring is as much later as the clock moved',
      'America/New_York',
      '2026-03-08',
      '02:30',
      '2026-03-08 07:30',
    ],
    ['the minute before that change', 'America/New_York', '2026-03-08', '01:59', '2026-03-08 06:59'],
    ['the minute of that change', 'America/New_York', '2026-03-08', '03:00', '2026-03-08 07:00'],
    [
      'a time that comes twice in autumn is the first of the two',
      'America/New_York',
      '2026-11-01',
      '01:30',
      '2026-11-01 05:30',
    ],
    ['the end of the hour that comes twice', 'America/New_York', '2026-11-01', '02:00', '2026-11-01 07:00'],
    ['half an hour that does not exist', 'Australia/Lord_Howe', '2026-10-04', '02:15', '2026-10-03 15:45'],
    ['half an hour that comes twice', 'Australia/Lord_Howe', '2026-04-05', '01:45', '2026-04-04 14:45'],
    ['a midnight that does not exist', 'America/Santiago', '2026-09-06', '00:30', '2026-09-06 04:30'],
    ['an evening whose last hour does not exist', 'America/Nuuk', '2026-03-28', '23:30', '2026-03-29 01:30'],
    ['a zone of three quarters of an hour', 'Asia/Kathmandu', '2026-01-14', '00:00', '2026-01-13 18:15'],
  ])('%s', (...[, timeZone, day, departureLocal, instant]) => {
    const leg = { timeZone, departureLocal, fromDate: day, untilDate: day };
    expect(flown(leg, '2026-01-01T00:00Z', '2026-12-31T00:00Z')).toEqual([`${day} at ${instant}`]);
  });

  it('has no flight on a day that a zone left out of its calendar, and one on each day around it', () => {
    const leg = { timeZone: 'Pacific/Apia', departureLocal: '09:00' };
    expect(flown(leg, '2011-12-28T12:00Z', '2012-01-01T00:00Z')).toEqual([
      '2011-12-28 at 2011-12-28 19:00',
      '2011-12-29 at 2011-12-29 19:00',
      '2011-12-31 at 2011-12-30 19:00',
      '2012-01-01 at 2011-12-31 19:00',
    ]);
  });

  it('refuses a zone that nobody knows', () => {
    expect(() => flown({ timeZone: 'Nowhere/At_All' }, '2026-01-14T00:00Z', '2026-01-15T00:00Z')).toThrow(
      InvalidRequestError,
    );
  });
});

/** Wall clock of a zone by the platform's own formatter: another way than looking up offsets. */
function wallClock(timeZone: string, atMs: number): string {
  const format = new Intl.DateTimeFormat('sv-SE', {
    ...{ timeZone, year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit' },
  });
  return format.format(new Date(atMs));
}

const zones = fc.constantFrom(...Intl.supportedValuesOf('timeZone'), 'UTC');
const clocks = fc
  .integer({ min: 0, max: 1439 })
  .map(
    (minutes) =>
      `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`,
  );
const startsMs = fc.integer({ min: 0, max: 365 * 25 }).map((days) => Date.UTC(2012, 0, 2) + days * DAY_MS);

describe('every zone', () => {
  it('has exactly one flight a local day, at its wall time or as much later as the clock moved', () => {
    fc.assert(
      fc.property(zones, clocks, startsMs, (timeZone, departureLocal, fromMs) => {
        const days = 5;
        const window = { timeZone, fromMs: fromMs - 2 * DAY_MS, toMs: fromMs + (days + 2) * DAY_MS };
        const local = (index: number) => new Date(fromMs + index * DAY_MS).toISOString().slice(0, 10);
        const leg = { departureLocal, fromDate: local(0), untilDate: local(days - 1) };
        const flights = flightsOfLegs([storedLeg(leg)], window);
        expect(flights.map(({ id }) => id.slice(-10))).toEqual(
          Array.from({ length: days }, (_, index) => local(index)),
        );
        for (const { id, departureMs } of flights) {
          const wanted = `${id.slice(-10)} ${departureLocal}`;
          const met = wallClock(timeZone, departureMs);
          if (met === wanted) {
            // The first of two: an hour or less before, the clock did not show the same.
            for (const minutes of [30, 60, 120]) {
              expect(wallClock(timeZone, departureMs - minutes * 60_000)).not.toBe(wanted);
            }
            continue;
          }
          // Left out: the clock never shows it, and had as long to go when the change came.
          const movedMs =
            Date.parse(`${met.replace(' ', 'T')}Z`) - Date.parse(`${wanted.replace(' ', 'T')}Z`);
          expect(movedMs).toBeGreaterThan(0);
          expect(movedMs).toBeLessThanOrEqual(3 * 3_600_000);
          for (let minutes = -240; minutes <= 240; minutes += 1) {
            expect(wallClock(timeZone, departureMs + minutes * 60_000)).not.toBe(wanted);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  it('comes to the same in pieces of time as in one', () => {
    fc.assert(
      fc.property(zones, clocks, startsMs, (timeZone, departureLocal, fromMs) => {
        const legs = [storedLeg({ departureLocal })];
        const of = (from: number, to: number) => flightsOfLegs(legs, { timeZone, fromMs: from, toMs: to });
        const midMs = fromMs + 1.5 * DAY_MS;
        expect([...of(fromMs, midMs), ...of(midMs + 1, fromMs + 3 * DAY_MS)]).toEqual(
          of(fromMs, fromMs + 3 * DAY_MS),
        );
      }),
      { numRuns: 100 },
    );
  });
});

/**
 * Instants as Python 3.11's zoneinfo had them on 2026-11-28 with tzdata 2025b, by tests/support/zoneinfo-wall-times.py: 22 zones from
 * 2011 to 2024, around their clock changes and spread over the years.
 */
const table = readFileSync(new URL('zoneinfo-wall-times.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .map((line) => line.split(',') as [zone: string, day: string, clock: string, instant: string]);

it('comes to the instants that another implementation has, through every process time zone', () => {
  const before = process.env.TZ;
  const hours = new Set<number>();
  try {
    for (const processZone of ['UTC', 'America/New_York', 'Australia/Lord_Howe', 'Pacific/Apia']) {
      process.env.TZ = processZone;
      hours.add(new Date(0).getHours());
      const different = table.filter(([timeZone, day, departureLocal, instant]) => {
        const leg = { timeZone, departureLocal, fromDate: day, untilDate: day };
        const aboutMs = Date.parse(`${day}T12:00Z`);
        const window = { timeZone: 'UTC', fromMs: aboutMs - 2 * DAY_MS, toMs: aboutMs + 2 * DAY_MS };
        const found = flightsOfLegs([storedLeg(leg)], window).map(({ departureMs }) => departureMs);
        return found.length !== 1 || found[0] !== Date.parse(instant);
      });
      expect(different, `process in ${processZone}`).toEqual([]);
    }
  } finally {
    if (before === undefined) delete process.env.TZ;
    else process.env.TZ = before;
  }
  // The process did keep another time each time.
  expect(hours.size).toBe(4);
  expect(table.length).toBeGreaterThan(1000);
});
