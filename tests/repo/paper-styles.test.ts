/** What the width of a screen decides holds on the screen alone: on paper the layout is one, as share/fit-paper.ts counts on. */
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const folder = new URL('../../web/src/', import.meta.url);

it('every media query of the page names screen or print', () => {
  const names = readdirSync(folder, { recursive: true, encoding: 'utf8' });
  const styles = names.filter((name) => name.endsWith('.css'));
  const queries = styles.flatMap((name) =>
    readFileSync(new URL(name, folder), 'utf8')
      .split('\n')
      .filter((line) => line.startsWith('@media'))
      .map((line) => `${name}: ${line}`),
  );
  expect(queries.length).toBeGreaterThan(10);
  expect(queries.filter((query) => !/@media (screen|print)\b/.test(query))).toEqual([]);
});
