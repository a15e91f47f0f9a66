/** Single flights of a board: marks, a brief to share, working out anew, acknowledgement. */
import type { Context } from 'hono';
import { flightAnswers } from '../board/board-answer.ts';
import { saidOf } from '../board/summary.ts';
import { shareBrief } from '../brief/share-brief.ts';
import { InvalidRequestError } from '../errors.ts';
import { postAcknowledgement as acknowledgeCall, postFlightMark as markCall } from '../schema/calls-board.ts';
import { boardNowMs, type StoredFlight } from '../sources/boards.ts';
import type { AppEnv } from './app-env.ts';
import { tellSoon } from './ask-soon.ts';
import { requestBody } from './read-call.ts';
import { makerOf } from './shared-briefs.ts';

const MS_PER_DAY = 86_400_000;

export async function postFlightMark(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const mark = await requestBody(context, markCall);
  const flight = await flightOf(context);
  const nowMs = boardNowMs(board, deps.nowMs());
  if (mark.atUtc !== null && Math.abs(Date.parse(mark.atUtc) - flight.departureMs) > 2 * MS_PER_DAY) {
    throw new InvalidRequestError({
      field: 'atUtc',
      found: mark.atUtc,
      expected: 'an instant within two days of the planned departure',
    });
  }
  const marked = await deps.boards.mark(board.id, flight.id, mark);
  if (marked === undefined) throw noSuchFlight(flight.id);
  const tails = await deps.boards.tails(board.id);
  await tellSoon(context);
  return context.json(flightAnswers(board, tails, nowMs)(marked));
}

/** Shares the brief of the flight as it was asked last; what it said then is kept beside the flight. */
export async function postFlightShared(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const flight = await flightOf(context);
  const shown = flightAnswers(
    board,
    await deps.boards.tails(board.id),
    boardNowMs(board, deps.nowMs()),
  )(flight);
  const holds = shown.why === flight.evaluation?.sentence;
  if (flight.evaluation === undefined || !holds) {
    throw new InvalidRequestError({
      field: 'flight',
      found: 'one whose brief does not hold, or was never made',
      expected: 'one with a brief: try again in a minute',
    });
  }
  const { request } = flight.evaluation;
  const { operators, principal } = context.var;
  const order = { request, operators, maker: makerOf(principal), nowMs: deps.nowMs() };
  const { shared, brief } = await shareBrief(deps, order);
  await deps.boards.setShared(board.id, flight.id, {
    ...{ id: shared.id, atMs: shared.createdMs },
    evaluation: saidOf(brief, flight.evaluation),
  });
  await tellSoon(context);
  return context.json({ id: shared.id, link: `/b/${shared.id}` }, 201);
}

export async function postFlightEvaluate(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const flight = await flightOf(context);
  const isAsked = await deps.boards.ask({ boardId: board.id, flightId: flight.id }, deps.nowMs());
  if (isAsked) await deps.sendFlights([{ boardId: board.id, flightIds: [flight.id] }]);
  return new Response(null, { status: 202 });
}

export async function postAcknowledgement(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const { flightId, seq, by } = await requestBody(context, acknowledgeCall);
  const atMs = deps.nowMs();
  const entry = await deps.boards.acknowledge({ boardId: board.id, flightId, seq, by, atMs });
  if (entry === undefined) {
    throw new InvalidRequestError({
      field: 'seq',
      found: `${seq} of ${flightId}`,
      expected: 'a flight of this board and a change of it',
    });
  }
  await tellSoon(context);
  return context.json({ seq: entry.seq, by: entry.by, atUtc: new Date(entry.atMs).toISOString() }, 201);
}

async function flightOf(context: Context<AppEnv>): Promise<StoredFlight> {
  const { deps, board } = context.var;
  const id = context.req.param('flight') ?? '';
  const flight = await deps.boards.flight(board.id, id);
  if (flight === undefined || flight.isRemoved) throw noSuchFlight(id);
  return flight;
}

function noSuchFlight(id: string): InvalidRequestError {
  return new InvalidRequestError({
    field: 'flight',
    found: JSON.stringify(id.slice(0, 60)),
    expected: 'a flight of this board',
  });
}
