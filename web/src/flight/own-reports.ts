/** Reports composed here: each is kept on this device until the service has stored or refused it. */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import type { Answer } from '../client/answer.ts';
import { storedText, storeText } from '../device-value.ts';
import { isSendable, operatorKey } from './operator-key.ts';
import { type StoredReports, sendReports } from './report-api.ts';

const KEY = 'rimeway-own-reports';
/** Of those that are settled; what waits is never dropped. */
const MOST_SETTLED = 20;

const ownReportSchema = z.object({
  text: z.string(),
  /** Of the report, epoch ms. */
  timeMs: z.number(),
  /** waiting: to be sent again; refused: the service will not have it as it is. */
  state: z.enum(['waiting', 'stored', 'refused']),
  why: z.string(),
});
export type OwnReport = z.infer<typeof ownReportSchema>;

export const ownReports = signal<readonly OwnReport[]>(stored());

function stored(): OwnReport[] {
  try {
    return z.array(ownReportSchema).safeParse(JSON.parse(storedText(KEY) ?? '[]')).data ?? [];
  } catch {
    return [];
  }
}

const isSame = (one: Pick<OwnReport, 'text' | 'timeMs'>, other: Pick<OwnReport, 'text' | 'timeMs'>) =>
  one.text === other.text && one.timeMs === other.timeMs;

/** Another window may have kept some meanwhile: the list is read anew, changed and written in one turn. */
function change(how: (reports: readonly OwnReport[]) => readonly OwnReport[]): void {
  const kept = stored();
  const known = [...ownReports.peek().filter((each) => !kept.some((one) => isSame(one, each))), ...kept];
  let settled = 0;
  ownReports.value = how(known).filter(({ state }) => state === 'waiting' || ++settled <= MOST_SETTLED);
  storeText(KEY, JSON.stringify(ownReports.value));
}

/** Newest first; what was composed and is there already is sent again, not doubled. */
export async function sendOwnReport(report: Pick<OwnReport, 'text' | 'timeMs'>): Promise<void> {
  change((reports) => [
    { ...report, state: 'waiting', why: 'being sent' },
    ...reports.filter((each) => !isSame(each, report)),
  ]);
  await sendWaiting();
}

export function forgetOwnReport(report: OwnReport): void {
  ownReports.value = ownReports.peek().filter((each) => !isSame(each, report));
  storeText(KEY, JSON.stringify(ownReports.value));
}

let isSending = false;

/** One after the other, oldest first, those too that came meanwhile; each is tried once, and waits if it cannot be reached. */
export async function sendWaiting(): Promise<void> {
  if (isSending) return;
  isSending = true;
  const tried: OwnReport[] = [];
  try {
    for (let next = nextOf(tried); next !== undefined; next = nextOf(tried)) {
      tried.push(next);
      const outcome = await outcomeOfSending(next);
      const sent = next;
      change((reports) => reports.map((each) => (isSame(each, sent) ? { ...each, ...outcome } : each)));
    }
  } finally {
    isSending = false;
  }
}

function nextOf(tried: readonly OwnReport[]): OwnReport | undefined {
  return ownReports
    .peek()
    .findLast((each) => each.state === 'waiting' && !tried.some((one) => isSame(one, each)));
}

async function outcomeOfSending({ text, timeMs }: OwnReport): Promise<Partial<OwnReport>> {
  const key = operatorKey.peek();
  if (!isSendable(key)) return { why: 'waits for the key of your operator' };
  return outcomeOf(await sendReports({ text, key, nearMs: timeMs }));
}

/** A refusal of the key is mended by another key: the report waits. */
export function outcomeOf(answer: Answer<StoredReports>): Pick<OwnReport, 'state' | 'why'> {
  if (answer.kind === 'ok') {
    const { stored: count, rejected } = answer.value;
    return count > 0
      ? { state: 'stored', why: '' }
      : { state: 'refused', why: rejected[0]?.reason ?? 'without a reason' };
  }
  if (answer.kind !== 'problem') return { state: 'waiting', why: 'the service was not reached' };
  const { status, detail } = answer.problem;
  const isForLater = status === 401 || status === 403 || status === 429 || status >= 500;
  return { state: isForLater ? 'waiting' : 'refused', why: detail };
}
