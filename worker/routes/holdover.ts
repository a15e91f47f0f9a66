/** GET /api/holdover: the holdover tables in use. POST /api/holdover: one table in, what it changes of the one before it out. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { holdoverTableFromCsv } from '../formats/holdover-csv.ts';
import { postHoldover as postCall } from '../schema/calls-uploads.ts';
import type { HoldoverTableText } from '../schema/holdover.ts';
import { bodyChunks, bodyText } from '../sources/body.ts';
import { changesOfTable, holdoverTableId } from '../sources/holdover-tables.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';
import { writingOperator } from './read-call.ts';

/** Whose data are invented: a table for trying is taken from nobody else. */
const DEMO_OPERATOR = 'demo';

export async function getHoldover(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const tables = await deps.holdoverTables.list(operators);
  return context.json({ tables: tables.map(({ operator, id, table }) => ({ operator, id, table })) });
}

export async function postHoldover(context: Context<AppEnv>): Promise<Response> {
  const { deps } = context.var;
  const operator = writingOperator(context);
  const table = parseRequest(
    postCall.request,
    read(await bodyText(bodyChunks(context.req.raw, postCall.mostBytes))),
  );
  const nowMs = deps.nowMs();
  refuseUnfit(table, operator, nowMs);
  const id = holdoverTableId(table);
  const before = (await deps.holdoverTables.list([operator])).find((each) => each.id === id)?.table;
  if (before !== undefined && table.issuedOn < before.issuedOn) {
    throw new InvalidRequestError({
      field: 'issuedOn',
      found: table.issuedOn,
      expected: `${before.issuedOn} or later, the date of the table in use`,
    });
  }
  const replaced = await deps.holdoverTables.put(operator, table, nowMs);
  const answer = {
    id,
    season: table.season,
    rows: table.rows.length,
    replacedSeason: replaced?.season ?? null,
    changes: replaced === undefined ? [] : changesOfTable(replaced, table),
  };
  return context.json(answer, 201);
}

function read(text: string): unknown {
  if (!/^\ufeff?\s*\{/.test(text)) return holdoverTableFromCsv(text);
  try {
    return JSON.parse(text.replace(/^\ufeff/, ''));
  } catch (cause) {
    throw new InvalidRequestError(
      { field: 'body', found: 'text that begins like JSON and is none', expected: 'a whole table' },
      { cause },
    );
  }
}

/** @throws InvalidRequestError for a table that nobody may fly by. */
function refuseUnfit(
  { standing, expiresOn, season }: HoldoverTableText,
  operator: string,
  nowMs: number,
): void {
  if (standing === 'historic' || (standing === 'invented') !== (operator === DEMO_OPERATOR)) {
    throw new InvalidRequestError({
      field: 'standing',
      found: standing,
      expected:
        operator === DEMO_OPERATOR ? 'invented, in a demo' : 'in-force: one as its issuer published it',
    });
  }
  if (standing === 'in-force' && Date.parse(`${expiresOn}T23:59:59Z`) < nowMs) {
    throw new InvalidRequestError({
      field: 'expiresOn',
      found: `${expiresOn}, of ${season}`,
      expected: 'a table of a season that is not over',
    });
  }
}
