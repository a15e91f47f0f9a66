/** The command as a person calls it, on files of a few lines. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { withSignedValues } from '../../worker/cli/call-arguments.ts';
import { TEXT_KINDS, textKindOf } from '../../worker/cli/inspect-text.ts';

const project = new URL('../../', import.meta.url).pathname;
const folder = mkdtempSync(join(tmpdir(), 'inspect-'));
afterAll(() => rmSync(folder, { recursive: true }));

function inspect(content: string | Uint8Array, ...args: string[]) {
  const file = join(folder, 'file.txt');
  writeFileSync(file, content);
  const { stdout, stderr, status } = spawnSync(
    process.execPath,
    [join(project, 'worker/cli/inspect.ts'), file, '--near', '2026-01-15T15:00:00Z', ...args],
    { cwd: project, encoding: 'utf8' },
  );
  const lines = stdout.split('\n').filter((line) => line !== '');
  return { lines: lines.map((line) => JSON.parse(line) as Record<string, unknown>), stderr, status };
}

describe('the kind of a text', () => {
  test.each([
    ['KZZZ 151453Z AUTO 02012G20KT 3SM -FZRA', 'reports'],
    ['KZZZ 151130Z 1512/1612 02012KT', 'reports'],
    ['\u00ef\u00bb\u00bfKZZZ\u00c2\u00a0151453Z 02012KT', 'reports'],
    ['METAR KZZZ 151453Z', 'reports'],
    ['<g:gpx version="1.1" xmlns:g="http://www.topografix.com/GPX/1/1">', 'gpx'],
    ['<?xml version="1.0"?>\n<gpx>', 'gpx'],
    ['(FPL-NZZZZ-IG', 'route'],
    ['KZZZ 151453Z HELLO', undefined],
    ['KBTV DCT MPV DCT KBGR', undefined],
    ['GRIB METAR', undefined],
  ])('%j is %s', (head, kind) => {
    expect(textKindOf(head)).toBe(kind);
  });
});

test('a number below zero belongs to the option before it', () => {
  expect(
    withSignedValues(['x', '--lat', '-73', '--lon', '-73.83', '--elevation', '-4', '-5', '--as']),
  ).toEqual(['x', '--lat=-73', '--lon=-73.83', '--elevation=-4', '-5', '--as']);
});

describe('npm run inspect', () => {
  test('names every kind with an example for a text of none', () => {
    const { stderr, status } = inspect('KBTV DCT MPV DCT KBGR\n');
    expect(status).toBe(1);
    expect(stderr).toMatch(/^file: found "KBTV DCT MPV DCT KBGR\\n", expected a kind/);
    for (const kind of TEXT_KINDS) expect(stderr).toMatch(new RegExp(`--as ${kind} +\\S`));
  });

  test('reads a mixed text without being told, in UTF-8', () => {
    const text =
      '\ufeffKZZZ\u00a0151453Z 02012KT 3SM \u2013FZRA OVC008 M02/M03 A2990=\nABC UA /OV ABC/TM 1400/FL060/IC LGT RIME=\nZZZZ SIGMET 1 VALID 151300/151700 ZZZZ\u2013 ZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL030/110=\n';
    const { lines, status } = inspect(text);
    expect(status).toBe(0);
    expect(lines).toMatchObject([
      { kind: 'metar', weather: [{ text: '-FZRA' }] },
      { kind: 'pilot-report', line: 2 },
      { kind: 'warning', line: 3 },
    ]);
  });

  test('takes negative degrees for an ascent of an unknown station', () => {
    const temp = 'TTAA 65121 00000 99010 00256 24005 00150 ///// ///// 92810 01056 26010=\n';
    const { lines, stderr } = inspect(temp, '--lat', '-73', '--lon', '-73.83', '--elevation', '-4');
    expect(stderr).not.toContain('ambiguous');
    expect(lines).toMatchObject([{ latDeg: -73, lonDeg: -73.83 }]);
  });

  test('an option that is none ends with 2 and one line', () => {
    const { stderr, status } = inspect('METAR KZZZ 151453Z', '--what');
    expect([status, stderr.trimEnd().split('\n').length]).toEqual([2, 1]);
  });
});
