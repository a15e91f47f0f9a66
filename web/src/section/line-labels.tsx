/** The words of the drawn lines, placed before the bands' words and out of each other's way. */

import { wayStretches } from '../answer/file-line.ts';
import { bestCandidateOf, isBest, levelAtFt, levelsText, waysOf } from '../considered.ts';
import type { Brief, Candidate, FeatureOf } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { hazardsOf } from '../hazards.ts';
import { feetText } from '../numbers.ts';
import { considered, consideredCandidate, isGivenSaid } from '../state.ts';
import { crossingWishes } from './crossings.tsx';
import { hazardWishes } from './hazard-places.ts';
import {
  boxAround,
  type LabelBox,
  type LabelWish,
  type PlacedLabel,
  placeLabels,
  platePath,
} from './label-places.ts';
import { smoothedGround, UNKNOWN_GROUND_PX, UNKNOWN_MINIMUM_PX, unknownGround } from './lines.tsx';
import type { Sheet } from './scales.ts';

const LINE_HEIGHT_PX = 18;
const FREEZING_WORDS = '0 °C';

export interface LineLabel extends PlacedLabel {
  readonly kind: 'filed' | 'given' | 'no-way' | 'hazard' | 'minimum' | 'crossing' | 'freezing' | 'ground';
}

/**
 * In the order of what may not be missed: the altitudes filed and given, no way out, what was reported, minimum
 * altitudes, freezing levels.
 */
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
  add('given', givenWishes(brief, sheet));
  add('no-way', noWayWishes(brief, sheet));
  for (const hazard of hazardsOf(brief))
    add('hazard', firstPossible(hazardWishes(hazard, sheet), taken, sheet.textScale));
  for (const feature of featuresOf(brief, 'minimum-altitude')) add('minimum', [minimumWish(feature, sheet)]);
  const { crossings } = brief.brief.limits;
  add('crossing', crossingWishes(crossings, sheet, LINE_HEIGHT_PX * sheet.textScale));
  for (const feature of featuresOf(brief, 'freezing-level'))
    add('freezing', firstPossible(freezingWishes(feature, sheet), taken, sheet.textScale));
  add('ground', groundWishes(brief, sheet));
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
export function boxesOfLines(brief: Brief, sheet: Sheet, placed: readonly LineLabel[]): LabelBox[] {
  const flown = [filedCandidate(brief), consideredCandidate.value].flatMap((candidate) =>
    candidate === undefined ? [] : levelStretches(candidate, sheet.lengthNm),
  );
  const minimums = featuresOf(brief, 'minimum-altitude').map((feature) => feature.properties);
  const lines = [...flown, ...minimums].flatMap(({ fromNm, toNm, altitudeFt }) => {
    if (altitudeFt === null) return [];
    const y = sheet.y(altitudeFt);
    return [{ left: sheet.x(fromNm), right: sheet.x(toNm), top: y - 4, bottom: y + 4 }];
  });
  const steps = [filedCandidate(brief), consideredCandidate.value].flatMap((candidate) =>
    candidate === undefined ? [] : stepBoxes(candidate, sheet),
  );
  const labels = placed.map((label) => boxAround(label, sheet.textScale));
  return [...labels, ...lines, ...steps];
}

interface LineLabelsProps {
  readonly labels: readonly LineLabel[];
  readonly textScale: number;
}

export function LineLabels({ labels, textScale }: LineLabelsProps) {
  return (
    <g class="line-labels">
      {labels.map(({ kind, words, x, y }) => (
        <g key={`${kind} ${x} ${y}`}>
          <path class="label-plate" d={platePath({ words, x, y }, textScale)} />
          <text class={`label-${kind}`} x={x} y={y} dy="0.35em" text-anchor="middle">
            {words}
          </text>
        </g>
      ))}
    </g>
  );
}

/** What is filed; undefined where there is nothing to file. */
function filedCandidate({ brief }: Brief): Candidate | undefined {
  return brief.file === null ? undefined : bestCandidateOf(brief);
}

function levelStretches({ profile }: Candidate, lengthNm: number) {
  return profile.map(({ fromNm, altitudeFt }, index) => ({
    fromNm,
    toNm: profile[index + 1]?.fromNm ?? lengthNm,
    altitudeFt,
  }));
}

