import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

const project = new URL('../../', import.meta.url).pathname;

function sources(folder: string): string[] {
  return readdirSync(join(project, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => join(folder, name));
}

const CLOCKS = /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.now\b|\bfetch\(/;

describe('the pure folders', () => {
  it.each(['worker/science', 'worker/flight', 'worker/formats', 'worker/schema'])(
    '%s reads no clock, no randomness and no network',
    (folder) => {
      const files = sources(folder);
      expect(files.length).toBeGreaterThan(0);
      expect(files.filter((file) => CLOCKS.test(readFileSync(join(project, file), 'utf8')))).toEqual([]);
    },
  );
});

describe('the composer of pilot reports, which the page takes out of the formats', () => {
  it.each(['compose.ts', 'report-entry.ts'])('%s brings no code but itself and the science', (file) => {
    const text = readFileSync(join(project, 'worker/formats/pilot-reports', file), 'utf8');
    const imports = [...text.matchAll(/^(?:import|export)\b[^;]*? from '([^']+)'|\bimport\(|^import '/gm)];
    expect(imports.length).toBeGreaterThan(0);
    const code = imports.filter(
      ([statement, path]) =>
        !/^(?:import|export) type\b/.test(statement) && !path?.startsWith('../../science/'),
    );
    expect(code.map(([statement]) => statement)).toEqual([]);
  });
});

describe('the tree', () => {
  it('holds nothing at the top beyond what the design fixes', () => {
    const allowed = new Set([
      'README.md',
      'DEVELOPERS.md',
      'LICENSE',
      'package.json',
      'package-lock.json',
      'wrangler.toml',
      'tsconfig.json',
      'worker',
      'web',
      'tests',
      'sample-soundings',
      'node_modules',
    ]);
    const extra = readdirSync(project).filter((name) => !name.startsWith('.') && !allowed.has(name));
    expect(extra).toEqual([]);
  });

  it('documents every script of package.json that a person runs', () => {
    const { scripts } = JSON.parse(readFileSync(join(project, 'package.json'), 'utf8')) as {
      scripts: Record<string, string>;
    };
    const documented = readFileSync(join(project, 'DEVELOPERS.md'), 'utf8');
    const unknown = [...documented.matchAll(/`npm (?:run (?:--silent )?)?([a-z:]+)[^`]*`/g)]
      .map((match) => match[1]!)
      .filter((name) => name !== 'ci' && scripts[name] === undefined);
    expect(unknown).toEqual([]);
  });
});
