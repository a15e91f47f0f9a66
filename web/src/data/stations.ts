/** Data of one station or model belongs together, newest first. */
import type { DataUsed } from '../contract.ts';

export interface DataGroup {
  readonly name: string;
  readonly uses: readonly DataUsed[];
}

/** Groups in the order in which their names come. */
export function groupedByName(data: readonly DataUsed[]): DataGroup[] {
  const groups = new Map<string, DataUsed[]>();
  for (const one of data) groups.set(one.name, [...(groups.get(one.name) ?? []), one]);
  return [...groups].map(([name, uses]) => ({
    name,
    uses: uses.sort((a, b) => Date.parse(b.validUtc) - Date.parse(a.validUtc)),
  }));
}

/** Each attribution once. */
export function attributionsOf({ uses }: DataGroup): string {
  return [...new Set(uses.map((one) => one.attribution))].filter((text) => text !== '').join(' ');
}
