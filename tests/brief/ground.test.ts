/** The ramp in a brief: from the reports of the aerodrome alone, and nothing worked out from what is old, missing or unread. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { GROUND_CAUTIONS, groundAnswer } from '../../worker/brief/ground.ts';
import { groundSchema } from '../../worker/schema/ground.ts';
import type { FluidType, WingSkin } from '../../worker/schema/ground-words.ts';
import { holdoverTableSchema } from '../../worker/schema/holdover.ts';
import type { StoredReport } from '../../worker/sources/reports.ts';

const text = readFileSync(new URL('../ground/type-iv-2003-04.json', import.meta.url), 'utf8');
const table = holdoverTableSchema.parse(JSON.parse(text));
/** The season of the table, so that its windows hold. Day at Burlington. */
const DEPARTURE_MS = Date.parse('2004-01-14T15:00:00Z');

const stored = (report: string, minutesBefore: number, kind = 'metar') =>
  ({ kind, text: report, issuedMs: DEPARTURE_MS - minutesBefore * 60_000 }) as StoredReport;
const metar = (hhmm: string, groups: string) => `METAR KBTV 14${hhmm}Z ${groups}=`;

function ground(
  reports: readonly StoredReport[],
  more: { fluids?: readonly FluidType[] | undefined; atMs?: number; skin?: WingSkin } = {},
  tables = [{ operator: 'a', id: 'x', table, ingestedMs: 0 }],
) {
  const { fluids = ['I', 'IV'], atMs = DEPARTURE_MS, skin } = more;
  const at = { latDeg: 44.47, lonDeg: -73.15 };
  const answer = groundAnswer(
    { reports, tables },
    { aerodrome: 'KBTV', at, departureMs: atMs, fluids, skin, isInvented: true },
  );
  expect(groundSchema.safeParse(answer).error).toBeUndefined();
  return answer;
}

const SNOW = metar('1454', '33008KT 1SM -SN OVC025 M02/M03 A3003');

describe('snow, an hour and six minutes ago or less', () => {
  it('calls for treatment in two steps and has the window of each mix', () => {
    const { treatment, holdover, weather, report } = ground([stored(SNOW, 6)]);
    expect(report).toMatchObject({ isFresh: true, observedUtc: '2004-01-14T14:54:00.000Z' });
    expect(weather.falling).toEqual(['light-snow']);
    expect(treatment.need).toBe('needed');
    expect(treatment.steps).toHaveLength(3);
    // -2 °C in whole degrees is -1.5 to -2.5, all in the row down to -3 of the table: 0:30-0:55, 0:25-0:50, 0:05-0:15.
    expect(holdover.map(({ mix, outcome }) => [mix, outcome])).toEqual([
      ['100/0', { kind: 'window', minimumMinutes: 30, maximumMinutes: 55 }],
      ['75/25', { kind: 'window', minimumMinutes: 25, maximumMinutes: 50 }],
      ['50/50', { kind: 'window', minimumMinutes: 5, maximumMinutes: 15 }],
    ]);
  });

  it('at night it is heavier', () => {
    const night = metar('0454', '33008KT 1SM -SN OVC025 M07/M08 A3003');
    const atMs = Date.parse('2004-01-14T05:00:00Z');
    expect(ground([{ ...stored(night, 0), issuedMs: atMs - 360_000 }], { atMs }).weather.falling).toEqual([
      'moderate-snow',
    ]);
  });

  it('seen in the dark, before a departure by day, it is judged as in the dark', () => {
    // 12:50 UTC is dark at Burlington in January, 14:10 UTC day.
    const atMs = Date.parse('2004-01-14T14:10:00Z');
    const dark = metar('1250', '33008KT 1SM -SN OVC025 M07/M08 A3003');
    expect(ground([{ ...stored(dark, 0), issuedMs: atMs - 4_800_000 }], { atMs }).weather.falling).toEqual([
      'moderate-snow',
    ]);
  });

  it('made-up and historic tables stand beside made-up air alone', () => {
    const leg = {
      aerodrome: 'KBTV',
      at: { latDeg: 44.47, lonDeg: -73.15 },
      departureMs: DEPARTURE_MS,
      fluids: undefined,
      skin: undefined,
    };
    const reads = { reports: [stored(SNOW, 6)], tables: [{ operator: 'a', id: 'x', table, ingestedMs: 0 }] };
    expect(groundAnswer(reads, { ...leg, isInvented: false }).tables).toEqual([]);
  });

  it('a table of a type that the flight manual does not list is not offered', () => {
    expect(ground([stored(SNOW, 6)], { fluids: ['I'] })).toMatchObject({ tables: [], holdover: [] });
  });

  it('of tables by the skin of the wing only those of its own and of any are offered; where nobody says its skin, all', () => {
    const tables = (['any', 'metal', 'composite'] as const).map((surface) => ({
      operator: 'a',
      id: surface,
      table: { ...table, surface },
      ingestedMs: 0,
    }));
    const offered = (skin?: WingSkin) => {
      const answer = ground([stored(SNOW, 6)], skin === undefined ? {} : { skin }, tables);
      expect(new Set(answer.holdover.map(({ tableIndex }) => tableIndex)).size).toBe(answer.tables.length);
      return answer.tables.map((each) => each.table.surface);
    };
    expect(offered('metal')).toEqual(['any', 'metal']);
    expect(offered('composite')).toEqual(['any', 'composite']);
    expect(offered()).toEqual(['any', 'metal', 'composite']);
  });

  it('out of its season it has no time', () => {
    const atMs = DEPARTURE_MS + 366 * 86_400_000;
    const later = ground(
      [{ ...stored(metar('1454', '33008KT 1SM -SN OVC025 M02/M03 A3003'), 0), issuedMs: atMs - 360_000 }],
      { atMs },
    );
    for (const { outcome } of later.holdover)
      expect(outcome).toMatchObject({ kind: 'unknown', why: expect.stringContaining('season') });
  });
});

