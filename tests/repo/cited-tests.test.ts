import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const project = new URL('../../', import.meta.url).pathname;

it('every test that a docstring cites is there', () => {
  const files = ['worker/science', 'worker/formats', 'worker/flight'].flatMap((folder) =>
    readdirSync(join(project, folder), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts'))
      .map((name) => join(folder, name)),
  );
  const cited = files.flatMap((file) =>
    [...readFileSync(join(project, file), 'utf8').matchAll(/tests\/[\w/.-]+\.test\.ts/g)].map(
      ([path]) => path,
    ),
  );
  expect(cited.length).toBeGreaterThan(10);
  expect(cited.filter((path) => !existsSync(join(project, path)))).toEqual([]);
});
