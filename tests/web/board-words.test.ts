import { describe, expect, it } from 'vitest';
import { boardIdOf, linkOf, secretOf } from '../../web/src/board/board-key.ts';
import { briefAddress } from '../../web/src/board/brief-address.ts';
import { dataAgeWords, hearingWords } from '../../web/src/board/head-words.ts';
import { heldEvaluation } from '../../web/src/board/held-evaluation.ts';
import {
  departsWords,
  instantNear,
  minuteUtc,
  otherDay,
  overdueMs,
  zoneClock,
} from '../../web/src/board/leg-times.ts';
import {
  acceptWords,
  acknowledgedBy,
  altitudeSaid,
  beforeWords,
  builtWords,
  fluidSaid,
  iceSaid,
  inoperativeWords,
  leastBadWords,
  sharedSaid,
  unknownStretchSaid,
  weatherSaid,
  weathersSaid,
} from '../../web/src/board/row-words.ts';
import { litersOf } from '../../web/src/board/tail-liters.ts';
import { legTextFromQuery, readLegText } from '../../web/src/url-state.ts';
import type { BoardFlight, Evaluation } from '../../worker/schema/board.ts';
import {
  AS_OF_UTC,
  INVENTED_BOARD_ID,
  INVENTED_KEY,
  inventedFlight,
  utcAt,
} from '../support/invented-board.ts';

const nowMs = Date.parse(AS_OF_UTC);
const base = inventedFlight(5, { departed: null, arrived: null, cancelled: false });
const flightWith = (changes: Partial<BoardFlight>): BoardFlight => ({ ...base, ...changes });
const evaluated = (changes: Partial<Evaluation>) =>
  flightWith({ evaluation: { ...base.evaluation!, ...changes } });
const exposure = base.evaluation!.exposure!;

describe('the countdown', () => {
  it.each([
    [65, 'in 1 h 5 min'],
    [12, 'in 12 min'],
    [0.4, 'now'],
    [-0.4, 'now'],
    [-25, '25 min late'],
  ])('%d minutes before departure says %s', (minutes, words) => {
    expect(
      departsWords(flightWith({ departureUtc: new Date(nowMs + minutes * 60_000).toISOString() }), nowMs),
    ).toBe(words);
  });

  it('gives way to the marks', () => {
    const departed = { atUtc: utcAt(-20), by: 'Robin' };
    expect(departsWords(flightWith({ departed }), nowMs)).toBe('departed 09:52');
    expect(departsWords(flightWith({ departed, arrived: { atUtc: utcAt(-2), by: 'Kim' } }), nowMs)).toBe(
      'arrived 10:10',
    );
    expect(departsWords(flightWith({ cancelled: true }), nowMs)).toBe('cancelled');
  });
});

describe('overdue', () => {
  it('begins at its instant, and ends with the arrival', () => {
    const flight = flightWith({ overdueAtUtc: utcAt(-7) });
    expect(overdueMs(flight, nowMs)).toBe(7 * 60_000);
    expect(overdueMs(flightWith({ overdueAtUtc: utcAt(1) }), nowMs)).toBeUndefined();
    expect(overdueMs({ ...flight, arrived: { atUtc: utcAt(-2), by: 'Kim' } }, nowMs)).toBeUndefined();
    expect(overdueMs({ ...flight, cancelled: true }, nowMs)).toBeUndefined();
  });
});

describe('a time that is typed', () => {
  it('is of the day that is nearest, across midnight too', () => {
    const near = Date.parse('2026-01-14T23:50:00Z');
    expect(minuteUtc(instantNear('00:10', near)!)).toBe('2026-01-15T00:10:00Z');
    expect(minuteUtc(instantNear('2345', near)!)).toBe('2026-01-14T23:45:00Z');
    expect(minuteUtc(instantNear('23:55', Date.parse('2026-01-15T00:05:00Z'))!)).toBe('2026-01-14T23:55:00Z');
  });

  it.each(['', '24:00', '5:40', '12:60', 'noon'])('that is none (%s) is none', (text) => {
    expect(instantNear(text, nowMs)).toBeUndefined();
  });
});

it('times stand in the board’s zone, with the day where it is another', () => {
  expect(zoneClock(AS_OF_UTC, 'America/New_York')).toBe('05:12 EST');
  expect(otherDay('2026-01-15T00:10:00Z', nowMs)).toBe('15 Jan');
  expect(otherDay('2026-01-14T23:10:00Z', nowMs)).toBe('');
});

describe('a leg that was never worked out', () => {
  const flight = flightWith({ evaluation: null });

  it('says unknown of altitude, ice and fluid, hatched', () => {
    for (const said of [altitudeSaid(flight), iceSaid(flight), fluidSaid(flight)]) {
      expect(said.weight).toBe('unknown');
      expect(said.text).toContain('unknown');
    }
    expect(briefAddress(flight, INVENTED_BOARD_ID)).toBeUndefined();
  });
});

