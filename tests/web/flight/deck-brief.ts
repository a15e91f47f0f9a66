/** The brief of an invented leg under and through a deck of ice, as the page gets it. */

import type { BriefMember, Candidate } from '../../../web/src/contract.ts';
import { makeBrief } from '../../../worker/brief/make-brief.ts';
import { builtInAircraft } from '../../../worker/flight/aircraft-profiles.ts';
import { createMemoryStores } from '../../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../../support/winter-leg.ts';

export const AIRCRAFT = builtInAircraft.find(({ id }) => id === LEG.aircraft)!;

type Air = 'deck' | 'dry' | 'unknown';
const made = new Map<Air, Promise<BriefMember>>();

/** Made once; nobody changes it. */
export function briefIn(air: Air): Promise<BriefMember> {
  const known = made.get(air) ?? makeIn(air);
  made.set(air, known);
  return known;
}

async function makeIn(air: Air): Promise<BriefMember> {
  const stores = createMemoryStores({ places: FIELDS });
  const rows = air === 'deck' ? DECK_AIR : DRY_AIR;
  if (air !== 'unknown') await stores.soundings.put('demo', [over(rows, NOON_MS)], 0);
  const request = { ...LEG, options: { ...LEG.options, curtain: true } };
  return (await makeBrief(stores, request, { operators: ['demo'] })).brief;
}

export function at({ alternatives }: BriefMember, altitudeFt: number): Candidate {
  const found = alternatives.find((each) => each.altitudeFt === altitudeFt);
  if (found === undefined) throw new Error(`no candidate at ${altitudeFt}`);
  return found;
}
