/** Which names of the plan view are shown, and where: the first in the list take their places first. */
import type { LabelBox } from '../section/label-places.ts';
import type { PlanMark } from './plan-marks.ts';

export interface MarkLabel {
  readonly id: string;
  readonly kind: PlanMark['kind'];
  readonly words: string;
  /** Middle of the words. */
  readonly x: number;
  readonly y: number;
}

type Kind = PlanMark['kind'];

const CHAR_PX: Readonly<Record<Kind, number>> = {
  fix: 11,
  report: 0,
  way: 7.8,
  worse: 6.8,
  station: 6.7,
  aerodrome: 7.4,
  note: 0,
};
const HEIGHT_PX: Readonly<Record<Kind, number>> = {
  fix: 16,
  report: 0,
  way: 14,
  worse: 14,
  station: 12,
  aerodrome: 13,
  note: 0,
};
/** Half the side of a mark's symbol; lines have none at their middle. */
const SYMBOL_PX: Readonly<Record<Kind, number>> = {
  fix: 5,
  report: 9,
  way: 3,
  worse: 2,
  station: 8,
  aerodrome: 4,
  note: 9,
};
const GAP_PX = 3;

export interface ProjectedMark {
  readonly mark: PlanMark;
  readonly x: number;
  readonly y: number;
}

interface Frame {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Names stand under their marks rather than over them: the curtain stands there. */
  readonly prefersUnder: boolean;
}

/** Names that find no free place are left out: the mark stays, and the lists of the page say the same. */
export function placeMarkLabels(marks: readonly ProjectedMark[], frame: Frame): MarkLabel[] {
  const seen = marks.filter(({ x, y }) => x >= 0 && y >= 0 && x <= frame.widthPx && y <= frame.heightPx);
  const symbols = seen.map(({ mark, x, y }) => ({ id: mark.id, box: boxAt(x, y, SYMBOL_PX[mark.kind]) }));
  const taken: LabelBox[] = [];
  const placed: MarkLabel[] = [];
  for (const { mark, x, y } of seen) {
    const others = symbols.filter(({ id, box }) => id !== mark.id && !holds(box, x, y)).map(({ box }) => box);
    const isFree = (box: LabelBox) =>
      isInside(box, frame) && [...taken, ...others].every((other) => !overlaps(box, other));
    const found = wishes(mark, x, y, frame.prefersUnder).find(({ box }) => isFree(box));
    if (found === undefined) continue;
    taken.push(found.box);
    placed.push({ ...found.label, id: mark.id, kind: mark.kind });
  }
  return placed;
}

interface Wish {
  readonly label: Pick<MarkLabel, 'words' | 'x' | 'y'>;
  readonly box: LabelBox;
}

type Spot = readonly [across: -1 | -0.5 | 0 | 0.5 | 1, down: -1 | 0 | 1];

const OVER: readonly Spot[] = [
  [0, -1],
  [0.5, -1],
  [-0.5, -1],
];
const UNDER: readonly Spot[] = OVER.map(([across]) => [across, 1]);
const ASIDE: readonly Spot[] = [
  [1, 0],
  [-1, 0],
];

/** Where the words may stand, best first. Of air above or below the leg, never on the other side of it. */
function spotsOf(mark: PlanMark, prefersUnder: boolean): readonly Spot[] {
  if (mark.kind === 'worse') return mark.side === 'above' ? OVER : UNDER;
  if (prefersUnder || mark.kind === 'station') return [...UNDER, ...ASIDE, ...OVER];
  return [...OVER, ...UNDER, ...ASIDE];
}

/** All words first, then fewer. */
function wishes(mark: PlanMark, x: number, y: number, prefersUnder: boolean): Wish[] {
  const { kind, words } = mark;
  return words.flatMap((text) => {
    const half = (text.length * CHAR_PX[kind]) / 2;
    const halfHeight = HEIGHT_PX[kind] / 2;
    return spotsOf(mark, prefersUnder).map(([across, down]) => {
      const atX = x + across * half * (down === 0 ? 1 : 2) + (down === 0 ? across * (ROOM_PX + GAP_PX) : 0);
      const atY = y + down * (ROOM_PX + GAP_PX + halfHeight);
      return {
        label: { words: text, x: atX, y: atY },
        box: { left: atX - half, right: atX + half, top: atY - halfHeight, bottom: atY + halfHeight },
      };
    });
  });
}

/** As much as the largest symbol: one may stand under another at the same place. */
const ROOM_PX = 8;

function boxAt(x: number, y: number, halfPx: number): LabelBox {
  return { left: x - halfPx, right: x + halfPx, top: y - halfPx, bottom: y + halfPx };
}

const holds = (box: LabelBox, x: number, y: number) =>
  x >= box.left && x <= box.right && y >= box.top && y <= box.bottom;

const isInside = (box: LabelBox, { widthPx, heightPx }: Omit<Frame, 'prefersUnder'>) =>
  box.left >= 2 && box.top >= 2 && box.right <= widthPx - 2 && box.bottom <= heightPx - 2;

const overlaps = (a: LabelBox, b: LabelBox) =>
  a.left < b.right + GAP_PX && b.left < a.right + GAP_PX && a.top < b.bottom && b.top < a.bottom;
