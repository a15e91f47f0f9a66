/** What a BUFR file holds, as JSON for people: a line an ascent, a line a refusal. */
import { type InspectedLevel, type InspectedSounding, inspectSounding } from '../inspect-sounding.ts';
import type { BufrItem } from './read-bufr.ts';
import { significanceNames } from './significance.ts';

export interface InspectedBufrLevel extends InspectedLevel {
  /** Why the level was sent: flags of 0 08 042 in words. */
  readonly significance: readonly string[];
}

export type InspectedBufr =
  | (Omit<InspectedSounding, 'levels'> & { readonly levels: readonly InspectedBufrLevel[] })
  | {
      readonly kind: 'rejected';
      readonly message: number;
      /** 0 when it is about the whole message. */
      readonly subset: number;
      readonly offsetBytes: number;
      readonly reason: string;
    };

/** An ascent with all its levels, or a refusal. Never throws. */
export function inspectBufrItem(item: BufrItem): InspectedBufr {
  if (item.kind === 'rejected') {
    const { messageNumber, subsetNumber, offsetBytes } = item.place;
    return {
      kind: 'rejected',
      message: messageNumber,
      subset: subsetNumber,
      offsetBytes,
      reason: item.error.message,
    };
  }
  const inspected = inspectSounding(item.sounding);
  return {
    ...inspected,
    levels: inspected.levels.map((level, index) => ({
      ...level,
      significance: significanceNames(item.significance[index]!),
    })),
  };
}
