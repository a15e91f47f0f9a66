/** Every call of the interface. Routing, access, limits, the description and the documentation are made from this one table. */
import type { Call } from './call.ts';
import * as board from './calls-board.ts';
import * as brief from './calls-brief.ts';
import * as data from './calls-data.ts';
import * as reports from './calls-reports.ts';
import * as service from './calls-service.ts';
import * as uploads from './calls-uploads.ts';

export const CALLS = {
  ...brief,
  ...data,
  ...reports,
  ...uploads,
  ...board,
  ...service,
} as const satisfies Readonly<Record<string, Call>>;

export type CallName = keyof typeof CALLS;
export type BoardCallName = keyof typeof board;

/** Grouped as people read them. */
export const CALL_GROUPS: readonly { readonly title: string; readonly calls: readonly Call[] }[] = [
  { title: 'Briefs', calls: Object.values(brief) },
  { title: 'Boards', calls: Object.values(board) },
  { title: 'Data', calls: Object.values({ ...data, ...reports, ...uploads }) },
  { title: 'The service', calls: Object.values(service) },
];
