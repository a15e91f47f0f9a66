/** Where the air a little above or below what is considered is worse than there. */
import type { BandFeature } from '../contract.ts';
import { type Look, lookOf, type Properties } from '../look.ts';
import { iceWords, stateSentence, UNKNOWN_WORD } from '../words.ts';
import type { Stretch } from './along-leg.ts';
import type { Level } from './plan-bands.ts';

/** How far above and below is looked, ft: a change that a controller gives at once (judgement). */
export const WORSE_WITHIN_FT = 2000;

export interface WorseStretch extends Stretch {
  readonly side: 'above' | 'below';
  /** The worst within reach. */
  readonly look: Look;
  /** "moderate", "large drops", "unknown". */
  readonly inShort: string;
  readonly inFull: string;
}

type Air = Pick<
  Properties,
  'state' | 'intensity' | 'iceKind' | 'probability' | 'largeDrops' | 'growthMmPerMin' | 'envelopeRatio'
>;

/** Air that no feature covers. */
const UNCOVERED: Air = {
  state: 'no-data',
  intensity: null,
  iceKind: null,
  probability: null,
  growthMmPerMin: null,
  largeDrops: null,
  envelopeRatio: null,
};

const SHADE_RANK = { trace: 1, light: 2, moderate: 4, severe: 5 } as const;
const UNKNOWN_RANK = 3;
const LARGE_DROPS_RANK = 6;

/** Unknown may be anything: it counts for more than light ice and for less than moderate (judgement). */
export function badness(look: Look): number {
  if (look.kind === 'unknown') return UNKNOWN_RANK;
  if (look.kind !== 'ice') return 0;
  return look.largeDrops ? LARGE_DROPS_RANK : SHADE_RANK[look.shade];
}

/** In the order of the leg, what lies above first. */
export function worseAir(bands: readonly BandFeature[], levels: readonly Level[]): WorseStretch[] {
  const edges = edgesNm(bands, levels);
  const found: WorseStretch[] = [];
  for (const side of ['above', 'below'] as const) {
    for (const [index, fromNm] of edges.slice(0, -1).entries()) {
      const stretch = { fromNm, toNm: edges[index + 1]! };
      const worse = worseOn(side, bands, levels, stretch);
      if (worse !== undefined) joinOrPush(found, { ...stretch, side, ...worse });
    }
  }
  return found.sort((a, b) => a.fromNm - b.fromNm);
}

function edgesNm(bands: readonly BandFeature[], levels: readonly Level[]): number[] {
  const lengthNm = levels.at(-1)?.toNm ?? 0;
  const ends = [...bands.map(({ properties }) => properties), ...levels].flatMap((one) => [
    one.fromNm,
    one.toNm,
  ]);
  return [...new Set(ends)].filter((nm) => nm >= 0 && nm <= lengthNm).sort((a, b) => a - b);
}

function worseOn(
  side: WorseStretch['side'],
  bands: readonly BandFeature[],
  levels: readonly Level[],
  { fromNm, toNm }: Stretch,
): Pick<WorseStretch, 'look' | 'inShort' | 'inFull'> | undefined {
  const middleNm = (fromNm + toNm) / 2;
  const altitudeFt = levels.find((one) => one.fromNm <= middleNm && middleNm < one.toNm)?.altitudeFt;
  if (altitudeFt === undefined) return undefined;
  const column = bands.map(({ properties }) => properties).filter((one) => isOver(one, middleNm));
  const bottomFt = Math.min(...bands.map(({ properties }) => properties.lowerFt));
  const [lowFt, highFt] =
    side === 'above'
      ? [altitudeFt, altitudeFt + WORSE_WITHIN_FT]
      : [Math.max(bottomFt, altitudeFt - WORSE_WITHIN_FT), altitudeFt];
  const here = column.find((one) => one.lowerFt <= altitudeFt && altitudeFt < one.upperFt) ?? UNCOVERED;
  const near: Air[] = column.filter((one) => one.lowerFt < highFt && one.upperFt > lowFt);
  if (!isCovered(column, lowFt, highFt)) near.push(UNCOVERED);
  const worst = near.toSorted((a, b) => badness(lookOf(b)) - badness(lookOf(a)))[0];
  if (worst === undefined || badness(lookOf(worst)) <= badness(lookOf(here))) return undefined;
  return { look: lookOf(worst), ...wordsOf(worst) };
}

const isOver = ({ fromNm, toNm }: Stretch, nm: number) => fromNm <= nm && nm < toNm;

function isCovered(column: readonly Properties[], lowFt: number, highFt: number): boolean {
  const coveredFt = column.reduce(
    (sum, one) => sum + Math.max(0, Math.min(one.upperFt, highFt) - Math.max(one.lowerFt, lowFt)),
    0,
  );
  return coveredFt >= highFt - lowFt - 1;
}

function wordsOf(air: Air): Pick<WorseStretch, 'inShort' | 'inFull'> {
  const look = lookOf(air);
  if (look.kind !== 'ice') {
    return {
      inShort: UNKNOWN_WORD,
      inFull: look.kind === 'unknown' ? stateSentence(look.state) : UNKNOWN_WORD,
    };
  }
  return { inShort: look.largeDrops ? 'large drops' : look.shade, inFull: iceWords(air) };
}

function joinOrPush(found: WorseStretch[], next: WorseStretch): void {
  const last = found.at(-1);
  const isSame = last?.side === next.side && last.toNm === next.fromNm && last.inShort === next.inShort;
  if (last !== undefined && isSame) found[found.length - 1] = { ...last, toNm: next.toNm };
  else found.push(next);
}
