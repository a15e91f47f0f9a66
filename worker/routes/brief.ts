/** POST /api/brief: the leg in, the brief out; the same request over the same data gives the same bytes. */
import type { Context } from 'hono';
import { makeBrief } from '../brief/make-brief.ts';
import { postBrief as call } from '../schema/calls-brief.ts';
import type { AppEnv } from './app-env.ts';
import { requestBody } from './read-call.ts';

export async function postBrief(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const brief = await makeBrief(deps, await requestBody(context, call), { operators });
  return new Response(JSON.stringify(brief), {
    headers: { 'content-type': 'application/geo+json', 'cache-control': 'no-store' },
  });
}
