/** Bytes that travel: the Worker's script and the page's scripts, with and without the map. Expects a build. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { projectFolder } from '../../worker/cli/build.ts';

export interface Sizes {
  readonly workerGzipBytes: number;
  /** What the page needs before anything is drawn: the scripts its HTML names. */
  readonly firstLoadGzipBytes: number;
  /** Every script of the page, the map's included. */
  readonly allScriptsGzipBytes: number;
}

const gzipBytes = (path: string) => gzipSync(readFileSync(path), { level: 9 }).byteLength;

export function measureSizes(): Sizes {
  const page = join(projectFolder, 'web/dist');
  const html = readFileSync(join(page, 'index.html'), 'utf8');
  const scripts = readdirSync(page, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /\.m?js$/.test(name),
  );
  const named = scripts.filter((name) => html.includes(name));
  const sum = (names: readonly string[]) =>
    names.reduce((bytes, name) => bytes + gzipBytes(join(page, name)), 0);
  return {
    workerGzipBytes: readdirSync(join(projectFolder, 'worker/dist'))
      .filter((name) => /\.(js|wasm)$/.test(name))
      .reduce((bytes, name) => bytes + gzipBytes(join(projectFolder, 'worker/dist', name)), 0),
    firstLoadGzipBytes: sum(named),
    allScriptsGzipBytes: sum(scripts),
  };
}

if (import.meta.filename === process.argv[1]) {
  const sizes = measureSizes();
  const kB = (bytes: number) => `${(bytes / 1000).toFixed(1)} kB`;
  process.stdout.write(
    `Worker script gzipped            ${kB(sizes.workerGzipBytes)}\n` +
      `page scripts, first load, gzipped ${kB(sizes.firstLoadGzipBytes)}\n` +
      `page scripts with the map         ${kB(sizes.allScriptsGzipBytes)}\n`,
  );
}
