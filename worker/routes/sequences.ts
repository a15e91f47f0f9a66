/** POST /api/sequences: several legs on one tank in, each of them with what the legs before leave it out. */
import type { Context } from 'hono';
import { makeSequence } from '../brief/make-sequence.ts';
import { withField } from '../brief/named-field.ts';
import { postSequence as call } from '../schema/calls-brief.ts';
import { bodyJson } from '../sources/body.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

export async function postSequence(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const body = await bodyJson(context.req.raw, call.mostBytes);
  const request = await withField(bracketed, () => parseRequest(call.request, body));
  const answer = await makeSequence(deps, request, { operators });
  return new Response(JSON.stringify(answer), {
    headers: { 'content-type': 'application/json', 'cache-control': 'no-store' },
  });
}

/** The number of a leg as every refusal of a sequence writes it: legs[2].route. */
const bracketed = (field: string): string => field.replace(/^legs\.(\d+)/, 'legs[$1]');
