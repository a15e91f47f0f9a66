/** GET /api/openapi.json. */
import type { Context } from 'hono';
import type { AppEnv } from './app-env.ts';

export function getOpenapi(context: Context<AppEnv>): Response {
  return context.json({});
}
