/** The words the page says for the contract's codes. The name of an ice type never stands alone: it would read as a verdict. */
import type { BandFeature, Candidate, VerdictCode, WayOut } from './contract.ts';

type Intensity = NonNullable<BandFeature['properties']['intensity']>;
type IceKind = NonNullable<BandFeature['properties']['iceKind']>;
type LargeDrops = NonNullable<BandFeature['properties']['largeDrops']>;
type CellState = BandFeature['properties']['state'];

export const VERDICT_WORDS: Readonly<Record<VerdictCode, string>> = {
  'no-ice-found': 'No ice found',
  'within-limits': 'Within limits',
  'outside-limits': 'Outside limits',
  unknown: 'Unknown',
};

export const STANDING_WORDS: Readonly<Record<Candidate['standing'], string>> = {
  recommended: 'recommended',
  acceptable: 'acceptable',
  'outside-limits': 'outside limits',
  unknown: 'unknown',
  'below-minimum-altitude': 'below the minimum altitude',
  'needs-oxygen': 'needs oxygen',
  'above-ceiling': 'above the ceiling',
  'leg-too-short': 'the leg is too short to climb there',
};

/** Why a place is not known; always said after the word "unknown". */
export const STATE_WORDS: Readonly<Record<Exclude<CellState, 'known'>, string>> = {
  'no-data': 'no data',
  'too-old': 'data too old',
  'outside-coverage': 'outside the data’s area',
  'outside-profile': 'outside the data’s levels',
  'quantity-missing': 'temperature or humidity missing',
  'decode-failed': 'data could not be read',
  'below-ground': 'below the ground',
};

const ICE_KIND_WORDS: Readonly<Record<IceKind, string>> = {
  none: 'no ice',
  rime: 'rime ice',
  mixed: 'mixed ice',
  clear: 'clear ice',
};

export const LARGE_DROP_WORDS: Readonly<Record<LargeDrops, string>> = {
  none: 'no large drops',
  'freezing-drizzle': 'freezing drizzle',
  'freezing-rain': 'freezing rain',
  'ice-pellets': 'ice pellets',
};

export const WAY_WORDS: Readonly<Record<WayOut['way'], string>> = {
  'not-needed': 'not needed',
  stay: 'stay level',
  up: 'up',
  down: 'down',
  back: 'back',
  aerodrome: 'land',
  none: 'none',
  unknown: 'unknown',
};

export const UNKNOWN_WORD = 'unknown';

export function stateSentence(state: CellState): string {
  if (state === 'known') return 'known';
  return state === 'below-ground' ? STATE_WORDS[state] : `${UNKNOWN_WORD}: ${STATE_WORDS[state]}`;
}

/** "light rime ice, freezing rain". Supercooled water that hardly freezes on is "little ice", not none. */
export function iceWords(air: {
  readonly intensity: Intensity | null;
  readonly iceKind: IceKind | null;
  readonly largeDrops: LargeDrops | null;
}): string {
  const amount = air.intensity === null || air.intensity === 'none' ? 'little' : air.intensity;
  const kind = air.iceKind === null || air.iceKind === 'none' ? 'ice' : ICE_KIND_WORDS[air.iceKind];
  const drops =
    air.largeDrops === null || air.largeDrops === 'none' ? '' : `, ${LARGE_DROP_WORDS[air.largeDrops]}`;
  return `${amount} ${kind}${drops}`;
}

/** Stands on every screen and every print. */
export const ADVICE =
  'Advice only, never a statement that a flight is safe. The pilot in command, the flight manual, the operator’s manual and the official briefing decide.';
