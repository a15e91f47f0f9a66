/** What a request says, held against the entry of its call. */
import type { Context } from 'hono';
import type * as z from 'zod/mini';
import { AppBug } from '../errors.ts';
import { type Call, MOST_BODY_BYTES } from '../schema/call.ts';
import { bodyJson } from '../sources/body.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';
import { operatorOf } from './principal.ts';

/** The JSON body. @throws InvalidRequestError with the path of the first member that does not fit. */
export async function requestBody<Schema extends z.ZodMiniType>(
  context: Context<AppEnv>,
  { request, mostBytes = MOST_BODY_BYTES }: Pick<Call, 'mostBytes'> & { readonly request: Schema },
): Promise<z.output<Schema>> {
  return parseRequest(request, await bodyJson(context.req.raw, mostBytes));
}

/** Members of the address's query. @throws InvalidRequestError as requestBody does. */
export function requestQuery<Schema extends z.ZodMiniObject>(
  context: Context<AppEnv>,
  { query }: { readonly query: Schema },
): z.output<Schema> {
  return parseRequest(query, context.req.query());
}

/** For whom a call writes: the gate let no other in. */
export function writingOperator(context: Context<AppEnv>): string {
  const operator = operatorOf(context.var.principal);
  if (operator === undefined) throw new AppBug('found nobody who writes, expected an operator');
  return operator;
}
