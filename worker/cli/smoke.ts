/**
 * `npm run smoke -- URL [--at UTC] [--route "KBTV DCT KBGR"] [--strict]`: whether a running service does what it is there for. With an
 * operator's key in RIMEWAY_KEY also what needs one. What it makes it takes away again.
 */
import { createHash } from 'node:crypto';
import { parseArgs } from 'node:util';
import { createdBoardSchema } from '../schema/board.ts';
import { type Brief, briefSchema } from '../schema/brief.ts';
import { createdBriefSchema } from '../schema/shared-brief.ts';

/** What is asked of it. */
export interface SmokeOptions {
  readonly baseUrl: string;
  readonly key: string | undefined;
  readonly route: string;
  readonly atUtc: string;
  /** Anything late, and any alarm, counts as a failure. */
  readonly isStrict: boolean;
}

/** What became of one step: why it failed, or what it found. */
export interface SmokeStep {
  readonly name: string;
  readonly fault: string | undefined;
  readonly found: string;
}

const TIMEOUT_MS = 30_000;

/** Steps one after the other; one that fails lets the others go on. Never throws. */
export async function smoke(options: SmokeOptions): Promise<SmokeStep[]> {
  const steps: [string, (options: SmokeOptions) => Promise<string>][] = [
    ['health', checkHealth],
    ['page', checkPage],
    ['brief', checkBrief],
    ['shared brief', checkShared],
    ...(options.key === undefined
      ? []
      : ([
          ['metrics', checkMetrics],
          ['board', checkBoard],
        ] as [string, (options: SmokeOptions) => Promise<string>][])),
  ];
  const done: SmokeStep[] = [];
  for (const [name, check] of steps) {
    try {
      done.push({ name, fault: undefined, found: await check(options) });
    } catch (error) {
      done.push({ name, fault: error instanceof Error ? error.message : String(error), found: '' });
    }
  }
  return done;
}

async function checkHealth(options: SmokeOptions): Promise<string> {
  const response = await ask(options, `/api/health${options.isStrict ? '?strict=1' : ''}`);
  const health = (await response.json()) as {
    sampleDecodes: boolean;
    version: string;
    late: { sentence: string }[];
    alarms: { sentence: string }[];
  };
  const words = [...health.late, ...health.alarms].map(({ sentence }) => sentence);
  expect('status', response.status, 200, words.join('; '));
  expect('sampleDecodes', health.sampleDecodes, true);
  return [`method ${health.version}`, ...words].join('; ');
}

async function checkPage(options: SmokeOptions): Promise<string> {
  const response = await ask(options, '/');
  expect('status', response.status, 200);
  const html = await response.text();
  const script = /<script[^>]+src="(\/assets\/[^"]+\.js)"/.exec(html)?.[1];
  if (script === undefined) throw new Error('found no script in the page');
  const code = await ask(options, script);
  expect(`status of ${script}`, code.status, 200);
  return `${html.length} characters, script ${(await code.text()).length}`;
}

/** The demo's aircraft and fluid. */
const bodyOf = ({ route, atUtc }: SmokeOptions) =>
  JSON.stringify({
    route,
    departure: { atUtc },
    aircraft: 'generic-fluid-turboprop',
    options: { fluidOnBoardL: 80 },
  });

async function checkBrief(options: SmokeOptions): Promise<string> {
  const response = await ask(options, '/api/brief', { method: 'POST', body: bodyOf(options) });
  expect('status', response.status, 200, response.status === 200 ? '' : await response.text());
  return wordsOf(briefSchema.parse(await response.json()));
}

/** A service without data must say that it knows nothing. */
function wordsOf({ brief: { verdict, data } }: Brief): string {
  if (data.length === 0) expect('verdict without data', verdict.code, 'unknown');
  return `${verdict.code} from ${data.length} sources`;
}