describe('nothing is worked out', () => {
  it.each([
    ['without a report', [], /No observation/],
    [
      'from one of 91 minutes before',
      [stored(metar('1329', '33008KT 1SM -SN OVC025 M02/M03 A3003'), 91)],
      /over 90 min old/,
    ],
    ['where the newest does not read', [stored('METAR KBTV 14', 2), stored(SNOW, 6)], /No observation/],
    ['from no observation', [stored('METAR KBTV 141454Z NIL=', 6), stored(SNOW, 60)], /not known/],
    [
      'where part of the weather is not read',
      [stored(metar('1454', '33008KT 1SM FRZA OVC025 M02/M03 A3003'), 6)],
      /what falls.*not known/,
    ],
  ] as const)('%s', (_, reports, reason) => {
    const { treatment, holdover, weather } = ground(reports);
    expect(weather.falling).toBeNull();
    expect(treatment.need).toBe('unknown');
    expect(treatment.reasons.join('; ')).toMatch(reason);
    for (const { outcome } of holdover) expect(outcome.kind).toBe('unknown');
  });

  it('90 minutes are not too old', () => {
    expect(ground([stored(metar('1330', '33008KT 1SM -SN OVC025 M02/M03 A3003'), 90)]).report?.isFresh).toBe(
      true,
    );
  });

  it.each(['PL', '+SN', 'FZRA', 'UP', 'GS'])('%s has no holdover time in any mix', (weather) => {
    const { holdover } = ground([stored(metar('1454', `33008KT 2SM ${weather} OVC025 M02/M03 A3003`), 6)]);
    expect(holdover.map(({ outcome }) => outcome.kind)).toEqual(['none', 'none', 'none']);
  });
});

it('a forecast tells what may fall around the departure, and gives no time', () => {
  const taf = 'TAF KBTV 141130Z 1412/1512 33008KT P6SM OVC025 TEMPO 1414/1416 1SM -FZRA=';
  const { forecast, holdover, treatment } = ground([stored(taf, 210, 'taf')]);
  expect(forecast).toMatchObject({ falling: ['light-freezing-rain'] });
  expect(treatment.need).toBe('unknown');
  for (const { outcome } of holdover) expect(outcome.kind).toBe('unknown');
});

it('at a later departure, which the report is too old for, the forecast tells what may fall, and temperature and time stay unknown', () => {
  const taf = 'TAF KBTV 141130Z 1412/1512 33008KT P6SM OVC025 FM141700 33008KT 2SM -SN OVC010=';
  const atMs = DEPARTURE_MS + 3 * 3_600_000;
  const answer = ground([stored(SNOW, 6), stored(taf, 210, 'taf')], { atMs });
  expect(answer.report?.isFresh).toBe(false);
  // Two miles by day on the warm, heavier side: light by both charts (reference, TC 2003: over 1 1/2 to 3; US: 3200 m).
  expect(answer.forecast?.falling).toEqual(['light-snow']);
  expect(answer.weather).toMatchObject({ temperature: null, falling: null });
  expect(answer.treatment.need).toBe('unknown');
  expect(answer.treatment.reasons.join('; ')).toMatch(/Expected around the departure: .*snow/);
  for (const { outcome } of answer.holdover) expect(outcome.kind).toBe('unknown');
});

it('snow in a report without a temperature has no time in any mix', () => {
  const { holdover } = ground([stored(metar('1454', '33008KT 2SM -SN OVC025 A3003'), 6)]);
  expect(holdover.map(({ outcome }) => outcome.kind)).toEqual(['unknown', 'unknown', 'unknown']);
});

it('every caution stands in the answer', () => {
  expect(ground([]).cautions).toEqual(GROUND_CAUTIONS);
  expect(GROUND_CAUTIONS.join(' ')).toMatch(/flight manual.*clean wing.*135\.227/s);
});

it('what is expected lifts the need, and one that cannot be read makes it unknown', () => {
  const dry = stored(metar('1454', '33015KT 10SM SCT250 M02/M12 A3003'), 6);
  const taf = (groups: string) =>
    stored(`TAF KBTV 141130Z 1412/1512 33015KT P6SM SCT250 ${groups}=`, 210, 'taf');
  expect(ground([dry, taf('TEMPO 1414/1416 1SM -FZRA')]).treatment.reasons.join()).toMatch(
    /Expected around the departure: light freezing rain/,
  );
  expect(ground([dry, taf('TEMPO 1414/14XX 1SM -FZRA')]).treatment.need).toBe('unknown');
});
