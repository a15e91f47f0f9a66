/** GET /api/health: version, age of the newest data, and a decode of one bundled sample. */
import type { Context } from 'hono';
import { METHOD_VERSION } from '../brief/method.ts';
import { readIgra } from '../formats/igra.ts';
import type { AppEnv } from './app-env.ts';

/** Two invented levels in IGRA version 2 columns; reading them back proves that the decoder runs. */
const SAMPLE = [
  '#ZZM00099999 2024 01 15 12 1105    2 test-src           447500  -852500',
  '21 -9999  98700B  197B  -21B-9999    12    60    41',
  '10 -9999  85000B 1398B   13B-9999    30   150   154',
].join('\n');

export async function getHealth(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const [soundings, hours] = await Promise.all([
    deps.soundings.list(settings.openOperators, 1),
    deps.grids.list(settings.openOperators, 1),
  ]);
  const sample = readIgra(SAMPLE).soundings[0];
  const decodes = sample?.levels.levelCount === 2 && sample.levels.pressurePa[1] === 85000;
  return context.json(
    {
      version: METHOD_VERSION,
      sampleDecodes: decodes,
      newestSoundingUtc: utcOrNull(soundings[0]?.timeMs),
      newestGridRunUtc: utcOrNull(hours[0]?.runMs),
      nowUtc: new Date(deps.nowMs()).toISOString(),
    },
    decodes ? 200 : 503,
  );
}

const utcOrNull = (instantMs: number | undefined) =>
  instantMs === undefined ? null : new Date(instantMs).toISOString();
