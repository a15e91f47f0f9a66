/** POST /api/column: one column of air in, the diagnosis level by level out. */
import type { Context } from 'hono';
import { diagnoseColumn } from '../brief/column-diagnosis.ts';
import { columnRequestSchema } from '../schema/column.ts';
import { bodyJson } from '../sources/body.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

const MOST_BYTES = 512 * 1024;

export async function postColumn(context: Context<AppEnv>): Promise<Response> {
  const request = parseRequest(columnRequestSchema, await bodyJson(context.req.raw, MOST_BYTES));
  return context.json(diagnoseColumn(request));
}
