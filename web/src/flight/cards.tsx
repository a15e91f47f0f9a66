/** The cards for before take-off, in flight and afterwards: loaded after everything else. */
import type { Brief } from '../contract.ts';
import { followingCandidate } from '../state.ts';
import { Checklist } from './checklist.tsx';
import { CueCard } from './cue-card.tsx';
import { SeenCard } from './seen-card.tsx';
import '../styles/flight.css';
import '../styles/ground.css';

export { GroundCard } from '../ground/ground-card.tsx';

export function Cards({ brief }: { readonly brief: Brief }) {
  const { leg } = brief.brief;
  const key = `${leg.routeText} ${leg.departureUtc}`;
  return (
    <>
      <Checklist key={`list ${key}`} brief={brief.brief} />
      <CueCard brief={brief.brief} candidate={followingCandidate.value} />
      <SeenCard key={`seen ${key}`} brief={brief} />
    </>
  );
}
