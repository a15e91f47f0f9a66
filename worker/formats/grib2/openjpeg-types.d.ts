/** Types of what OpenJPEG is imported from; see `imports` in package.json for which module serves where. */

declare module '*.wasm' {
  const module: WebAssembly.Module;
  export default module;
}

declare module '@cornerstonejs/codec-openjpeg/decodewasmjs' {
  export interface J2kDecoder {
    /** Room in the decoder's memory for a codestream of so many bytes. */
    getEncodedBuffer(lengthBytes: number): Uint8Array;
    /** Tells failures by what it prints, never by throwing. */
    decode(): void;
    /** A copy of the samples, an octet or two each, little-endian. */
    getDecodedBuffer(): Uint8ClampedArray<ArrayBuffer>;
    getFrameInfo(): {
      readonly width: number;
      readonly height: number;
      readonly bitsPerSample: number;
      readonly componentCount: number;
      readonly isSigned: boolean;
    };
    /** Frees its memory. */
    delete(): void;
  }

  export interface OpenJpeg {
    instantiateWasm(
      imports: WebAssembly.Imports,
      receive: (instance: WebAssembly.Instance, module: WebAssembly.Module) => unknown,
    ): WebAssembly.Exports;
    print(line: string): void;
    printErr(line: string): void;
    /** There once the factory has returned, when instantiateWasm does not wait. */
    J2KDecoder?: new () => J2kDecoder;
  }

  const openJpeg: (module: OpenJpeg) => Promise<unknown>;
  export default openJpeg;
}
