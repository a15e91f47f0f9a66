/** Loads the invented demo morning of sample-soundings/ into an instance. */
import { readdirSync } from 'node:fs';
import { projectFolder } from './build.ts';
import { uploadFile } from './upload.ts';

/** Bulletins give only day and hour; the scenario's month and year. */
const SCENARIO_UTC = '2026-01-14T12:00:00Z';
/** Pilots' reports come last: they are compared with what is loaded by then. */
const LAST = /^pilot-reports/;

/** Goes to a board: see demo-board.ts. */
const BOARD_LEGS = 'board-legs.csv';

/** @throws when a file is refused, with the answer. */
export async function loadDemo(baseUrl: string, key: string): Promise<number> {
  const folder = `${projectFolder}sample-soundings/`;
  const files = readdirSync(folder)
    .filter((name) => /\.(txt|csv)$/.test(name) && name !== BOARD_LEGS)
    .sort((a, b) => Number(LAST.test(a)) - Number(LAST.test(b)) || (a < b ? -1 : 1));
  for (const name of files) {
    const target = { baseUrl, key, query: { near: SCENARIO_UTC } };
    const { status, answer } = await uploadFile(folder + name, target);
    if (status !== 201)
      throw new Error(`demo file ${name}: status ${status}, ${JSON.stringify(answer).slice(0, 500)}`);
  }
  return files.length;
}
