/** The way out of a candidate in one word and its place: where there is none, or none known, before all others. */

import { type WayStretch, wayStretches } from '../answer/file-line.ts';
import { outsOf } from '../answer/out-lines.ts';
import { stretchText } from '../answer/unknown-stretches.ts';
import type { WayOut } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { WAY_WORDS } from '../words.ts';

export interface WayCell {
  readonly word: string;
  /** Altitude, aerodrome or NM; '' without one. */
  readonly place: string;
  readonly kind: 'none' | 'unknown' | 'found';
  /** Every way of the leg. */
  readonly whole: string;
}

export function wayCell(ways: readonly WayOut[]): WayCell {
  const whole = outsOf(ways).summary;
  const stretches = wayStretches(ways);
  if (stretches.length === 0) return { word: WAY_WORDS.unknown, place: '', kind: 'unknown', whole };
  for (const kind of ['none', 'unknown'] as const) {
    const places = stretches.filter(({ way }) => way === kind);
    if (places.length > 0) {
      const more = places.length > 1 ? '+' : '';
      return { word: WAY_WORDS[kind], place: `${stretchText(longest(places))}${more}`, kind, whole };
    }
  }
  const needed = stretches.filter(({ way }) => way !== 'not-needed');
  if (needed.length === 0) return { word: WAY_WORDS['not-needed'], place: '', kind: 'found', whole };
  return { ...mainWay(needed), kind: 'found', whole };
}

/** The way of most miles; of its stretches the place of the longest. */
function mainWay(needed: readonly WayStretch[]): Pick<WayCell, 'word' | 'place'> {
  const milesOf = (way: WayOut['way']) =>
    needed.filter((one) => one.way === way).reduce((sum, one) => sum + one.toNm - one.fromNm, 0);
  const { way } = needed.reduce((best, one) => (milesOf(one.way) > milesOf(best.way) ? one : best));
  const { toAltitudeFt, aerodrome } = longest(needed.filter((one) => one.way === way));
  const place = way === 'aerodrome' ? aerodrome : toAltitudeFt === null ? '' : feetText(toAltitudeFt);
  return { word: WAY_WORDS[way], place: place ?? '' };
}

function longest(stretches: readonly WayStretch[]): WayStretch {
  return stretches.reduce((best, one) => (one.toNm - one.fromNm > best.toNm - best.fromNm ? one : best));
}
