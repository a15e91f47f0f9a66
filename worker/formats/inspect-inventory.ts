/** An inventory as JSON for people: one object an entry or refused line, in the order of the lines. */
import { readInventory } from './inventory.ts';

export type InspectedInventoryLine =
  | {
      readonly kind: 'inventory-entry';
      readonly line: number;
      readonly offsetBytes: number;
      /** null: to the end of the file. */
      readonly lengthBytes: number | null;
      readonly referenceUtc: string;
      readonly parameter: string;
      readonly level: string;
      readonly forecast: string;
    }
  | { readonly kind: 'refused'; readonly line: number; readonly reason: string };

/** Never throws. */
export function inspectInventory(text: string): InspectedInventoryLine[] {
  const { entries, rejected } = readInventory(text);
  const read = entries.map(({ referenceTimeMs, lengthBytes, line, offsetBytes, ...field }) => ({
    kind: 'inventory-entry' as const,
    line,
    offsetBytes,
    lengthBytes: lengthBytes ?? null,
    referenceUtc: new Date(referenceTimeMs).toISOString().replace('.000Z', 'Z'),
    ...field,
  }));
  const refused = rejected.map(({ line, reason }) => ({ kind: 'refused' as const, line, reason }));
  return [...read, ...refused].sort((a, b) => a.line - b.line);
}
