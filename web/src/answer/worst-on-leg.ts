/** What must not be flown into and lies somewhere along the leg, at whatever altitude: the section draws it, this says it. */
import { type BandFeature, type Brief, featuresOf } from '../contract.ts';
import { lookOf, surenessOf } from '../look.ts';
import { feetText } from '../numbers.ts';
import { joinedNm } from '../section/gaps.ts';
import { LARGE_DROP_WORDS } from '../words.ts';
import { stretchText } from './unknown-stretches.ts';

type Band = BandFeature['properties'];

const SEVERE = 'severe ice';
const WORST = [LARGE_DROP_WORDS['freezing-rain'], LARGE_DROP_WORDS['freezing-drizzle'], SEVERE] as const;

/** "freezing rain 500 to 4,500 ft, 22–150 NM", the worst first; empty without any. */
export function worstOnLegWords(brief: Brief): string[] {
  const bands = featuresOf(brief, 'icing-band').map(({ properties }) => properties);
  return WORST.flatMap((words) => {
    const met = bands.filter((band) => namesOf(band).includes(words));
    return met.length === 0
      ? []
      : [`${surenessWords(words, met)}${words} ${heightWords(met)}, ${placeWords(met)}`];
  });
}

/** Of what is drawn as such. */
function namesOf(band: Band): string[] {
  const look = lookOf(band);
  if (look.kind !== 'ice') return [];
  const { largeDrops } = band;
  const drops = largeDrops === null || largeDrops === 'none' ? [] : [LARGE_DROP_WORDS[largeDrops]];
  return look.shade === 'severe' ? [...drops, SEVERE] : drops;
}

/** Large drops are named only where they are likely; severe ice may be drawn as less sure everywhere. */
function surenessWords(words: string, bands: readonly Band[]): string {
  const isPossible = bands.every(({ probability }) => surenessOf(probability ?? 0) === 'possible');
  return words === SEVERE && isPossible ? 'possible ' : '';
}

/** Lowest and highest anywhere: within them there may be air without it. */
function heightWords(bands: readonly Band[]): string {
  const lowestFt = Math.min(...bands.map(({ lowerFt }) => lowerFt));
  const highestFt = Math.max(...bands.map(({ upperFt }) => upperFt));
  return `${feetText(lowestFt)} to ${feetText(highestFt)} ft`;
}

function placeWords(bands: readonly Band[]): string {
  return `${joinedNm(bands).map(stretchText).join(', ')} NM`;
}
