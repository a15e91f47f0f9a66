/** The one door of the interface: who calls, whether they may, how often, and what is noted of it. No handler looks at a key itself. */
import type { Context, MiddlewareHandler } from 'hono';
import * as z from 'zod/mini';
import type { Settings } from '../env.ts';
import { AccessError, AppBug } from '../errors.ts';
import { type Call, limitOf } from '../schema/call.ts';
import { PATH_PARAMETERS, type PathParameterName } from '../schema/path-parameters.ts';
import { checkedAccess } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';
import { callerOf, operatorOf, type Principal, principalText } from './principal.ts';
import { countWrite, senderOf } from './write-limits.ts';

/**
 * Refused calls reach no handler and are not audited, since they change nothing. A write to a board is audited before it is answered:
 * where it cannot be, the answer is an error although the write stands, so that nobody is told of a success that nobody could trace.
 */
export function gate(call: Call): MiddlewareHandler<AppEnv> {
  const limit = limitOf(call);
  return async (context, next) => {
    await admit(context, call);
    if (limit !== undefined) {
      const { deps, settings, principal } = context.var;
      const nowMs = deps.nowMs();
      const sender = await senderOf(principal, context.req.raw, { settings, nowMs });
      await countWrite(deps.writeCounts, sender, limit, nowMs);
    }
    checkPath(context, call);
    await next();
    if (call.method !== 'GET') await auditBoard(context, call);
  };
}

async function admit(context: Context<AppEnv>, call: Call): Promise<void> {
  const { deps, settings } = context.var;
  const boardId = context.req.param('board');
  const { principal, board } = await callerOf(context.req.raw, call, { deps, settings, boardId });
  const access = checkedAccess(call.access, principal, board);
  refuseForeign(context, call, principal);
  refuseSharing(call, principal);
  context.set('principal', principal);
  context.set('operators', readableBy(principal, settings));
  if (access === undefined) return;
  if (board === undefined) throw new AppBug(`${call.name}: found access to no board, expected one`);
  context.set('board', board);
  context.set('access', access);
}

/** A link that only looks makes nothing of the operator's data that others may open. */
function refuseSharing(call: Call, principal: Principal): void {
  if (call.limit === 'storing' && principal.kind === 'board-key' && principal.access === 'view') {
    throw new AccessError('not-enough');
  }
}

/** Where a proxy at the edge vouches for a browser by its cookie, another site's page could make it write, or listen. */
function refuseForeign(context: Context<AppEnv>, call: Call, principal: Principal): void {
  if (principal.kind !== 'sign-in' || context.var.settings.signIn?.header === 'authorization') return;
  if (call.method === 'GET' && call.keyIn !== 'subprotocol') return;
  const origin = context.req.header('origin');
  if (origin !== undefined && origin !== new URL(context.req.url).origin) throw new AccessError('wrong');
}

function readableBy(principal: Principal, { openOperators }: Settings): readonly string[] {
  const own = operatorOf(principal);
  return own === undefined || openOperators.includes(own) ? openOperators : [own, ...openOperators];
}

/** The board's own name was looked for, and a shared brief says itself that there is none. */
const FOUND_OTHERWISE: ReadonlySet<string> = new Set(['board', 'id']);

/** @throws InvalidRequestError for a part of the path that can name nothing. */
function checkPath(context: Context<AppEnv>, { path }: Call): void {
  for (const [, name = ''] of path.matchAll(/\{(\w+)\}/g)) {
    if (FOUND_OTHERWISE.has(name)) continue;
    const schema = z.object({ [name]: PATH_PARAMETERS[name as PathParameterName] });
    parseRequest(schema, { [name]: context.req.param(name) });
  }
}

const LONGEST_TARGET = 200;

async function auditBoard(context: Context<AppEnv>, call: Call): Promise<void> {
  const { deps, principal, board, createdBoard } = context.var;
  const boardId = board?.id ?? createdBoard;
  // Of a board that is gone nothing stays.
  if (boardId === undefined || call.name === 'deleteBoard') return;
  await deps.boards.audit({
    boardId,
    atMs: deps.nowMs(),
    principal: principalText(principal),
    action: call.name,
    target: targetOf(context, call),
    status: context.res.status,
  });
}

/** Which leg, flight, aeroplane or link; nothing of the query, which may name a person who is to be forgotten. */
function targetOf(context: Context<AppEnv>, { path }: Call): string {
  const named = [...path.matchAll(/\{(\w+)\}/g)].filter(([, name]) => name !== 'board');
  return named
    .map(([, name = '']) => `${name} ${context.req.param(name) ?? ''}`)
    .join(', ')
    .slice(0, LONGEST_TARGET);
}
