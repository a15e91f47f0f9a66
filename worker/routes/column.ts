/** POST /api/column: one column of air in, the diagnosis level by level out. */
import type { Context } from 'hono';
import { diagnoseColumn } from '../brief/column-diagnosis.ts';
import { postColumn as call } from '../schema/calls-brief.ts';
import type { AppEnv } from './app-env.ts';
import { requestBody } from './read-call.ts';

export async function postColumn(context: Context<AppEnv>): Promise<Response> {
  return context.json(diagnoseColumn(await requestBody(context, call)));
}
