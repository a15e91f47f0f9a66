/** Ceilings and visibilities as figures that can be held against minima: what is known, and how bad what is not known may be. */
import type { ClearSky, Sky, Visibility } from '../formats/aerodrome-reports/conditions.ts';

export type Standing = 'above' | 'below' | 'unknown';

/** Below is known whatever else is not; unknown is never above. */
const GRAVITY = ['above', 'unknown', 'below'] as const satisfies readonly Standing[];

export function worstStanding(standings: readonly Standing[]): Standing {
  return GRAVITY[Math.max(...standings.map((each) => GRAVITY.indexOf(each)))] ?? 'unknown';
}

export interface Ceiling {
  /** Lowest known, ft above the aerodrome; null for none. */
  readonly knownFt: number | null;
  /** The lowest at which one may be that is not known; null where nothing is left open. */
  readonly possibleFt: number | null;
  /** "400 ft", "no ceiling below 5,000 ft", "ceiling not given". */
  readonly words: string;
}

/**
 * A ceiling is the lowest layer of BKN or OVC, or the vertical visibility. NSC and CAVOK exclude one below 5,000 ft, CLR one below 12,000
 * ft. NCD counts as none: a machine that could not see would have said so by slashes.
 */
export function ceilingOf(sky: Sky | null): Ceiling {
  if (sky === null) return { knownFt: null, possibleFt: 0, words: 'ceiling not given' };
  if (sky.clear !== null && sky.layers.length === 0 && !sky.isObscured) return CLEAR[sky.clear];
  const knownFt = lowest([
    ...sky.layers.filter(isCeiling).map(({ baseAglFt }) => baseAglFt),
    sky.verticalVisibilityFt,
  ]);
  const possibleFt = lowest(openFt(sky));
  if (possibleFt !== null && (knownFt === null || possibleFt < knownFt)) {
    return { knownFt, possibleFt, words: openWords(sky, possibleFt, knownFt) };
  }
  return { knownFt, possibleFt, words: knownFt === null ? 'no ceiling' : feetWords(knownFt) };
}

const CLEAR: Readonly<Record<ClearSky, Ceiling>> = {
  SKC: { knownFt: null, possibleFt: null, words: 'no ceiling' },
  NCD: { knownFt: null, possibleFt: null, words: 'no cloud detected by the machine' },
  NSC: { knownFt: null, possibleFt: 5000, words: 'no ceiling below 5,000 ft' },
  CAVOK: { knownFt: null, possibleFt: 5000, words: 'no ceiling below 5,000 ft' },
  CLR: { knownFt: null, possibleFt: 12_000, words: 'no ceiling below 12,000 ft' },
};

type Layer = Sky['layers'][number];

const isCeiling = ({ amount }: Layer) => amount === 'BKN' || amount === 'OVC';
/** FEW and SCT are none, wherever they are. */
const mayBeCeiling = ({ amount }: Layer) => amount === null || isCeiling({ amount } as Layer);

/** Heights at which a ceiling may be that is not told whole. */
function openFt({ layers, isObscured, verticalVisibilityFt, clear }: Sky): number[] {
  const open = layers
    .filter((layer) => mayBeCeiling(layer) && (layer.amount === null || layer.baseAglFt === null))
    .map(({ baseAglFt }) => baseAglFt ?? 0);
  const isEmpty = layers.length === 0 && !isObscured && clear === null;
  return isEmpty || (isObscured && verticalVisibilityFt === null) ? [...open, 0] : open;
}

function openWords(
  { isObscured, verticalVisibilityFt }: Sky,
  openFtAt: number,
  knownFt: number | null,
): string {
  const known = knownFt === null ? '' : `${feetWords(knownFt)}, `;
  if (isObscured && verticalVisibilityFt === null) return `${known}vertical visibility not observed`;
  return openFtAt === 0
    ? `${known}cloud not wholly observed`
    : `${known}cloud of unknown amount at ${feetWords(openFtAt)}`;
}

/** @param requiredFt  null where no ceiling is required. */
export function ceilingStanding({ knownFt, possibleFt }: Ceiling, requiredFt: number | null): Standing {
  if (requiredFt === null) return 'above';
  if (knownFt !== null && knownFt < requiredFt) return 'below';
  return possibleFt !== null && possibleFt < requiredFt ? 'unknown' : 'above';
}

export interface Seen {
  /** The lowest that is told, of any direction; null where none is. */
  readonly knownM: number | null;
  /** exact, or that the truth lies below or at and above the figure; open where the prevailing one is not told. */
  readonly bound: 'exact' | 'below' | 'above' | 'open';
  readonly words: string;
}

/** Which direction the approach is made in is not known: the lowest counts. */
export function seenOf(visibility: Visibility | null): Seen {
  if (visibility === null) return { knownM: null, bound: 'open', words: 'visibility not given' };
  const { visibilityM, minimumM, directions } = visibility;
  const least = lowest([visibilityM, minimumM, ...directions.map((each) => each.visibilityM)]);
  if (least === null) return { knownM: null, bound: 'open', words: 'visibility not observed' };
  if (visibilityM === null)
    return { knownM: least, bound: 'open', words: `${exactWords(least)} in one direction` };
  const bound = least < visibilityM && visibility.bound === 'above' ? 'exact' : visibility.bound;
  return { knownM: least, bound, words: boundWords(least, bound) };
}

function boundWords(meters: number, bound: 'exact' | 'below' | 'above'): string {
  if (bound === 'below') return `less than ${metersWords(meters)}`;
  if (bound === 'exact') return exactWords(meters);
  return meters % 1000 === 0
    ? `${withThousands(meters / 1000)} km or more`
    : `more than ${metersWords(meters, Math.floor)}`;
}

function exactWords(meters: number): string {
  return meters >= MOST_REPORTED_M ? `${MOST_REPORTED_M / 1000} km or more` : metersWords(meters);
}

/** Less than a figure counts as below what is required, however low that is: how much less is not known. */
export function seenStanding({ knownM, bound }: Seen, requiredM: number): Standing {
  if (requiredM <= 0) return 'above';
  if (bound === 'below' || (knownM !== null && knownM < requiredM && bound !== 'above')) return 'below';
  return knownM === null || bound === 'open' || knownM < requiredM ? 'unknown' : 'above';
}

function lowest(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : Math.min(...known);
}

/** 10 SM, 16,093 m: as far as reports in miles commonly go, which leaves open how much more there is. */
const MOST_REPORTED_M = 16_000;

const withThousands = (value: number) => String(value).replace(/\B(?=(\d{3})+$)/g, ',');
const feetWords = (feet: number) => `${withThousands(feet)} ft`;

/** Figures of the code stay as they are; miles become whole hundreds of meters, of more than a figure no more than it. */
function metersWords(meters: number, round: (value: number) => number = Math.round): string {
  const shown = meters % 50 === 0 || meters < 100 ? Math.round(meters) : round(meters / 100) * 100;
  return `${withThousands(shown)} m`;
}
