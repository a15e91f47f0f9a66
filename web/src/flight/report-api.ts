/** Reports to the service: stored under the operator whose key it is, each piece kept or refused with its reason. */
import { postReports } from '../../../worker/schema/calls-reports.ts';
import type { StoredReports } from '../../../worker/schema/uploads.ts';
import type { Answer } from '../client/answer.ts';
import { call } from '../client/call.ts';

export type { StoredReports };

interface ReportsToSend {
  readonly text: string;
  readonly key: string;
  /** Month and year of the reports are taken near this; undefined: near now. */
  readonly nearMs?: number | undefined;
}

export function sendReports({ text, key, nearMs }: ReportsToSend): Promise<Answer<StoredReports>> {
  const near = nearMs === undefined ? undefined : new Date(nearMs).toISOString();
  return call(postReports, { query: { near }, body: text }, { key });
}
