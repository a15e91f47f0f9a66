/** GET /api/health: version, age of the newest data, what is late, and a decode of one bundled sample. */
import type { Context } from 'hono';
import { METHOD_VERSION } from '../brief/method.ts';
import { readIgra } from '../formats/igra.ts';
import type { Heartbeat } from '../sources/alarms.ts';
import type { AppEnv } from './app-env.ts';

/** Two invented levels in IGRA version 2 columns; reading them back proves that the decoder runs. */
const SAMPLE = [
  '#ZZM00099999 2024 01 15 12 1105    2 test-src           447500  -852500',
  '21 -9999  98700B  197B  -21B-9999    12    60    41',
  '10 -9999  85000B 1398B   13B-9999    30   150   154',
].join('\n');

/** The schedule comes every five minutes. While it does not, nobody looks for alarms either. */
const SCHEDULE_LATE_MS = 15 * 60_000;
const LATE_CODES: ReadonlySet<string> = new Set(['late-model', 'late-bulletins', 'late-soundings']);

/** `?strict=1` answers 503 while anything is late or any alarm lasts, for a monitor outside that only looks at the status. */
export async function getHealth(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const nowMs = deps.nowMs();
  const [soundings, hours, alarms, schedule] = await Promise.all([
    deps.soundings.list(settings.openOperators, 1),
    deps.grids.list(settings.openOperators, 1),
    deps.alarms.active(),
    deps.alarms.heartbeat('schedule'),
  ]);
  // Anybody asks: whose ascents are late is told of the open operators alone.
  const mayTell = ({ code, subject }: { code: string; subject: string }) =>
    code !== 'late-soundings' || settings.openOperators.includes(subject);
  const told = alarms.filter(mayTell).map(({ code, subject, sinceMs, sentence, lastSeenMs }) => ({
    code,
    subject,
    sentence,
    sinceUtc: utcOrNull(sinceMs),
    lastSeenUtc: utcOrNull(lastSeenMs),
  }));
  const late = [
    ...lateSchedule(schedule, nowMs),
    ...told
      .filter(({ code }) => LATE_CODES.has(code))
      .map(({ subject, sentence, sinceUtc }) => ({ subject, sentence, sinceUtc })),
  ];
  const decodes = sampleDecodes();
  const isStrict = context.req.query('strict') === '1';
  const isWell = decodes && !(isStrict && late.length + alarms.length > 0);
  return context.json(
    {
      version: METHOD_VERSION,
      sampleDecodes: decodes,
      newestSoundingUtc: utcOrNull(soundings[0]?.timeMs),
      newestGridRunUtc: utcOrNull(hours[0]?.runMs),
      scheduleUtc: utcOrNull(schedule?.atMs),
      late,
      alarms: told,
      nowUtc: new Date(nowMs).toISOString(),
    },
    isWell ? 200 : 503,
    { 'cache-control': 'no-store' },
  );
}

/** Late also where it never came: then nothing is known to be well. */
function lateSchedule(schedule: Heartbeat | undefined, nowMs: number) {
  if (schedule !== undefined && Math.abs(nowMs - schedule.atMs) <= SCHEDULE_LATE_MS) return [];
  const sentence =
    schedule === undefined
      ? 'The schedule has not come so far: nothing is fetched and nobody looks for alarms'
      : 'The schedule has not come for more than 15 minutes: nothing is fetched and nobody looks for alarms';
  return [{ subject: 'schedule', sentence, sinceUtc: utcOrNull(schedule?.atMs) }];
}

function sampleDecodes(): boolean {
  const sample = readIgra(SAMPLE).soundings[0];
  return sample?.levels.levelCount === 2 && sample.levels.pressurePa[1] === 85000;
}

const utcOrNull = (instantMs: number | undefined) =>
  instantMs === undefined ? null : new Date(instantMs).toISOString();
