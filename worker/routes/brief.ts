/** POST /api/brief: the leg in, the brief out; the same request over the same data gives the same bytes. */
import type { Context } from 'hono';
import { makeBrief } from '../brief/make-brief.ts';
import { briefRequestSchema } from '../schema/request.ts';
import { bodyJson } from '../sources/body.ts';
import { readableOperators } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

const MOST_BYTES = 256 * 1024;

export async function postBrief(context: Context<AppEnv>): Promise<Response> {
  const operators = await readableOperators(context.req.raw, context.var.settings);
  const request = parseRequest(briefRequestSchema, await bodyJson(context.req.raw, MOST_BYTES));
  const brief = await makeBrief(context.var.deps, request, { operators });
  return new Response(JSON.stringify(brief), {
    headers: { 'content-type': 'application/geo+json', 'cache-control': 'no-store' },
  });
}