/** The upright parts of a stepped profile. */
function stepBoxes({ profile }: Candidate, sheet: Sheet): LabelBox[] {
  return profile.slice(1).map(({ fromNm, altitudeFt }, index) => {
    const heights = [sheet.y(altitudeFt), sheet.y(profile[index]!.altitudeFt)];
    const x = sheet.x(fromNm);
    return { left: x - 4, right: x + 4, top: Math.min(...heights), bottom: Math.max(...heights) };
  });
}

function filedWishes(brief: Brief, sheet: Sheet): LabelWish[] {
  const filed = filedCandidate(brief);
  return filed === undefined ? [] : [startOfLine('file', filed, sheet)];
}

/** Only where it is not what is filed: then one word is enough. */
function givenWishes({ brief }: Brief, sheet: Sheet): LabelWish[] {
  const candidate = consideredCandidate.value;
  if (candidate === undefined || isBest(considered.value, brief)) return [];
  return [startOfLine(isGivenSaid.value ? 'given' : 'looking at', candidate, sheet)];
}

function startOfLine(word: string, candidate: Candidate, sheet: Sheet): LabelWish {
  const y = sheet.y(candidate.profile[0]?.altitudeFt ?? candidate.altitudeFt);
  const words = `${word} ${levelsText(candidate)}`;
  return {
    words,
    room: {
      left: sheet.plot.left + 6,
      right: sheet.plot.left + 40 + words.length * WORD_CHAR_PX * sheet.textScale,
      top: y - LINE_HEIGHT_PX * sheet.textScale - 3,
      bottom: y - 3,
    },
  };
}
const WORD_CHAR_PX = 8;

/** Under the bar that marks where the considered altitude has no way out. */
function noWayWishes({ brief }: Brief, sheet: Sheet): LabelWish[] {
  const candidate = consideredCandidate.value;
  if (candidate === undefined) return [];
  const stretches = wayStretches(waysOf(candidate, brief.leg.points));
  return stretches
    .filter(({ way }) => way === 'none')
    .map(({ fromNm, toNm }) => {
      const middleNm = (fromNm + toNm) / 2;
      const y = sheet.y(levelAtFt(candidate, middleNm));
      const half = Math.max(48, (sheet.x(toNm) - sheet.x(fromNm)) / 2);
      const middle = Math.min(sheet.plot.right - half, Math.max(sheet.plot.left + half, sheet.x(middleNm)));
      const top = y + 9;
      const bottom = top + LINE_HEIGHT_PX * sheet.textScale;
      return { words: 'no way out', room: { left: middle - half, right: middle + half, top, bottom } };
    });
}

function groundWishes(brief: Brief, sheet: Sheet): LabelWish[] {
  const grounds = featuresOf(brief, 'terrain');
  const said = [
    ...unknownGround(grounds, sheet).map((gap) => ({ ...gap, words: 'ground unknown' })),
    ...smoothedGround(grounds).map((part) => ({ ...part, words: 'ground smoothed' })),
  ];
  const { bottom } = sheet.plot;
  return said.map(({ fromNm, toNm, words }) => ({
    words,
    room: {
      left: sheet.x(fromNm),
      right: sheet.x(toNm),
      top: bottom - Math.max(UNKNOWN_GROUND_PX, LINE_HEIGHT_PX * sheet.textScale) - 1,
      bottom: bottom + 1,
    },
  }));
}

/** Over its own line; an unknown minimum is said just over the ground. */
function minimumWish({ properties }: FeatureOf<'minimum-altitude'>, sheet: Sheet): LabelWish {
  const { fromNm, toNm, altitudeFt } = properties;
  const words = altitudeFt === null ? 'minimum altitude unknown' : `minimum ${feetText(altitudeFt)}`;
  const lineY = altitudeFt === null ? sheet.plot.bottom - UNKNOWN_MINIMUM_PX : sheet.y(altitudeFt);
  const top = lineY - LINE_HEIGHT_PX * sheet.textScale - 2;
  return {
    words,
    shortWords: altitudeFt === null ? 'min. unknown' : `min. ${feetText(altitudeFt)}`,
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