describe('a verdict that holds no more', () => {
  const figures = { ...exposure, unknownMinutes: 20, builtMmHigh: 7, altitudeFt: 9000 };
  const { evaluation } = evaluated({ exposure: figures });
  const gone = [
    flightWith({ evaluation, verdict: 'unknown', why: 'The last attempt failed' }),
    // Worked out to be unknown, and gone by age since: the word is the same, what it rests on is not.
    flightWith({
      evaluation: { ...evaluation!, verdict: 'unknown' },
      verdict: 'unknown',
      why: 'Newer data were due',
    }),
  ];

  it.each(gone)('keeps no altitude, range, ice, fluid and weather ($why)', (flight) => {
    expect(heldEvaluation(flight)).toBeUndefined();
    const said = [altitudeSaid(flight), iceSaid(flight), fluidSaid(flight), ...weathersSaid(flight)];
    expect(said.map(({ text }) => text)).toEqual([
      'altitude unknown',
      'ice unknown',
      'fluid unknown',
      `${flight.to} unknown`,
    ]);
    expect(new Set(said.map(({ weight }) => weight))).toEqual(new Set(['unknown']));
    expect([acceptWords(flight), builtWords(flight), leastBadWords(flight)]).toEqual(['', '', '']);
    expect(unknownStretchSaid(flight)).toBeUndefined();
  });

  it('tells what it was as past, and nothing of the kind while it holds', () => {
    expect(beforeWords(gone[0]!)).toMatch(
      /^Before, not to be held to: at \d\d:\d\d UTC within limits, 12,000 ft, ice up to \d+ min, worst light, fluid /,
    );
    const held = flightWith({ evaluation });
    expect(heldEvaluation(held)).toBe(evaluation);
    expect(beforeWords(held)).toBe('');
    expect([acceptWords(held), builtWords(held), leastBadWords(held)]).not.toContain('');
  });
});

describe('ice', () => {
  it('is said with its most minutes, rounded up, and its worst', () => {
    expect(
      iceSaid(evaluated({ exposure: { ...exposure, icingMinutesHigh: 21, worstIntensity: 'moderate' } })),
    ).toEqual({
      text: 'ice up to 25 min, worst moderate',
      weight: 'plain',
    });
  });

  it('with large drops is against the flight even where no minute counts', () => {
    const drops = { ...exposure, icingMinutesHigh: 0, worstLargeDrops: 'freezing-rain' } as const;
    expect(iceSaid(evaluated({ exposure: drops }))).toEqual({
      text: '0 min in ice, freezing rain',
      weight: 'strong',
    });
  });

  it('whose worst is not known is unknown, and so are stretches that are not', () => {
    expect(iceSaid(evaluated({ exposure: { ...exposure, worstIntensity: null } })).weight).toBe('unknown');
    expect(unknownStretchSaid(evaluated({ exposure: { ...exposure, unknownMinutes: 1 } }))).toEqual({
      text: '5 min unknown',
      weight: 'unknown',
    });
    expect(unknownStretchSaid(evaluated({ exposure: { ...exposure, unknownMinutes: 0 } }))).toBeUndefined();
  });

  it('without any altitude to fly says so', () => {
    expect(iceSaid(evaluated({ exposure: null }))).toEqual({
      text: 'no altitude can be flown',
      weight: 'strong',
    });
    expect(altitudeSaid(evaluated({ altitudeFt: null }))).toEqual({ text: 'none to file', weight: 'strong' });
  });
});

describe('fluid', () => {
  it('is what may be needed of what is aboard', () => {
    const fluid = { onBoardL: 80, neededHighL: 46.2, coversHighEstimate: true };
    expect(fluidSaid(evaluated({ fluid })).text).toBe('fluid 50 of 80 L');
    expect(
      fluidSaid(evaluated({ fluid: { onBoardL: 40, neededHighL: 46.2, coversHighEstimate: false } })),
    ).toEqual({
      text: 'fluid short: needs 50 L, has 40 L',
      weight: 'strong',
    });
  });

  it('that is not known is hatched, and one that does not matter is not', () => {
    expect(fluidSaid(evaluated({ fluid: null, fluidUnknownWhy: 'nobody entered it' })).weight).toBe(
      'unknown',
    );
    expect(fluidSaid(evaluated({ fluid: null, fluidUnknownWhy: '' })).weight).toBe('quiet');
  });
});

it('weather below minima is strong with its figures, unknown is hatched', () => {
  const standing = { ...base.evaluation!.destination, aerodrome: 'KBGR', ceilingFt: 200, visibilityM: 800 };
  expect(weatherSaid({ ...standing, standing: 'below' }, '')).toEqual({
    text: 'KBGR below minima, 200 ft 800 m',
    weight: 'strong',
  });
  expect(weatherSaid({ ...standing, standing: 'above' }, '')).toEqual({
    text: 'KBGR above minima',
    weight: 'plain',
  });
  expect(weatherSaid({ ...standing, standing: 'unknown' }, '')).toEqual({
    text: 'KBGR unknown',
    weight: 'unknown',
  });
});

