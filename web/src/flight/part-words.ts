/** Names of the parts of a flight, as tables and cards say them. */
import type { PartAnswer } from '../contract.ts';

export const PART_WORDS: Readonly<Record<PartAnswer['part'], string>> = {
  taxi: 'priming',
  climb: 'climb',
  cruise: 'cruise',
  descent: 'descent',
  'early-descent': 'early descent',
  vectors: 'vectors',
  approach: 'approach',
  hold: 'hold',
  alternate: 'to the alternate',
};
