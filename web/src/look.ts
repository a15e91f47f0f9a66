/** The page's patterns for the looks of air. */
import type { Look } from '../../worker/schema/band-look.ts';

export {
  type BandProperties as Properties,
  type Look,
  lookOf,
  PROBABILITY_STEPS,
  type Shade,
  type Sureness,
  surenessOf,
} from '../../worker/schema/band-look.ts';

/** Names of the patterns a look is painted with, the first undermost. Every name is an id in the page's pattern sheet. */
export function patternsOf(look: Look): string[] {
  if (look.kind === 'no-ice') return ['paint-paper'];
  if (look.kind === 'below-ground') return ['paint-ground'];
  if (look.kind === 'unknown') return ['paint-unknown'];
  const paints = [`paint-${look.shade}`];
  if (look.sureness !== 'sure') paints.push(`paint-${look.sureness}`);
  if (look.largeDrops) paints.push('paint-large-drops');
  return paints;
}
