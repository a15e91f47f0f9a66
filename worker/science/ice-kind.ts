/** The kind of ice, by how much of the water freezes at once. */
import { ICE_KIND } from './columns.ts';

/** From here up drops freeze where they strike; up to the second most of the water runs first. */
const RIME_FROM = 0.9;
const CLEAR_TO = 0.3;

/**
 * Kind of ice that water makes when it strikes.
 *
 * @param freezing  Freezing fraction, 0-1; also 0 is clear: the water is there, and freezes further back.
 * @returns         ICE_KIND code, never none.
 * @throws          never.
 * @source          Conventional limits, from memory.
 * @checked         tests/science/ice-kind.test.ts
 */
export function iceKindOf(freezing: number): number {
  if (freezing >= RIME_FROM) return ICE_KIND.rime;
  return freezing <= CLEAR_TO ? ICE_KIND.clear : ICE_KIND.mixed;
}
