/** Boards, flights and outcomes for tests that look at the store of boards alone. An invented network. */
import type { Evaluation, ScheduleLeg } from '../../worker/schema/board.ts';
import type {
  Board,
  BoardKey,
  FlightClaim,
  FlightOutcome,
  PushSubscriber,
  Reach,
  WantedFlight,
} from '../../worker/sources/boards.ts';
import type { createBoardRepository } from '../../worker/store/board-repository.ts';
import type { LocalD1 } from './local-d1.ts';

export type Boards = ReturnType<typeof createBoardRepository>;

export const H = 3_600_000;
export const NOON_MS = Date.UTC(2026, 0, 14, 12);
export const BOARD = 'b'.repeat(22);
export const LEASE_MS = 15 * 60_000;
/** Holds every flight that is made here. */
export const WINDOW = { fromMs: NOON_MS - 12 * H, toMs: NOON_MS + 30 * H, nowMs: NOON_MS };
export const DUE_RULE = { nowMs: NOON_MS, leaseMs: LEASE_MS, ages: [], openOperators: [], limit: 100 };

export const idOf = (letters: string) => letters.padEnd(22, '0');
export const flightIdOf = (letters: string) => `${idOf(letters)}.2026-01-14`;

export function makeBoard(more: Partial<Board> = {}): Board {
  return {
    ...{ id: BOARD, operator: 'demo', name: 'North', timeZone: 'America/New_York', standsMs: undefined },
    ...{ createdMs: NOON_MS, seq: 0, publishedSeq: 0 },
    ...more,
  };
}

export function makeKey(keyId: string, more: Partial<BoardKey> = {}): BoardKey {
  return {
    ...{ keyId, boardId: BOARD, access: 'edit', label: 'desk', sha256: keyId.repeat(4) },
    ...{ createdMs: NOON_MS, revokedMs: undefined },
    ...more,
  };
}

export function makeLeg(more: Partial<ScheduleLeg> = {}): ScheduleLeg {
  return {
    ...{
      label: '123',
      tail: 'N1',
      route: 'AAAA DCT BBBB',
      weekdays: ['mon', 'wed'],
      departureLocal: '08:00',
    },
    ...{ timeZone: null, fromDate: null, untilDate: null, aircraft: 'generic', plannedMinutes: 60 },
    ...{ alternate: null, destinationMinima: null, alternateMinima: null },
    ...more,
  };
}

/** Departs so many hours after noon. */
export function makeFlight(letters: string, afterH = 1, leg: Partial<ScheduleLeg> = {}): WantedFlight {
  return {
    ...{ id: flightIdOf(letters), legId: idOf(letters), leg: makeLeg(leg) },
    departureMs: NOON_MS + afterH * H,
  };
}

export function makeEvaluation(more: Partial<Evaluation> = {}): Evaluation {
  const atUtc = '2026-01-14T13:00:00.000Z';
  return {
    atUtc: '2026-01-14T12:00:00.000Z',
    request: {
      route: 'AAAA DCT BBBB',
      departure: { atUtc },
      aircraft: 'generic',
      options: { fluidOnBoardL: 60 },
    },
    ...{
      methodVersion: '7',
      verdict: 'within-limits',
      sentence: 'File 11,000 ft',
      radio: 'File eleven thousand',
    },
    reasonCodes: ['icing'],
    ...{ altitudeFt: 11_000, acceptFt: { lowerFt: 11_000, upperFt: 13_000 } },
    exposure: {
      ...{ altitudeFt: 11_000, timeMinutes: 60, icingMinutesHigh: 5, unknownMinutes: 0, builtMmHigh: 1 },
      ...{ worstIntensity: 'light', worstLargeDrops: 'none', fluidTripHighL: 25 },
    },
    ...{ fluid: { onBoardL: 60, neededHighL: 25, coversHighEstimate: true }, fluidUnknownWhy: '' },
    destination: {
      ...{ aerodrome: 'BBBB', atUtc, standing: 'above', sentence: 'TAF 11 UTC: 3,000 ft' },
      ...{ ceilingFt: 3000, visibilityM: 9999, issuedUtc: atUtc },
    },
    ...{ alternate: null, arrivalUtc: atUtc, newestDataUtc: atUtc, oldestDataUtc: atUtc, staleAtUtc: atUtc },
    ...{
      hasInventedData: true,
      line: [
        [-73, 44],
        [-69, 45],
      ],
    },
    ...more,
  };
}

export const REACH: Reach = {
  ...{ southDeg: 43, northDeg: 46, westDeg: -75, eastDeg: -67 },
  ...{ fromMs: NOON_MS - 5 * H, toMs: NOON_MS + 8 * H },
};

export const CHANGE = {
  atUtc: '2026-01-14T12:00:00.000Z',
  kind: 'worse',
  sentence: 'Was no ice found',
} as const;

export function makeOutcome(more: Partial<FlightOutcome> = {}): FlightOutcome {
  return { startedMs: NOON_MS, evaluation: makeEvaluation(), reach: REACH, ...more };
}

export function makeSubscriber(at: number, more: Partial<PushSubscriber> = {}): PushSubscriber {
  return {
    ...{ boardId: BOARD, keyId: 'k', endpoint: `https://push.invalid/${at}`, by: 'Ann' },
    keys: { p256dh: 'p'.repeat(87), auth: 'a'.repeat(22) },
    ...more,
  };
}

const TABLES = [
  'boards',
  'board_keys',
  'board_legs',
  'board_flights',
  'board_tails',
  'board_log',
  'board_audit',
  'board_push',
];
const DATA_TABLES = ['grid_hours', 'soundings', 'reports'];

/** Nothing is left of what an earlier test stored. */
export async function emptied({ db }: LocalD1): Promise<void> {
  await db.batch([...TABLES, ...DATA_TABLES].map((table) => db.prepare(`DELETE FROM ${table}`)));
}

/** A board with these flights, none of them worked out; its number is 1. */
export async function withFlights(boards: Boards, flights: readonly WantedFlight[]): Promise<void> {
  await boards.create(makeBoard(), []);
  await boards.agree(BOARD, flights, WINDOW);
}

/** Takes hold of a flight that is due. */
export async function held(boards: Boards, letters: string, nowMs = NOON_MS): Promise<FlightClaim> {
  const claim = await boards.claim(
    { boardId: BOARD, flightId: flightIdOf(letters) },
    { leaseMs: LEASE_MS, nowMs },
  );
  if (claim === undefined) throw new Error(`${letters} was not to be had`);
  return claim;
}

/** Works out a flight that is due. */
export async function workedOut(
  boards: Boards,
  letters: string,
  outcome: Partial<FlightOutcome> = {},
): Promise<void> {
  const claim = await held(boards, letters, outcome.startedMs);
  if (!(await boards.settle(claim, makeOutcome(outcome)))) throw new Error(`${letters} was lost`);
}

export const seqOf = async (boards: Boards) => (await boards.find(BOARD))?.seq;
