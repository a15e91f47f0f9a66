/** The compiled OpenJPEG decoder in Node: read and compiled when it is first asked for. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

let compiled: WebAssembly.Module | undefined;

export function openJpegModule(): WebAssembly.Module {
  const path = createRequire(import.meta.url).resolve('@cornerstonejs/codec-openjpeg/decodewasm');
  compiled ??= new WebAssembly.Module(readFileSync(path));
  return compiled;
}
