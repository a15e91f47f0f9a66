/** Where pilots' notes stand in the cross-section, and where their words can. Nothing that stood there gives way. */
import { celsiusText } from '../numbers.ts';
import { offWords } from '../off-words.ts';
import {
  type LabelBox,
  type LabelWish,
  labelWidthPx,
  type PlacedLabel,
  placeLabels,
} from '../section/label-places.ts';
import type { Sheet } from '../section/scales.ts';
import { heightsText, noteAge, type PilotNote } from './note-words.ts';

export interface NoteMark {
  readonly key: string;
  readonly featureId: string;
  /** note: a letter in a circle, for what was said of a level. tops, bases: a tick at the height of cloud. */
  readonly kind: 'note' | 'tops' | 'bases';
  readonly x: number;
  readonly y: number;
  /** How far it was said to hold, px; equal ends for a single place or height. */
  readonly reach: LabelBox;
  /** The same with ever less, the age always in it. */
  readonly words: readonly string[];
}

/** Half the width and half the height of a mark. */
export const CIRCLE_PX = 8;
export const TICK_PX = 14;
const TICK_HEIGHT_PX = 6;

/** A note without a place, or of heights that the drawing does not show, stands in the list alone. */
export function marksOf({ id, geometry, properties }: PilotNote, sheet: Sheet, atMs: number): NoteMark[] {
  if (geometry === null) return [];
  const { fromNm, toNm, issuedUtc, fromRouteNm, clouds } = properties;
  const age = noteAge(issuedUtc, atMs);
  const asides = [`, ${age}, ${offWords(fromRouteNm)}`, `, ${age}`];
  const [left, right] = [sheet.x(Math.max(0, fromNm)), sheet.x(Math.min(sheet.lengthNm, toNm))];
  const markAt: MarkAt = (kind, said, edges) => {
    const { range, y } = sheet;
    const middleFt = (edges.lowerFt + edges.upperFt) / 2;
    if (middleFt < range.lowestFt || middleFt > range.highestFt) return [];
    const clampedY = (feet: number) => y(Math.min(range.highestFt, Math.max(range.lowestFt, feet)));
    const reach = { left, right, top: clampedY(edges.upperFt), bottom: clampedY(edges.lowerFt) };
    const key = `${id} ${kind} ${middleFt}`;
    const words = asides.map((aside) => `${said}${aside}`);
    return [{ key, featureId: id, kind, x: (left + right) / 2, y: y(middleFt), reach, words }];
  };
  return [
    ...levelMarks(properties, markAt),
    ...clouds.flatMap(({ top, base }) => [
      ...(top === null ? [] : markAt('tops', `tops ${heightsText(top)} reported`, top)),
      ...(base === null ? [] : markAt('bases', `bases ${heightsText(base)} reported`, base)),
    ]),
  ];
}

interface Edges {
  readonly lowerFt: number;
  readonly upperFt: number;
}

type MarkAt = (kind: NoteMark['kind'], said: string, edges: Edges) => NoteMark[];

/** Where one edge alone is stated the mark stands on it. */
function levelMarks(
  { noIce, temperatureC, lowerFt, upperFt }: PilotNote['properties'],
  markAt: MarkAt,
): NoteMark[] {
  const knownFt = lowerFt ?? upperFt;
  if (knownFt === null) return [];
  const edges = { lowerFt: knownFt, upperFt: upperFt ?? knownFt };
  if (!noIce)
    return temperatureC === null ? [] : markAt('note', `${celsiusText(temperatureC)} reported`, edges);
  const side = lowerFt === null ? ' below' : upperFt === null ? ' above' : '';
  return markAt('note', `no ice reported${side}`, edges);
}

const FIRST: Readonly<Record<NoteMark['kind'], number>> = { note: 0, tops: 1, bases: 2 };
/** Aside of its place by so much at most. */
const SHIFTS_PX = [0, 20, -20, 40, -40] as const;

/**
 * Each where it covers no word and no other mark, those of levels first, then tops, which say more than bases. What finds no
 * room is left out: nothing that warns is covered by what warns of nothing, and the list has it all.
 *
 * @param words  Boxes of the words that are drawn already.
 */
export function apart(marks: readonly NoteMark[], words: readonly LabelBox[], { plot }: Sheet): NoteMark[] {
  const taken = [...words];
  const inOrder = marks.toSorted((a, b) => FIRST[a.kind] - FIRST[b.kind]);
  return inOrder.flatMap((told) => {
    const half = told.x - markBox(told).left;
    const middle = Math.min(plot.right - half, Math.max(plot.left + half, told.x));
    const spots = SHIFTS_PX.map((shift) => ({ ...told, x: middle + shift }));
    const free = spots.find((spot) => {
      const box = markBox(spot);
      return box.left >= plot.left && box.right <= plot.right && !taken.some((one) => overlaps(one, box));
    });
    if (free === undefined) return [];
    taken.push(markBox(free));
    return [free];
  });
}

export function markBox({ kind, x, y }: Pick<NoteMark, 'kind' | 'x' | 'y'>): LabelBox {
  const [across, down] = kind === 'note' ? [CIRCLE_PX + 1, CIRCLE_PX + 1] : [TICK_PX, TICK_HEIGHT_PX];
  return { left: x - across, right: x + across, top: y - down, bottom: y + down };
}

const overlaps = (a: LabelBox, b: LabelBox) =>
  a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;

const LABEL_HEIGHT_PX = 18;
/** The letters are smaller than those of the other words by so much. */
const SMALLER = 0.88;
export const labelScale = ({ textScale }: Sheet) => SMALLER * textScale;

/** Beside the mark, over it or under it, all words first; undefined where there is no room: the list says the same. */
export function noteLabel(mark: NoteMark, taken: readonly LabelBox[], sheet: Sheet): PlacedLabel | undefined {
  for (const words of mark.words)
    for (const wish of wishes(mark, words, sheet)) {
      const [label] = placeLabels([wish], taken, labelScale(sheet));
      if (label !== undefined) return label;
    }
  return undefined;
}

/** Other words keep so far from a label at its ends, marks too. */
const GAP_PX = 9;

function wishes(mark: NoteMark, words: string, sheet: Sheet): LabelWish[] {
  const { plot } = sheet;
  const widthPx = labelWidthPx(words, labelScale(sheet)) + 7;
  const heightPx = LABEL_HEIGHT_PX * labelScale(sheet) + 1;
  const box = markBox(mark);
  const rooms = [
    [box.right + GAP_PX, mark.y - heightPx / 2],
    [box.left - GAP_PX - widthPx, mark.y - heightPx / 2],
    ...[box.top - heightPx, box.bottom].flatMap((top) =>
      [0.5, 0, 1, 0.25, 0.75].map((share) => [mark.x - share * widthPx, top] as const),
    ),
  ] as const;
  return rooms
    .map(([left, top]) => ({ left, right: left + widthPx, top, bottom: top + heightPx }))
    .filter((room) => room.left >= plot.left && room.right <= plot.right)
    .filter((room) => room.top >= plot.top && room.bottom <= plot.bottom)
    .map((room) => ({ words, room }));
}
