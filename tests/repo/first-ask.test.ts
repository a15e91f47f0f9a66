/** The brief of an address is asked for before the page is worked out: the order of imports does that, and nothing else holds it. */
import { existsSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';

const WEB = new URL('../../web/src/', import.meta.url);

function importsOf(file: URL): URL[] {
  const text = readFileSync(file, 'utf8');
  return [...text.matchAll(/^(?:import|export) (?!type )(?:[^;]*? from )?'(\.[^']+)';/gm)].map(
    ([, path]) => new URL(path!, file),
  );
}

/** Every module of ours that runs before a module does. */
function runBefore(file: URL, found = new Map<string, URL>()): Map<string, URL> {
  for (const one of importsOf(file)) {
    if (found.has(one.href) || !existsSync(one)) continue;
    found.set(one.href, one);
    runBefore(one, found);
  }
  return found;
}

it('it is the first import of the page', () => {
  expect(importsOf(new URL('main.tsx', WEB))[0]?.href).toBe(new URL('start-first-ask.ts', WEB).href);
});

it('and takes nothing of the page with it', () => {
  const before = [...runBefore(new URL('start-first-ask.ts', WEB)).keys()].map((href) =>
    href.replace(WEB.href, ''),
  );
  expect(before).toContain('first-ask.ts');
  expect(before.length).toBeGreaterThan(5);
  expect(
    before.filter((path) => /\.tsx$|^(state|api|consider|ask-leg|start-page)\.ts$|schema\/brief/.test(path)),
  ).toEqual([]);
});
