/** The words of the drawn lines, placed before the bands' words and out of each other's way. */
import type { Brief, FeatureOf } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { boxAround, type LabelBox, type LabelWish, type PlacedLabel, placeLabels } from './label-places.ts';
import type { Sheet } from './scales.ts';

const LINE_HEIGHT_PX = 18;
const FREEZING_WORDS = '0 °C';

export interface LineLabel extends PlacedLabel {
  readonly kind: 'filed' | 'minimum' | 'freezing';
}

/** In the order of what may not be missed: the altitude to file, minimum altitudes, freezing levels. */
export function lineLabels(brief: Brief, sheet: Sheet): LineLabel[] {
  const labels: LineLabel[] = [];
  const taken: LabelBox[] = [];
  const add = (kind: LineLabel['kind'], wishes: readonly LabelWish[]) => {
    for (const label of placeLabels(wishes, taken)) {
      taken.push(boxAround(label.x, label.y, label.words));
      labels.push({ kind, ...label });
    }
  };
  add('filed', filedWishes(brief, sheet));
  for (const feature of featuresOf(brief, 'minimum-altitude')) add('minimum', [minimumWish(feature, sheet)]);
  for (const feature of featuresOf(brief, 'freezing-level'))
    add('freezing', placeFirst(freezingWishes(feature, sheet), taken));
  return labels;
}

/** The first of several wishes for the same word that can be had. */
function placeFirst(wishes: readonly LabelWish[], taken: readonly LabelBox[]): LabelWish[] {
  const first = wishes.find((wish) => placeLabels([wish], taken).length > 0);
  return first === undefined ? [] : [first];
}

/** Boxes that other words must leave free: the labels, and the line of the altitude to file. */
export function boxesOfLines(brief: Brief, sheet: Sheet): LabelBox[] {
  const boxes = lineLabels(brief, sheet).map(({ x, y, words }) => boxAround(x, y, words));
  const { file } = brief.brief;
  if (file === null) return boxes;
  const y = sheet.y(file.altitudeFt);
  return [...boxes, { left: sheet.plot.left, right: sheet.plot.right, top: y - 5, bottom: y + 5 }];
}

export function LineLabels({ brief, sheet }: { readonly brief: Brief; readonly sheet: Sheet }) {
  return (
    <g class="line-labels">
      {lineLabels(brief, sheet).map(({ kind, words, x, y }) => (
        <text key={`${kind} ${x} ${y}`} class={`label-${kind}`} x={x} y={y} dy="0.35em" text-anchor="middle">
          {words}
        </text>
      ))}
    </g>
  );
}

function filedWishes({ brief: { file } }: Brief, sheet: Sheet): LabelWish[] {
  if (file === null) return [];
  const y = sheet.y(file.altitudeFt);
  const words = `file ${feetText(file.altitudeFt)}`;
  const room = {
    left: sheet.plot.left + 6,
    right: sheet.plot.left + 120,
    top: y - LINE_HEIGHT_PX - 3,
    bottom: y - 3,
  };
  return [{ words, room }];
}

/** Over its own line; an unknown minimum is said just over the ground. */
function minimumWish({ properties }: FeatureOf<'minimum-altitude'>, sheet: Sheet): LabelWish {
  const { fromNm, toNm, altitudeFt } = properties;
  const words = altitudeFt === null ? 'minimum altitude unknown' : `minimum ${feetText(altitudeFt)}`;
  const lineY = altitudeFt === null ? sheet.plot.bottom - LINE_HEIGHT_PX : sheet.y(altitudeFt);
  return { words, room: { left: sheet.x(fromNm), right: sheet.x(toNm), top: lineY - 20, bottom: lineY - 2 } };
}

/** A few places along the line, just over it. */
function freezingWishes({ properties }: FeatureOf<'freezing-level'>, sheet: Sheet): LabelWish[] {
  const { distanceNm, altitudeFt } = properties;
  return [0.15, 0.35, 0.55, 0.75, 0.9].map((share) => {
    const index = Math.floor(share * (distanceNm.length - 1));
    const [x, y] = [sheet.x(distanceNm[index]!), sheet.y(altitudeFt[index]!)];
    return {
      words: FREEZING_WORDS,
      room: { left: x - 20, right: x + 20, top: y - LINE_HEIGHT_PX - 3, bottom: y - 2 },
    };
  });
}
