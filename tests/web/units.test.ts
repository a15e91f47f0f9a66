/** What is read in the reader's own units and time, and what stays as it was sent. */
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { departureUtc, fieldsInUnits, legFields, legTextFromFields } from '../../web/src/start/leg-fields.ts';
import {
  amountText,
  answerInUnits,
  chooseUnits,
  clockText,
  dateText,
  figureText,
  inUnits,
  TRADE_UNITS,
} from '../../web/src/units.ts';
import { readLegText } from '../../web/src/url-state.ts';

const NOON = '2026-01-14T12:00:00Z';
const zone = process.env.TZ;

beforeEach(() => {
  process.env.TZ = 'America/New_York';
});
afterEach(() => {
  chooseUnits(TRADE_UNITS);
  process.env.TZ = zone;
});

describe('figures', () => {
  // 25.4 mm an inch and 231 cubic inches a US gallon, NIST Handbook 44, appendix C.
  test('inches have two decimals, gallons one, and thousands are read with their comma', () => {
    chooseUnits({ ice: 'in', fluid: 'US gal' });
    expect(amountText('5–8', 'mm')).toBe('0.20–0.31 in');
    expect(amountText('0.6', 'mm/min')).toBe('0.024 in/min');
    expect(amountText('75', 'L')).toBe('19.8 US gal');
    expect(figureText('1,000', 'L')).toBe('264.2');
  });

  test('in the units that they are sent in they stay as they were rounded', () => {
    expect(amountText('1,234', 'L')).toBe('1,234 L');
    expect(inUnits('Up to 5 mm and 12:00 UTC', NOON)).toBe('Up to 5 mm and 12:00 UTC');
  });
});

describe('a sentence of the answer', () => {
  test('has every amount in it rewritten, and nothing else', () => {
    chooseUnits({ ice: 'in', fluid: 'US gal' });
    expect(inUnits('File 11,000 ft: up to 25 min icing, fluid up to 75 of 80 L', NOON)).toBe(
      'File 11,000 ft: up to 25 min icing, fluid up to 19.8 of 21.1 US gal',
    );
    expect(inUnits('Up to 7 mm of ice at 0.4 mm/min, 10 to 12 L left at 8,000 ft', NOON)).toBe(
      'Up to 0.28 in of ice at 0.016 in/min, 2.6 to 3.2 US gal left at 8,000 ft',
    );
    expect(inUnits('2 Low clouds, 5 MM, 3 Lm', NOON)).toBe('2 Low clouds, 5 MM, 3 Lm');
  });

  test('has its times in that of the device, with the day where it says one', () => {
    chooseUnits({ time: 'local' });
    expect(inUnits('Pilot report: light ice at 11:50 UTC', NOON)).toBe(
      'Pilot report: light ice at 06:50 local',
    );
    expect(inUnits('weather that cannot be read 13:00 to 16:00 UTC', NOON)).toBe(
      'weather that cannot be read 08:00 to 11:00 local',
    );
    expect(inUnits('Stale since 14 Jan 03:10 UTC', NOON)).toBe('Stale since 13 Jan 22:10 local');
    expect(inUnits('Stale since 14 Jul 2026 03:10 UTC', NOON)).toBe('Stale since 13 Jul 2026 23:10 local');
  });

  test('is found wherever it stands in an answer; what was sent by others, codes and figures are not touched', () => {
    chooseUnits({ fluid: 'US gal', time: 'local' });
    const answer = {
      leg: { departureUtc: NOON, routeText: 'A 5 L' },
      reasons: [{ code: 'fluid-short', sentence: '10 L short', numbers: { L: 10 } }],
      report: { text: 'UA /TM 1150 5 L' },
      ways: null,
    };
    expect(answerInUnits(answer, NOON)).toEqual({
      ...answer,
      reasons: [{ code: 'fluid-short', sentence: '2.6 US gal short', numbers: { L: 10 } }],
    });
    chooseUnits(TRADE_UNITS);
    expect(answerInUnits(answer, NOON)).toBe(answer);
  });
});

describe('local time', () => {
  beforeEach(() => chooseUnits({ time: 'local' }));

  test('is that of the day itself: summer and winter differ', () => {
    expect([clockText('2026-01-14T03:10Z'), dateText('2026-01-14T03:10Z')]).toEqual(['22:10', '13 Jan']);
    expect([clockText('2026-07-14T03:10Z'), dateText('2026-07-14T03:10Z', true)]).toEqual([
      '23:10',
      '13 Jul 2026',
    ]);
  });

  test('is entered and shown in the form, and asked for in UTC', () => {
    expect(departureUtc('2026-01-13', '2210')).toBe('2026-01-14T03:10Z');
    for (const [date, time] of [
      ['13 January', 'noon'],
      ['2026-02-31', '1000'],
      ['2026-03-08', '0230'],
    ] as const)
      expect(
        readLegText({ route: 'KBTV KBGR', aircraft: 'a', departure: departureUtc(date, time) }),
      ).toMatchObject({ kind: 'invalid', parameter: 'departure' });
    expect(departureUtc('2026-01-14', '1130Z')).toBe('2026-01-14T11:30Z');
    const fields = legFields({ departure: '2026-01-14T03:10:00Z', fluid: '60' }, 0);
    expect([fields.date, fields.time]).toEqual(['2026-01-13', '22:10']);
    expect(legTextFromFields(fields, {}, '').departure).toBe('2026-01-14T03:10Z');
  });
});

test('what nobody touched in the form is asked for as it was, however it is shown', () => {
  chooseUnits({ fluid: 'US gal', time: 'local' });
  for (const fluid of ['40', '10.4', '0.3', '80']) {
    const open = { departure: '2026-11-01T06:30:00Z', fluid, route: 'KBTV KBGR' };
    const fields = { ...legFields(open, 0), route: 'KBTV KALB' };
    expect(legTextFromFields(fields, open, '')).toMatchObject({ departure: open.departure, fluid });
  }
});

test('other units leave the rest of a form that is being filled in alone', () => {
  const typed = { ...legFields({ departure: NOON, fluid: '40' }, 0), route: 'KBT', minimum: '0-40:' };
  const to = { time: 'local', ice: 'in', fluid: 'US gal' } as const;
  const other = fieldsInUnits(typed, TRADE_UNITS, to);
  expect(other).toEqual({ ...typed, date: '2026-01-14', time: '07:00', fluid: '10.57' });
  expect(fieldsInUnits({ ...typed, time: '7', fluid: 'full' }, TRADE_UNITS, to)).toMatchObject({
    time: '7',
    fluid: 'full',
  });
});

test('fluid that is entered in gallons is asked for in liters', () => {
  chooseUnits({ fluid: 'US gal' });
  const fields = { ...legFields({ departure: NOON }, 0), fluid: '20' };
  const text = legTextFromFields(fields, {}, '');
  expect(text.fluid).toBe('75.71');
  expect(legFields(text, 0).fluid).toBe('20');
  expect(legTextFromFields({ ...fields, fluid: 'full' }, {}, '').fluid).toBe('full');
  expect(legTextFromFields({ ...fields, fluid: '' }, {}, '').fluid).toBe('');
});
