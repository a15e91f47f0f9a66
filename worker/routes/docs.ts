/** GET /api/docs. */
import type { Context } from 'hono';
import type { AppEnv } from './app-env.ts';

export function getDocs(context: Context<AppEnv>): Response {
  return context.json({});
}
