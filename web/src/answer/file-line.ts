/** The filing advice as short sentences. */
import type { BriefMember, WayOut } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { WAY_WORDS } from '../words.ts';

type Refusal = NonNullable<BriefMember['file']>['refuse'][number];

export interface RefusedRange {
  readonly lowerFt: number;
  readonly upperFt: number;
  readonly reason: string;
}

/** Neighboring refused altitudes with one reason are said once. Order of the altitudes: highest first. */
export function refusedRanges(refusals: readonly Refusal[]): RefusedRange[] {
  const ranges: RefusedRange[] = [];
  for (const { altitudeFt, reason } of [...refusals].sort((a, b) => b.altitudeFt - a.altitudeFt)) {
    const last = ranges.at(-1);
    if (last !== undefined && last.reason === reason) {
      ranges[ranges.length - 1] = { ...last, lowerFt: altitudeFt };
    } else {
      ranges.push({ lowerFt: altitudeFt, upperFt: altitudeFt, reason });
    }
  }
  return ranges;
}

/** "9,000" or "9,000 to 11,000". */
export function rangeText({
  lowerFt,
  upperFt,
}: {
  readonly lowerFt: number;
  readonly upperFt: number;
}): string {
  return lowerFt === upperFt ? feetText(lowerFt) : `${feetText(lowerFt)} to ${feetText(upperFt)}`;
}

export interface WayStretch {
  readonly fromNm: number;
  readonly toNm: number;
  readonly way: WayOut['way'];
  readonly toAltitudeFt: number | null;
}

/** Points with the same way out, joined; each point stands for the stretch to half-way to its neighbors. */
export function wayStretches(ways: readonly WayOut[]): WayStretch[] {
  const stretches: WayStretch[] = [];
  for (const [index, { distanceNm, way, toAltitudeFt }] of ways.entries()) {
    const nextNm = ways[index + 1]?.distanceNm ?? distanceNm;
    const toNm = (distanceNm + nextNm) / 2;
    const last = stretches.at(-1);
    if (last !== undefined && last.way === way && last.toAltitudeFt === toAltitudeFt) {
      stretches[stretches.length - 1] = { ...last, toNm };
    } else {
      stretches.push({ fromNm: last?.toNm ?? distanceNm, toNm, way, toAltitudeFt });
    }
  }
  return stretches;
}

/** What to do, in words that no one reads as a range. */
const WAY_ORDERS: Readonly<Record<WayOut['way'], string>> = {
  ...WAY_WORDS,
  up: 'climb',
  down: 'descend',
  back: 'turn back',
};

/** Worst first: where there is none is what the pilot must see. */
const WORST_FIRST: readonly WayOut['way'][] = ['none', 'unknown', 'back', 'down', 'up'];

/** "none: 95–105 NM; up to 11,000: 0–27, 60–80 NM"; the distances of one way are gathered. */
export function wayOutSentence(ways: readonly WayOut[]): string {
  const stretches = wayStretches(ways);
  if (stretches.length === 0) return 'unknown';
  const places = new Map<string, string[]>();
  for (const way of WORST_FIRST) {
    for (const stretch of stretches.filter((one) => one.way === way)) {
      const target = stretch.toAltitudeFt === null ? '' : ` to ${feetText(stretch.toAltitudeFt)}`;
      const name = `${WAY_ORDERS[way]}${target}`;
      places.set(name, [
        ...(places.get(name) ?? []),
        `${Math.round(stretch.fromNm)}\u2060–\u2060${Math.round(stretch.toNm)}`,
      ]);
    }
  }
  if (places.size === 0) return 'in cruise not needed; climb and descent are not assessed';
  return `in cruise: ${[...places].map(([name, at]) => `${name}, ${at.join(', ')} NM`).join('; ')}`;
}