async function checkShared(options: SmokeOptions): Promise<string> {
  const created = await ask(options, '/api/briefs', { method: 'POST', body: bodyOf(options) });
  expect('status', created.status, 201, created.status === 201 ? '' : await created.text());
  const { id, key, sha256 } = createdBriefSchema.parse(await created.json());
  try {
    const bytes = await (await ask(options, `/api/briefs/${id}`)).bytes();
    expect('SHA-256 of the bytes', createHash('sha256').update(bytes).digest('hex'), sha256);
    const picture = await ask(options, `/b/${id}/picture.png`);
    expect('type of the picture', picture.headers.get('content-type'), 'image/png');
    return `${bytes.byteLength} bytes kept and given`;
  } finally {
    const headers = { authorization: `Bearer ${key}` };
    const gone = await ask(options, `/api/briefs/${id}`, { method: 'DELETE', headers });
    expect('status of taking it back', gone.status, 204);
  }
}

async function checkMetrics(options: SmokeOptions): Promise<string> {
  expect('status without a key', (await ask(options, '/api/metrics')).status, 401);
  const response = await ask(options, '/api/metrics', { headers: keyOf(options) });
  expect('status', response.status, 200);
  const text = await response.text();
  expect('last line', text.trimEnd().split('\n').at(-1), '# EOF');
  return `${text.split('\n').length} lines`;
}

async function checkBoard(options: SmokeOptions): Promise<string> {
  const headers = keyOf(options);
  const body = JSON.stringify({ name: 'Smoke check, to be deleted', timeZone: 'UTC' });
  const created = await ask(options, '/api/boards', { method: 'POST', headers, body });
  expect('status', created.status, 201, created.status === 201 ? '' : await created.text());
  const { id, links } = createdBoardSchema.parse(await created.json());
  try {
    const key = links[0]?.key ?? '';
    const board = await ask(options, `/api/boards/${id}`, { headers: { authorization: `Bearer ${key}` } });
    expect('status of the board', board.status, 200);
    expect('status without a key', (await ask(options, `/api/boards/${id}`)).status, 401);
    return `made, opened by its link, deleted`;
  } finally {
    const gone = await ask(options, `/api/boards/${id}`, { method: 'DELETE', headers });
    expect('status of deleting it', gone.status, 204);
  }
}

const keyOf = ({ key }: SmokeOptions) => ({ authorization: `Bearer ${key}` });

function ask({ baseUrl }: SmokeOptions, path: string, init: RequestInit = {}): Promise<Response> {
  return fetch(new URL(path, baseUrl), { ...init, signal: AbortSignal.timeout(TIMEOUT_MS) });
}

function expect<T>(what: string, found: T, expected: T, more = ''): void {
  if (found === expected) return;
  const words = more === '' ? '' : `: ${more.slice(0, 300)}`;
  throw new Error(`${what}: found ${JSON.stringify(found)}, expected ${JSON.stringify(expected)}${words}`);
}

async function main(): Promise<void> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: {
      at: { type: 'string', default: new Date(Date.now() + 3_600_000).toISOString().slice(0, 19) + 'Z' },
      route: { type: 'string', default: 'KBTV DCT KBGR' },
      strict: { type: 'boolean', default: false },
    },
  });
  const [baseUrl] = positionals;
  if (baseUrl === undefined || !URL.canParse(baseUrl)) throw new Error('expected the address of a service');
  const key = process.env.RIMEWAY_KEY;
  const { route, at: atUtc, strict: isStrict } = values;
  const steps = await smoke({ baseUrl, key, route, atUtc, isStrict });
  for (const { name, fault, found } of steps) {
    process.stdout.write(fault === undefined ? `ok      ${name}: ${found}\n` : `FAILED  ${name}: ${fault}\n`);
  }
  if (key === undefined) process.stdout.write('left out: metrics, board (no RIMEWAY_KEY)\n');
  process.exitCode = steps.every(({ fault }) => fault === undefined) ? 0 : 1;
}

if (import.meta.filename === process.argv[1]) {
  main().catch((error: unknown) => {
    process.stderr.write(`smoke: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 2;
  });
}
