/** Makes the demo's board, of invented legs on the invented morning, and gives the link that opens it. */
import { readFileSync } from 'node:fs';
import { projectFolder } from './build.ts';

const NAME = 'Demo: an invented morning';
/** Half an hour before the first departures. */
const STANDS_AT_UTC = '2026-01-14T11:00:00Z';

interface Links {
  readonly id: string;
  readonly links: readonly { readonly access: string; readonly link: string; readonly key: string }[];
}

/** A board of an earlier start makes room: its links were told once and are lost. @throws when a call is refused. */
export async function loadDemoBoard(baseUrl: string, key: string): Promise<string> {
  const ask = async (
    method: string,
    path: string,
    { body, type = 'application/json', as = key }: Sent = {},
  ) => {
    const headers = { authorization: `Bearer ${as}`, 'content-type': type };
    const response = await fetch(baseUrl + path, {
      method,
      headers,
      ...(body === undefined ? {} : { body }),
    });
    if (!response.ok)
      throw new Error(`${method} ${path}: status ${response.status}, ${await response.text()}`);
    return response;
  };
  const { boards } = (await (await ask('GET', '/api/boards')).json()) as {
    boards: { id: string; name: string }[];
  };
  for (const { id } of boards.filter(({ name }) => name === NAME)) await ask('DELETE', `/api/boards/${id}`);
  const made = { name: NAME, timeZone: 'America/New_York', standsAtUtc: STANDS_AT_UTC };
  const { id, links } = (await (
    await ask('POST', '/api/boards', { body: JSON.stringify(made) })
  ).json()) as Links;
  const edit = links.find(({ access }) => access === 'edit');
  if (edit === undefined) throw new Error('POST /api/boards: found no link that edits, expected one');
  const legs = readFileSync(`${projectFolder}sample-soundings/board-legs.csv`, 'utf8');
  for (const [tail, state] of Object.entries(TAILS)) {
    const body = JSON.stringify({ ...state, note: '', by: 'demo' });
    await ask('PUT', `/api/boards/${id}/tails/${tail}`, { body, as: edit.key });
  }
  await ask('POST', `/api/boards/${id}/legs/import`, { body: legs, type: 'text/csv', as: edit.key });
  return baseUrl + edit.link;
}

interface Sent {
  readonly body?: string;
  readonly type?: string;
  readonly as?: string;
}

const TAILS = {
  'ZZ-ONE': { fluidOnBoardL: 80, inoperative: [] },
  'ZZ-TWO': { fluidOnBoardL: 70, inoperative: [] },
  'ZZ-THREE': { fluidOnBoardL: 34, inoperative: [] },
  'ZZ-FOUR': { fluidOnBoardL: 60, inoperative: [] },
  'ZZ-FIVE': { fluidOnBoardL: 60, inoperative: ['windshield'] },
};
