/// <reference path="./openjpeg-types.d.ts" />
/** The compiled OpenJPEG decoder in the Worker: bundled as a module of its own, since nothing may be compiled there. */
import decoder from '../../../node_modules/@cornerstonejs/codec-openjpeg/dist/openjpegwasm_decode.wasm';

export function openJpegModule(): WebAssembly.Module {
  return decoder;
}
