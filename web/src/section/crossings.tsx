/** Places that must be crossed at an altitude or higher: a foot that stands on that altitude. */
import type { BriefMember } from '../contract.ts';
import { feetText } from '../numbers.ts';
import type { LabelWish } from './label-places.ts';
import type { Sheet } from './scales.ts';

type Crossings = BriefMember['limits']['crossings'];

const HALF_PX = 9;
const HEIGHT_PX = 8;

export function Crossings({ crossings, sheet }: { readonly crossings: Crossings; readonly sheet: Sheet }) {
  return (
    <g class="crossings">
      {crossings.map(({ name, distanceNm, altitudeFt }) => {
        const [x, y] = [sheet.x(distanceNm), sheet.y(altitudeFt)];
        return (
          <path
            key={`${name} ${distanceNm}`}
            d={`M${x - HALF_PX} ${y}H${x + HALF_PX}M${x - HALF_PX} ${y}v${HEIGHT_PX}M${x + HALF_PX} ${y}v${HEIGHT_PX}`}
          />
        );
      })}
    </g>
  );
}

/** "KESTU 9,000", under its foot. */
export function crossingWishes(crossings: Crossings, sheet: Sheet, lineHeightPx: number): LabelWish[] {
  return crossings.map(({ name, distanceNm, altitudeFt }) => {
    const words = `${name} ${feetText(altitudeFt)}`;
    const halfPx = 12 + words.length * 4 * sheet.textScale;
    const { left, right } = sheet.plot;
    const x = Math.min(right - halfPx, Math.max(left + halfPx, sheet.x(distanceNm)));
    const top = sheet.y(altitudeFt) + 4;
    return { words, room: { left: x - halfPx, right: x + halfPx, top, bottom: top + lineHeightPx } };
  });
}
