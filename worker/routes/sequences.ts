/** POST /api/sequences: several legs on one tank in, each of them with what the legs before leave it out. */
import type { Context } from 'hono';
import { makeSequence } from '../brief/make-sequence.ts';
import { withField } from '../brief/named-field.ts';
import { sequenceRequestSchema } from '../schema/sequence.ts';
import { bodyJson } from '../sources/body.ts';
import { readableOperators } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

const MOST_BYTES = 1024 * 1024;

export async function postSequence(context: Context<AppEnv>): Promise<Response> {
  const operators = await readableOperators(context.req.raw, context.var.settings);
  const body = await bodyJson(context.req.raw, MOST_BYTES);
  const request = await withField(bracketed, () => parseRequest(sequenceRequestSchema, body));
  const answer = await makeSequence(context.var.deps, request, { operators });
  return new Response(JSON.stringify(answer), {
    headers: { 'content-type': 'application/json', 'cache-control': 'no-store' },
  });
}

/** The number of a leg as every refusal of a sequence writes it: legs[2].route. */
const bracketed = (field: string): string => field.replace(/^legs\.(\d+)/, 'legs[$1]');
