/// <reference path="./openjpeg-types.d.ts" />
/**
 * OpenJPEG in WebAssembly, started when the first image asks for it.
 *
 * An instance has 50 MiB of memory from the start and never gives any back, so one is kept for all images, and let go of
 * once an image has made it grow or has broken it. Nothing waits between putting an image in and taking it out: an instance
 * never serves two at once.
 */

import openJpeg, { type J2kDecoder, type OpenJpeg } from '@cornerstonejs/codec-openjpeg/decodewasmjs';
import { openJpegModule } from '#openjpeg-module';

/** Deeper samples and longer sides are cut to so many bits by the decoder's interface. */
export const MOST_SAMPLE_BITS = 16;
export const LONGEST_SIDE = 2 ** 16 - 1;

interface Instance {
  /** A new one for each image: what one has decoded before, it gives again when the next image fails. */
  readonly Decoder: new () => J2kDecoder;
  readonly memory: WebAssembly.Memory;
  /** What it has printed since it was last asked. */
  readonly takeLines: () => string[];
}

const FAULT = /^\[(ERROR|WARNING)\] /;
let kept: Instance | undefined;

/**
 * @param codestream  Whose headers say that it holds `count` samples, within both limits.
 * @returns           the samples row by row, or what the decoder says is wrong.
 */
export function decodeJpeg2000(
  codestream: Uint8Array,
  count: number,
): { readonly samples: Uint8ClampedArray | Uint16Array } | { readonly fault: string } {
  const instance = kept ?? start();
  const { memory } = instance;
  const startBytes = memory.buffer.byteLength;
  kept = undefined;
  const decoder = new instance.Decoder();
  try {
    decoder.getEncodedBuffer(codestream.length).set(codestream);
    decoder.decode();
    const octets = decoder.getDecodedBuffer();
    const samples = decoder.getFrameInfo().bitsPerSample <= 8 ? octets : new Uint16Array(octets.buffer);
    decoder.delete();
    if (memory.buffer.byteLength === startBytes) kept = instance;
    const fault = instance.takeLines().find((line) => FAULT.test(line));
    if (fault !== undefined) return { fault };
    return samples.length === count ? { samples } : { fault: `${samples.length} samples` };
  } catch (error) {
    return { fault: error instanceof Error ? error.message : 'a failure of the decoder' };
  }
}

function start(): Instance {
  const module = openJpegModule();
  let lines: string[] = [];
  let memory: WebAssembly.Memory | undefined;
  const print = (line: string) => void lines.push(line);
  const runtime: OpenJpeg = {
    print,
    printErr: print,
    instantiateWasm(imports, receive) {
      const instance = new WebAssembly.Instance(module, imports);
      memory = Object.values(instance.exports).find((each) => each instanceof WebAssembly.Memory);
      receive(instance, module);
      return instance.exports;
    },
  };
  openJpeg(runtime);
  return {
    Decoder: runtime.J2KDecoder!,
    memory: memory!,
    takeLines() {
      const taken = lines;
      lines = [];
      return taken;
    },
  };
}
