/** `npm run inspect` over real files of every kind: one JSON line a field, ascent, report or line, none lost. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const folder = process.env.RIMEWAY_DATA_DIR ?? '';
const project = new URL('../../', import.meta.url).pathname;

function inspected(file: string): Record<string, unknown>[] {
  const { stdout } = spawnSync(
    process.execPath,
    [join(project, 'worker/cli/inspect.ts'), join(folder, file), '--near', '2020-01-06T00:00:00Z'],
    { cwd: project, encoding: 'utf8', maxBuffer: 256 * 1024 * 1024 },
  );
  return stdout
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Record<string, unknown>);
}

/** Counts are those of the files: lines of the inventories, ascents and fields by other decoders, texts by their marks. */
it.each([
  ['grib2/idx/gfs-0p25-2026072400-f000.inv', 696, 'inventory-entry'],
  ['grib2/idx/rrfs-prslev-2024020118.inv', 1078, 'inventory-entry'],
  ['grib2/ecmwf-ifs-2024010100-pl-first10-ccsds.grib2', 10, 'grib2-field'],
  ['soundings/bufr/norway-2024022600-309057.bufr', 6, 'sounding'],
  ['soundings/igra2/USM00072558-20210101.txt', 2, 'sounding'],
  ['soundings/fm35/02963-2006041012-temp.txt', 1, 'sounding'],
])('%s gives %i lines, the first a %s', (file, count, kind) => {
  const lines = inspected(file);
  expect(lines).toHaveLength(count);
  expect(lines[0]?.kind).toBe(kind);
});

it('the collective of a day gives over 9,000 reports, each with its line, and refuses the rest with a reason', () => {
  const lines = inspected('reports/metar/collective-2020010600.wmo');
  const reports = lines.filter(({ kind }) => kind === 'metar' || kind === 'speci');
  expect(reports.length).toBeGreaterThan(9000);
  for (const line of lines) {
    expect(line.line).toEqual(expect.any(Number));
    if (line.kind === 'refused') expect(line.reason).toEqual(expect.stringMatching(/./));
  }
});

it('every bulletin of pilot reports gives reports or refusals', () => {
  for (const name of ['OVO', 'PIREP', 'badgeom', 'fourchar', 'groupdict', 'runway', 'ubmd90']) {
    const lines = inspected(`reports/pirep/bulletin-${name}.txt`);
    expect(lines.length, name).toBeGreaterThan(0);
    for (const { kind } of lines) expect(['pilot-report', 'refused']).toContain(kind);
  }
});
