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
/** Shares of the free room tried in turn, across and down: the middle first. */
const SHARES = [0.5, 0.2, 0.8, 0, 1] as const;

export function boxAround(x: number, y: number, words: string): LabelBox {
  const half = (words.length * CHAR_PX) / 2;
  return { left: x - half, right: x + half, top: y - HEIGHT_PX / 2, bottom: y + HEIGHT_PX / 2 };
}

/** Places what fits, in the order wished; what fits nowhere is left out, for the readout says it too. */
export function placeLabels(wishes: readonly LabelWish[], taken: readonly LabelBox[]): PlacedLabel[] {
  const boxes = [...taken];
  const placed: PlacedLabel[] = [];
  for (const { words, shortWords, room } of wishes) {
    const label = placeWords(words, room, boxes) ?? (shortWords && placeWords(shortWords, room, boxes));
    if (!label) continue;
    boxes.push(boxAround(label.x, label.y, label.words));
    placed.push(label);
  }
  return placed;
}

function placeWords(words: string, room: LabelBox, taken: readonly LabelBox[]): PlacedLabel | undefined {
  const spot = spotsIn(room, words).find(({ x, y }) => {
    const box = boxAround(x, y, words);
    return taken.every((other) => !overlaps(box, other));
  });
  return spot && { words, ...spot };
}

function spotsIn(room: LabelBox, words: string): { readonly x: number; readonly y: number }[] {
  const freeX = room.right - room.left - words.length * CHAR_PX - 6;
  const freeY = room.bottom - room.top - HEIGHT_PX;
  if (freeX < 0 || freeY < 0) return [];
  const startX = room.left + (words.length * CHAR_PX) / 2 + 3;
  const startY = room.top + HEIGHT_PX / 2;
  return SHARES.flatMap((down) =>
    SHARES.map((across) => ({ x: startX + across * freeX, y: startY + down * freeY })),
  );
}

function overlaps(a: LabelBox, b: LabelBox): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
