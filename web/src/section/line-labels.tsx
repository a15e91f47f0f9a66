/** The words of the drawn lines, placed before the bands' words and out of each other's way. */
import type { Brief, FeatureOf } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { joinedNm } from './gaps.ts';
import { boxAround, type LabelBox, type LabelWish, type PlacedLabel, placeLabels } from './label-places.ts';
import { GROUND_WORDS_PX, UNKNOWN_MINIMUM_PX } from './lines.tsx';
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
    for (const label of placeLabels(wishes, taken, sheet.textScale)) {
      taken.push(boxAround(label, sheet.textScale));
      labels.push({ kind, ...label });
    }
  };
  add('filed', filedWishes(brief, sheet));
  for (const feature of featuresOf(brief, 'minimum-altitude')) add('minimum', [minimumWish(feature, sheet)]);
  for (const feature of featuresOf(brief, 'freezing-level'))
    add('freezing', firstPossible(freezingWishes(feature, sheet), taken, sheet.textScale));
  return labels;
}

/** The first of several wishes for the same word that can be had. */
function firstPossible(
  wishes: readonly LabelWish[],
  taken: readonly LabelBox[],
  textScale: number,
): LabelWish[] {
  const first = wishes.find((wish) => placeLabels([wish], taken, textScale).length > 0);
  return first === undefined ? [] : [first];
}

/** Boxes that other words must leave free: the labels, the minimum altitudes and the line of the altitude to file. */
export function boxesOfLines(brief: Brief, sheet: Sheet): LabelBox[] {
  const { file } = brief.brief;
  const filed = file === null ? [] : [{ fromNm: 0, toNm: sheet.lengthNm, altitudeFt: file.altitudeFt }];
  const minimums = featuresOf(brief, 'minimum-altitude').map((feature) => feature.properties);
  const lines = [...filed, ...minimums].flatMap(({ fromNm, toNm, altitudeFt }) => {
    if (altitudeFt === null) return [];
    const y = sheet.y(altitudeFt);
    return [{ left: sheet.x(fromNm), right: sheet.x(toNm), top: y - 4, bottom: y + 4 }];
  });
  const labels = lineLabels(brief, sheet).map((label) => boxAround(label, sheet.textScale));
  return [...labels, ...lines, ...smoothedGroundBoxes(brief, sheet)];
}

/** Where the foot of the sheet says that the ground is smoothed. */
function smoothedGroundBoxes(brief: Brief, sheet: Sheet): LabelBox[] {
  const grounds = featuresOf(brief, 'terrain').map((feature) => feature.properties);
  const smoothed = joinedNm(grounds.filter(({ source }) => source === 'model-orography'));
  return smoothed.map(({ fromNm, toNm }) => {
    const x = sheet.x((fromNm + toNm) / 2);
    const halfPx = (GROUND_WORDS_PX / 2) * sheet.textScale;
    const { bottom } = sheet.plot;
    return {
      left: x - halfPx,
      right: x + halfPx,
      top: bottom - LINE_HEIGHT_PX * sheet.textScale - 4,
      bottom,
    };
  });
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
    top: y - LINE_HEIGHT_PX * sheet.textScale - 3,
    bottom: y - 3,
  };
  return [{ words, room }];
}

/** Over its own line; an unknown minimum is said just over the ground. */
function minimumWish({ properties }: FeatureOf<'minimum-altitude'>, sheet: Sheet): LabelWish {
  const { fromNm, toNm, altitudeFt } = properties;
  const words = altitudeFt === null ? 'minimum altitude unknown' : `minimum ${feetText(altitudeFt)}`;
  const lineY = altitudeFt === null ? sheet.plot.bottom - UNKNOWN_MINIMUM_PX : sheet.y(altitudeFt);
  const top = lineY - LINE_HEIGHT_PX * sheet.textScale - 2;
  return {
    words,
    ...(altitudeFt === null ? { shortWords: 'min. unknown' } : {}),
    room: { left: sheet.x(fromNm), right: sheet.x(toNm), top, bottom: lineY - 2 },
  };
}

/** A few places along the line, just over it. */
function freezingWishes({ properties }: FeatureOf<'freezing-level'>, sheet: Sheet): LabelWish[] {
  const { distanceNm, altitudeFt } = properties;
  return [0.15, 0.35, 0.55, 0.75, 0.9].map((share) => {
    const index = Math.floor(share * (distanceNm.length - 1));
    const [x, y] = [sheet.x(distanceNm[index]!), sheet.y(altitudeFt[index]!)];
    return {
      words: FREEZING_WORDS,
      room: { left: x - 21, right: x + 21, top: y - LINE_HEIGHT_PX * sheet.textScale - 3, bottom: y - 2 },
    };
  });
}
