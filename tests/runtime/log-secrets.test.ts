/** What the Worker logs over a whole run, with secrets that are known: none of them, and nothing but events. */
import { afterEach, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
afterEach(() => instance.stop());

const BODY_MARK = 'QQBODYMARKQQ';
const SECRETS = ['topsecret-bulletin', 'topsecret-alarm', 'topsecret-board-key', BODY_MARK];

it('logs events as JSON lines, and no key, no query, no body and no alarm address', async () => {
  let logged = '';
  instance = await startLocalInstance({
    demo: false,
    // Nobody listens at either.
    alarmUrl: 'https://127.0.0.1/topsecret-alarm',
    supply: { BULLETIN_URLS: 'https://127.0.0.1/metar.txt?key=topsecret-bulletin' },
    onLog: (text) => {
      logged += text;
    },
  });
  const { baseUrl, operatorKey, schedule, send } = instance;
  const call = (path: string, body: string, key = operatorKey) =>
    fetch(`${baseUrl}${path}`, { method: 'POST', body, headers: { authorization: `Bearer ${key}` } });

  await send([{ modelId: 'none', text: 'not an hour' }]);
  await raiseAlarm(call);
  await schedule();
  const answers = await Promise.all([
    call('/api/reports', `METAR KZZZ 151453Z 02012KT 3SM -FZRA OVC008 M02/M03 A2990 RMK ${BODY_MARK}=`),
    call('/api/soundings', BODY_MARK),
    call('/api/brief', `{ "route": "${BODY_MARK}" }`),
    call('/api/brief', '{', 'topsecret-board-key'),
    fetch(`${baseUrl}/api/boards/x?key=topsecret-board-key`),
    fetch(`${baseUrl}/api/metrics`, { headers: { authorization: `Bearer ${operatorKey}` } }),
  ]);
  expect(answers.map(({ status }) => status)).not.toContain(500);
  await schedule();
  await eventually(() => logged.includes('alarm-not-told') && logged.includes('"event":"bulletins'));

  const lines = logged.split('\n').filter((line) => line !== '');
  // The runtime writes lines of its own about connections that fail; what is ours begins as an object.
  const events = lines
    .filter((line) => line.startsWith('{'))
    .map((line) => (JSON.parse(line) as { event: string }).event);
  expect(events).toEqual(expect.arrayContaining(['supply', 'alarm-raised', 'alarm-not-told']));
  for (const secret of [operatorKey, ...SECRETS]) expect(logged).not.toContain(secret);
});

/** An ascent of sixteen hours ago: late for whoever uses ascents. */
async function raiseAlarm(call: (path: string, body: string) => Promise<Response>): Promise<void> {
  const at = new Date(Date.now() - 16.5 * 3_600_000);
  const pad = (value: number) => String(value).padStart(2, '0');
  const day = `${at.getUTCFullYear()} ${pad(at.getUTCMonth() + 1)} ${pad(at.getUTCDate())} ${pad(at.getUTCHours())}`;
  const response = await call(
    '/api/soundings',
    [
      `#ZZM00099999 ${day} ${pad(at.getUTCHours())}05    2 test-src           447500  -852500`,
      '21 -9999  98700B  197B  -21B-9999    12    60    41',
      '10 -9999  85000B 1398B   13B-9999    30   150   154',
    ].join('\n'),
  );
  expect(response.status).toBe(201);
}

async function eventually(isSo: () => boolean): Promise<void> {
  for (let tries = 0; tries < 100 && !isSo(); tries += 1)
    await new Promise((resolve) => setTimeout(resolve, 200));
}