it('inoperative equipment is named', () => {
  expect(inoperativeWords(['wing-fluid', 'pitot-heat'])).toBe('Inoperative: wing fluid, pitot heat');
  expect(inoperativeWords([])).toBe('');
});

it('an acknowledgement counts for the change that it names, not for a later one', () => {
  const change = { seq: 7, atUtc: AS_OF_UTC, kind: 'worse', sentence: '' } as const;
  const acknowledged = { seq: 7, by: 'Kim', atUtc: AS_OF_UTC };
  expect(acknowledgedBy(flightWith({ change, acknowledged }))).toBe('Kim');
  expect(acknowledgedBy(flightWith({ change: { ...change, seq: 8 }, acknowledged }))).toBeUndefined();
});

it('what differs from the shared brief is said', () => {
  const shared = { id: 'x', atUtc: AS_OF_UTC, since: ['11,000 ft to file, 9,000 ft then'] };
  expect(sharedSaid(flightWith({ shared }))?.text).toBe('since shared: 11,000 ft to file, 9,000 ft then');
  expect(sharedSaid(flightWith({ shared: { ...shared, since: [] } }))?.text).toBe(
    'as shared: verdict and altitude',
  );
  expect(sharedSaid(flightWith({ shared: null }))).toBeUndefined();
});

it('the head says how it hears of changes, and how old its data are', () => {
  expect(hearingWords({ kind: 'offline', sinceMs: nowMs })).toBe('no connection since 10:12 UTC');
  expect(hearingWords({ kind: 'polling' })).toBe('asking every 20 s');
  const aged = (oldest: number, newest: number) =>
    evaluated({ oldestDataUtc: utcAt(-oldest), newestDataUtc: utcAt(-newest) });
  const home = { ...aged(900, 1), arrived: { atUtc: utcAt(-2), by: 'Kim' } };
  expect(dataAgeWords([aged(100, 90), aged(310, 60), aged(40, 12), home], nowMs)).toBe(
    'oldest data 5 h 10 min, newest 12 min',
  );
  expect(dataAgeWords([aged(100, -48), flightWith({ evaluation: null })], nowMs)).toBe(
    'oldest data 1 h 40 min, newest for 11:00 UTC; 1 leg without data',
  );
  expect(dataAgeWords([flightWith({ evaluation: null })], nowMs)).toBe('no data');
  expect(dataAgeWords([home], nowMs)).toBe('no leg is still to fly');
});

it('the brief beside a leg is asked for with the very request that it was worked out with, and without the key', () => {
  const address = briefAddress(base, INVENTED_BOARD_ID)!;
  const query = new URL(address, 'http://localhost').search;
  expect(readLegText(legTextFromQuery(query))).toEqual({
    kind: 'request',
    request: base.evaluation!.request,
  });
  expect(new URLSearchParams(query).get('board')).toBe(INVENTED_BOARD_ID);
  expect(address).not.toContain('#');
});

describe('a link to a board', () => {
  it('is read whole or from its path on, with a query between', () => {
    const link = { boardId: INVENTED_BOARD_ID, key: INVENTED_KEY };
    expect(linkOf(` https://rimeway.example/board/${INVENTED_BOARD_ID}#${INVENTED_KEY} `)).toEqual(link);
    expect(linkOf(`/board/${INVENTED_BOARD_ID}?next=6#${INVENTED_KEY}`)).toEqual(link);
  });

  it.each([`/board/${INVENTED_BOARD_ID}`, `/board/short#${INVENTED_KEY}`, `/b/${INVENTED_BOARD_ID}`, ''])(
    'is not %s',
    (text) => {
      expect(linkOf(text)).toBeUndefined();
    },
  );

  it('names its board in its path, and the key behind the #', () => {
    expect(boardIdOf(`/board/${INVENTED_BOARD_ID}`)).toBe(INVENTED_BOARD_ID);
    expect(boardIdOf('/board/../api')).toBeUndefined();
    expect(secretOf(`#${INVENTED_KEY}`)).toBe(INVENTED_KEY);
    expect(secretOf('#short')).toBeUndefined();
  });
});

it('liters are a number up to a thousand, nothing is unknown, all else is refused', () => {
  expect([litersOf('62,5'), litersOf(' 0 '), litersOf('')]).toEqual([62.5, 0, null]);
  expect([litersOf('1001'), litersOf('-1'), litersOf('full'), litersOf('1e2')]).toEqual([
    undefined,
    undefined,
    undefined,
    undefined,
  ]);
});
