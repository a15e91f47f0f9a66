/** Where words can stand in the drawing without running into each other. */

export interface LabelBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

export interface LabelWish {
  readonly words: string;
  /** Said instead where the words have no room. */
  readonly shortWords?: string;
  /** The label must stay inside this. */
  readonly room: LabelBox;
}

export interface PlacedLabel {
  readonly words: string;
  readonly x: number;
  readonly y: number;
}

const CHAR_PX = 7.1;
const HEIGHT_PX = 18;
/** Two labels side by side would read as one without it. */
const APART_PX = 10;
/** Shares of the free room tried in turn, across and down: the middle first. */
const SHARES = [0.5, 0.2, 0.8, 0, 1] as const;

/** Reckoned, not measured. */
export const labelWidthPx = (words: string, textScale: number) => words.length * CHAR_PX * textScale;

export function boxAround({ x, y, words }: PlacedLabel, textScale = 1): LabelBox {
  const half = labelWidthPx(words, textScale) / 2;
  const halfHeight = (HEIGHT_PX * textScale) / 2;
  return { left: x - half, right: x + half, top: y - halfHeight, bottom: y + halfHeight };
}

/** Paper under a label, so that ruling and dots do not run through its letters. */
export function platePath(label: PlacedLabel, textScale = 1): string {
  const { left, right, top, bottom } = boxAround(label, textScale);
  return `M${left} ${top + 1}H${right}V${bottom - 1}H${left}Z`;
}

/** Places what fits, in the order wished; what fits nowhere is left out, for the readout says it too. */
export function placeLabels(
  wishes: readonly LabelWish[],
  taken: readonly LabelBox[],
  textScale = 1,
): PlacedLabel[] {
  const boxes = [...taken];
  const placed: PlacedLabel[] = [];
  const place = (words: string, room: LabelBox) =>
    spotsIn(room, words, textScale).find((spot) => {
      const box = boxAround(spot, textScale);
      return boxes.every((other) => !overlaps(box, other));
    });
  for (const { words, shortWords, room } of wishes) {
    const label = place(words, room) ?? (shortWords === undefined ? undefined : place(shortWords, room));
    if (label === undefined) continue;
    boxes.push(boxAround(label, textScale));
    placed.push(label);
  }
  return placed;
}

function spotsIn(room: LabelBox, words: string, textScale: number): PlacedLabel[] {
  const widthPx = labelWidthPx(words, textScale);
  const heightPx = HEIGHT_PX * textScale;
  const freeX = room.right - room.left - widthPx - 6;
  const freeY = room.bottom - room.top - heightPx;
  if (freeX < 0 || freeY < 0) return [];
  const startX = room.left + widthPx / 2 + 3;
  const startY = room.top + heightPx / 2;
  return SHARES.flatMap((down) =>
    SHARES.map((across) => ({ words, x: startX + across * freeX, y: startY + down * freeY })),
  );
}

function overlaps(a: LabelBox, b: LabelBox): boolean {
  return a.left < b.right + APART_PX && b.left < a.right + APART_PX && a.top < b.bottom && b.top < a.bottom;
}
