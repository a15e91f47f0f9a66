/** Reports composed here: each is kept on this device until the service has stored or refused it. */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import type { Answer } from '../api.ts';
import { isSendable, operatorKey } from './operator-key.ts';
import { type StoredReports, sendReports } from './report-api.ts';

const KEY = 'rimeway-own-reports';
const MOST_KEPT = 20;

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
    return z.array(ownReportSchema).safeParse(JSON.parse(localStorage.getItem(KEY) ?? '[]')).data ?? [];
  } catch {
    return [];
  }
}

function keep(reports: readonly OwnReport[]): void {
  ownReports.value = reports.slice(0, MOST_KEPT);
  try {
    localStorage.setItem(KEY, JSON.stringify(ownReports.value));
  } catch {
    // Storage may be refused: they then last as long as the page.
  }
}

/** Newest first; what was composed and is there already is sent again, not doubled. */
export async function sendOwnReport(report: Pick<OwnReport, 'text' | 'timeMs'>): Promise<void> {
  const others = ownReports
    .peek()
    .filter(({ text, timeMs }) => text !== report.text || timeMs !== report.timeMs);
  keep([{ ...report, state: 'waiting', why: 'being sent' }, ...others]);
  await sendWaiting();
}

export function forgetOwnReport(report: OwnReport): void {
  keep(ownReports.peek().filter((each) => each !== report));
}

let isSending = false;

/** One after the other, oldest first; what cannot be reached now waits. */
export async function sendWaiting(): Promise<void> {
  if (isSending) return;
  isSending = true;
  try {
    for (const report of ownReports
      .peek()
      .filter(({ state }) => state === 'waiting')
      .reverse())
      await sendOne(report);
  } finally {
    isSending = false;
  }
}

async function sendOne(report: OwnReport): Promise<void> {
  const key = operatorKey.peek();
  if (!isSendable(key)) return replace(report, { why: 'waits for the key of your operator' });
  const answer = await sendReports({ text: report.text, key, nearMs: report.timeMs });
  replace(report, outcomeOf(answer));
}

function replace({ text, timeMs }: OwnReport, change: Partial<OwnReport>): void {
  keep(
    ownReports
      .peek()
      .map((each) => (each.text === text && each.timeMs === timeMs ? { ...each, ...change } : each)),
  );
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
