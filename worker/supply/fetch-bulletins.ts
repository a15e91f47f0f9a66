/** Reports out of configured addresses of plain text, every few minutes: each source for itself, so that none holds up another. */
import { SourceError } from '../errors.ts';
import { decodedText } from '../formats/plain-text.ts';
import {
  type BulletinEnd,
  type BulletinRepository,
  shownAddress,
  sourceName,
  withoutQuery,
} from '../sources/bulletins.ts';
import { keepReports } from '../sources/keep-reports.ts';
import { MOST_AHEAD_MS } from '../sources/keep-soundings.ts';
import type { PlaceRepository } from '../sources/ports.ts';
import { createRangedHttp, type RangedHttp, type RangedHttpDeps } from '../sources/ranged-http.ts';
import type { ReportRepository } from '../sources/reports.ts';

/** Five minutes, less what a trigger may come early or late. */
const EVERY_MS = 5 * 60_000 - 10_000;
/** As much as may be pasted. */
const MOST_BYTES = 4 * 1024 * 1024;
const TIMEOUT_MS = 15_000;

export interface BulletinDeps {
  readonly http: Pick<RangedHttp, 'bytes'>;
  readonly bulletins: BulletinRepository;
  readonly reports: ReportRepository;
  readonly places: PlaceRepository;
  /** As they are set. */
  readonly urls: readonly string[];
  /** Whose the reports are. */
  readonly operator: string;
  readonly log: (line: string) => void;
  readonly nowMs: () => number;
}

/** Asks the hosts of these addresses alone, once: what fails is asked again in the next round. */
export function bulletinHttp(deps: RangedHttpDeps, urls: readonly string[]): RangedHttp {
  return createRangedHttp(deps, {
    allowed: { hosts: urls.map((url) => new URL(url).hostname) },
    retry: { attempts: 1, firstWaitMs: 0, greatestWaitMs: 0, greatestRetryAfterMs: 0 },
    answerTimeoutMs: TIMEOUT_MS,
    wholeTimeoutMs: TIMEOUT_MS,
    acceptEncoding: 'gzip',
  });
}

/** Never throws: what goes wrong is noted with its source, or logged where not even that can be. */
export async function fetchBulletins(deps: BulletinDeps): Promise<void> {
  const inTurn = takeTurns();
  await Promise.all(
    deps.urls.map(async (url, at) => {
      const label = `bulletins ${at + 1} ${shownAddress(url)}`;
      try {
        await fetchSource(deps, { url, label, inTurn });
      } catch (error) {
        deps.log(`${label}: not noted: ${withoutQuery(wordsOf(error), url)}`);
      }
    }),
  );
}

interface Source {
  readonly url: string;
  readonly label: string;
  readonly inTurn: Turns;
}

async function fetchSource(deps: BulletinDeps, { url, label, inTurn }: Source): Promise<void> {
  const name = await sourceName(url);
  if (!(await deps.bulletins.claim(name, { everyMs: EVERY_MS, nowMs: deps.nowMs() }))) return;
  const end = await endOf(deps, url, inTurn);
  const { stored = 0, refused = 0, refusal = '' } = end.answer ?? {};
  const words = [`${stored} stored, ${refused} refused`, refusal].filter((each) => each !== '').join(', ');
  deps.log(`${label}: ${end.fault ?? words}`);
  await deps.bulletins.note(name, end);
}

async function endOf(deps: BulletinDeps, url: string, inTurn: Turns): Promise<BulletinEnd> {
  try {
    const bytes = await deps.http.bytes(url, { mostBytes: MOST_BYTES });
    // All are fetched at once, but read one by one: the facts of several large texts together are more than an isolate holds.
    const answer = await inTurn(() => kept(deps, url, bytes));
    const fault =
      answer.stored === 0 ? `no report in it, ${answer.refused} refused: ${answer.refusal}` : undefined;
    return { answer, fault, nowMs: deps.nowMs() };
  } catch (error) {
    return { fault: withoutQuery(wordsOf(error), url), nowMs: deps.nowMs() };
  }
}

async function kept(
  deps: BulletinDeps,
  url: string,
  bytes: Uint8Array,
): Promise<NonNullable<BulletinEnd['answer']>> {
  const nowMs = deps.nowMs();
  const context = { nearMs: nowMs, nowMs, notAfterMs: nowMs + MOST_AHEAD_MS };
  const { reports, rejected } = await keepReports(deps, deps.operator, decodedText(bytes), context);
  const [first] = rejected;
  const refusal = first === undefined ? '' : withoutQuery(`line ${first.line}: ${first.reason}`, url);
  return { stored: reports.length, refused: rejected.length, refusal };
}

/** What is no fault of the source is told by its message alone: a cause may hold an address. */
function wordsOf(error: unknown): string {
  if (error instanceof SourceError) return error.message;
  return error instanceof Error ? `not stored: ${error.message}` : 'not stored';
}

type Turns = <T>(task: () => Promise<T>) => Promise<T>;

/** Tasks one after the other, in the order in which they come; one that fails lets the next begin. */
function takeTurns(): Turns {
  let last: Promise<unknown> = Promise.resolve();
  return (task) => {
    const run = last.then(task);
    last = run.catch(() => undefined);
    return run;
  };
}
