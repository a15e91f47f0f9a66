/** Where a report or a warning stands in the cross-section, and where its words can. */
import type { Hazard } from '../hazards.ts';
import { hazardWords } from '../hazards.ts';
import type { LabelBox, LabelWish } from './label-places.ts';
import type { Sheet } from './scales.ts';

/** Keeps the outline inside the drawing, and a short stretch wide enough to be seen. */
const INSET_PX = 1.5;
const LEAST_WIDTH_PX = 10;
const LEAST_HEIGHT_PX = 8;
const LABEL_HEIGHT_PX = 18;
/** Room beside a box for a label that is wider than it. */
const OVERHANG_PX = 140;

/** An edge that nobody stated lies at the edge of the drawing, and so does one beyond it. */
export function hazardBox({ properties }: Hazard, { x, y, plot, range, lengthNm }: Sheet): LabelBox {
  const clampedFt = (feet: number) => Math.min(range.highestFt, Math.max(range.lowestFt, feet));
  const lowerFt = clampedFt(properties.lowerFt ?? range.lowestFt);
  const upperFt = clampedFt(properties.upperFt ?? range.highestFt);
  const [left, right] = widened(
    [x(Math.max(0, properties.fromNm)) + INSET_PX, x(Math.min(lengthNm, properties.toNm)) - INSET_PX],
    [plot.left, plot.right],
    LEAST_WIDTH_PX,
  );
  const [top, bottom] = widened(
    [y(upperFt) + INSET_PX, y(lowerFt) - INSET_PX],
    [plot.top, plot.bottom],
    LEAST_HEIGHT_PX,
  );
  return { left, right, top, bottom };
}

type Span = readonly [number, number];

/** About its middle to the least size, inside the drawing. */
function widened([from, to]: Span, [least, greatest]: Span, sizePx: number): Span {
  if (to - from >= sizePx) return [from, to];
  const start = Math.min(greatest - sizePx, Math.max(least, (from + to - sizePx) / 2));
  return [start, start + sizePx];
}

/** Inside the box, else across its foot or its top; one word for boxes that say the same in the same place. */
export function hazardWishes(hazard: Hazard, sheet: Sheet): LabelWish[] {
  const words = hazardWords(hazard.properties);
  const shortWords = hazard.properties.severity === 'large-drops' ? 'large drops' : 'ice';
  const box = hazardBox(hazard, sheet);
  const heightPx = LABEL_HEIGHT_PX * sheet.textScale;
  const wide = {
    left: Math.max(sheet.plot.left, box.left - OVERHANG_PX),
    right: Math.min(sheet.plot.right, box.right + OVERHANG_PX),
  };
  return [
    { words, room: { ...box, bottom: Math.max(box.bottom, box.top + heightPx) } },
    { words, shortWords, room: { ...wide, top: box.top, bottom: Math.max(box.bottom, box.top + heightPx) } },
  ];
}
