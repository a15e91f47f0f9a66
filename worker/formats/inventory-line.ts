/** Lines of an inventory: as read by themselves, and as used once their place among the others is known. */
import type { Rejection } from './sounding.ts';

export interface InventoryEntry {
  /** From 1. */
  readonly line: number;
  /** Of the message in its file. */
  readonly offsetBytes: number;
  /** Of the message; undefined: to the end of the file. */
  readonly lengthBytes: number | undefined;
  /** Epoch ms UTC. */
  readonly referenceTimeMs: number;
  /** Short name as the inventory has it: TMP, RH, t, q. */
  readonly parameter: string;
  /** Level in the inventory's words: `850 mb`, `850 pl`. */
  readonly level: string;
  /** `anl`, `4 hour fcst`; of JSON its step as text. */
  readonly forecast: string;
}

/** A line read by itself, before its place among the others is judged. */
export interface InventoryLine extends Omit<InventoryEntry, 'lengthBytes'> {
  /** Written in the line; undefined when the line has none. */
  readonly lengthBytes: number | undefined;
  /** Message and field: 12 and 1 of `12.1`. JSON lines have none. */
  readonly message: number | undefined;
  readonly field: number | undefined;
}

/** A line that is not used. Where its offset could be read it still says where the message before it ends. */
export interface RefusedLine extends Rejection {
  readonly offsetBytes: number | undefined;
}

export type ReadLine = InventoryLine | RefusedLine;
