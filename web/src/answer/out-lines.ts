/** The ways out of the considered altitude: one summary, then a line a stretch. */
import type { WayOut } from '../contract.ts';
import { WAY_WORDS } from '../words.ts';
import { missingMinimumWords, type WayAir, type WayStretch, wayOrder, wayStretches } from './file-line.ts';
import { stretchText } from './unknown-stretches.ts';

export interface OutLine {
  readonly words: string;
  /** No way out, or none known. */
  readonly isBad: boolean;
}

export interface Outs {
  readonly summary: string;
  /** What the pilot must see first, then the others; both in the order of the leg. */
  readonly lines: readonly OutLine[];
}

const isBad = ({ way }: Pick<WayStretch, 'way'>) => way === 'none' || way === 'unknown';

/** @param air  A way that is unknown only because a minimum altitude is says so. */
export function outsOf(ways: readonly WayOut[], air: WayAir = { points: [] }): Outs {
  const stretches = wayStretches(ways);
  if (stretches.length === 0) return { summary: 'unknown', lines: [] };
  const told = stretches.filter(({ way }) => way !== 'not-needed');
  if (told.length === 0) return { summary: 'not needed on the whole path', lines: [] };
  const lines = [...told.filter(isBad), ...told.filter((one) => !isBad(one))].map((stretch) => ({
    words: `${stretchText(stretch)} NM ${wayOrder(stretch)}${
      stretch.way === 'unknown' ? missingMinimumWords(stretch, air) : ''
    }`,
    isBad: isBad(stretch),
  }));
  return { summary: summaryOf(stretches), lines };
}

/** Of this part of the leg or more, there is a way out nearly everywhere. */
const NEARLY = 0.8;

/** "up or down nearly everywhere; none 41–46 NM"; the way of most miles first. */
function summaryOf(stretches: readonly WayStretch[]): string {
  const milesOf = new Map<WayOut['way'], number>();
  for (const { way, fromNm, toNm } of stretches) milesOf.set(way, (milesOf.get(way) ?? 0) + toNm - fromNm);
  const badNm = (milesOf.get('none') ?? 0) + (milesOf.get('unknown') ?? 0);
  const wholeNm = [...milesOf.values()].reduce((sum, nm) => sum + nm, 0);
  const ways = [...milesOf].filter(([way]) => !isBad({ way })).sort((a, b) => b[1] - a[1]);
  const needed = ways.filter(([way]) => way !== 'not-needed');
  const names = (needed.length > 0 ? needed : ways).map(([way]) => WAY_WORDS[way]).join(' or ');
  const goodShare = wholeNm === 0 ? 0 : 1 - badNm / wholeNm;
  const bad = (['none', 'unknown'] as const).flatMap((word) => {
    const places = stretches.filter(({ way }) => way === word).map(stretchText);
    return places.length === 0 ? [] : [`${word} ${places.join(', ')} NM`];
  });
  return [
    ...(names === '' ? [] : [`${names} ${extentWords(bad.length > 0, goodShare, milesOf)}`]),
    ...bad,
  ].join('; ');
}

function extentWords(
  hasBad: boolean,
  goodShare: number,
  milesOf: ReadonlyMap<WayOut['way'], number>,
): string {
  if (hasBad) return goodShare >= NEARLY ? 'nearly everywhere' : 'on part of the leg';
  return milesOf.has('not-needed') ? 'wherever needed' : 'everywhere';
}
