/** A board on a running instance, with its keys, for tests that act on it from outside. */
import type { BoardAnswer, CreatedBoard, ScheduleLeg } from '../../worker/schema/board.ts';
import type { TestInstance } from './local-instance.ts';

export interface Sent {
  readonly key?: string | undefined;
  readonly body?: unknown;
  /** Of a body that is text. */
  readonly type?: string;
}

export interface BoardStage {
  readonly id: string;
  readonly path: string;
  readonly editKey: string;
  readonly viewKey: string;
  readonly viewKeyId: string;
  /** One call under the board's own path. */
  readonly ask: (method: string, path: string, sent?: Sent) => Promise<Response>;
  readonly board: (key?: string) => Promise<BoardAnswer>;
  /** Waits until every flight that was called for has been worked out. */
  readonly settled: () => Promise<BoardAnswer>;
}

const WAIT_MS = 60_000;
const POLL_MS = 100;

export async function call(
  baseUrl: string,
  method: string,
  path: string,
  sent: Sent = {},
): Promise<Response> {
  const { key, body, type } = sent;
  const isText = typeof body === 'string';
  return fetch(baseUrl + path, {
    method,
    headers: {
      ...(key === undefined ? {} : { authorization: `Bearer ${key}` }),
      ...(body === undefined ? {} : { 'content-type': type ?? (isText ? 'text/csv' : 'application/json') }),
    },
    ...(body === undefined ? {} : { body: isText ? body : JSON.stringify(body) }),
  });
}

/** By default a board that stands on the demo's morning. */
export async function makeBoard(
  { baseUrl, operatorKey }: Pick<TestInstance, 'baseUrl' | 'operatorKey'>,
  given: { readonly standsAtUtc?: string; readonly timeZone?: string; readonly name?: string } = {},
): Promise<BoardStage> {
  const body = {
    name: 'A board for tests',
    timeZone: 'America/New_York',
    standsAtUtc: '2026-01-14T11:00:00Z',
    ...given,
  };
  const response = await call(baseUrl, 'POST', '/api/boards', { key: operatorKey, body });
  if (response.status !== 201) throw new Error(`board: status ${response.status}, ${await response.text()}`);
  const { id, links } = (await response.json()) as CreatedBoard;
  const link = (access: string) => links.find((each) => each.access === access)!;
  const path = `/api/boards/${id}`;
  const ask: BoardStage['ask'] = (method, under, sent) =>
    call(baseUrl, method, path + under, { key: link('edit').key, ...sent });
  const board = async (key?: string) =>
    (await (await ask('GET', '', key === undefined ? {} : { key })).json()) as BoardAnswer;
  const settled = async () => {
    const untilMs = performance.now() + WAIT_MS;
    for (;;) {
      const answer = await board();
      const isSettled = answer.waiting === 0 && answer.flights.every(isWorkedOut);
      if (isSettled) return answer;
      if (performance.now() > untilMs)
        throw new Error(`board: found ${answer.waiting} flights waiting after ${WAIT_MS} ms, expected none`);
      await new Promise((resolve) => setTimeout(resolve, POLL_MS));
    }
  };
  return {
    ...{ id, path, ask, board, settled },
    editKey: link('edit').key,
    viewKey: link('view').key,
    viewKeyId: link('view').keyId,
  };
}

const isWorkedOut = ({ evaluation, failure, cancelled }: BoardAnswer['flights'][number]) =>
  evaluation !== null || failure !== null || cancelled;

/** A leg of the demo's morning, 11:30 UTC on Wednesday 14 January 2026. */
export function demoScheduleLeg(given: Partial<ScheduleLeg> = {}): ScheduleLeg {
  return {
    label: '101',
    tail: 'ZZ-ONE',
    route: 'KBTV DCT KBGR',
    weekdays: ['wed'],
    departureLocal: '06:30',
    timeZone: null,
    fromDate: '2026-01-14',
    untilDate: '2026-01-14',
    aircraft: 'generic-fluid-turboprop',
    plannedMinutes: 75,
    alternate: null,
    destinationMinima: { ceilingFt: 300, visibilityM: 1200 },
    alternateMinima: null,
    options: {
      altimeterSettingHPa: 1017,
      minimumAltitudes: [
        { fromNm: 0, toNm: 45, altitudeFt: 6500 },
        { fromNm: 45, toNm: 130, altitudeFt: 6200 },
        { fromNm: 130, toNm: 186, altitudeFt: 3300 },
      ],
    },
    ...given,
  };
}
