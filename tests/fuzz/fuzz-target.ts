/** What a format gives to be fuzzed: see run.ts. */

/** A stream of random numbers from a fixed seed. */
export interface Random {
  /** Whole number from 0 up to, not including, the limit. */
  readonly below: (limit: number) => number;
}

export interface FuzzTarget {
  readonly name: string;
  /** Whole inputs as found in real files, or small ones of our own when there is no folder of real files. */
  readonly seeds: (dataFolder: string | undefined) => Promise<readonly Uint8Array[]>;
  /** Mutation that knows the structure; undefined for none. Half of the inputs come from it, half from bytes alone. */
  readonly mutate?: (seed: Uint8Array, random: Random) => Uint8Array;
  /**
   * Reads the bytes. What the format refuses in its own classes of error is fine and must not be thrown; anything thrown is
   * a defect. May also throw an Error of its own when a checksum, count or end marker tells that a value is wrong.
   */
  readonly read: (bytes: Uint8Array) => unknown;
  /** Bound on time, ms a byte beside a fixed 50 ms, and on what is allocated, bytes a byte beside 16 MiB. */
  readonly mostMsPerByte: number;
  readonly mostBytesPerByte: number;
}
