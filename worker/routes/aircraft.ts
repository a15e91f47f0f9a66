/** GET /api/aircraft: the built-in profiles, all invented. */
import type { Context } from 'hono';
import { builtInAircraft } from '../flight/aircraft-profiles.ts';
import type { AppEnv } from './app-env.ts';

export function getAircraft(context: Context<AppEnv>): Response {
  return context.json({
    note: 'Invented figures of no real aeroplane: take every number from your flight manual',
    aircraft: builtInAircraft,
  });
}
