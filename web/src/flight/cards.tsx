/** The cards for before take-off, in flight and afterwards: loaded after everything else. */
import { legAircraft } from '../aircraft-of-leg.ts';
import type { Brief } from '../contract.ts';
import { ShareCard } from '../share/share-card.tsx';
import { restingCandidate, restingNm } from '../state.ts';
import { Checklist } from './checklist.tsx';
import { CueCard } from './cue-card.tsx';
import { ReportCard } from './report-card.tsx';
import { SeenCard } from './seen-card.tsx';
import { hereOf } from './seen-here.ts';
import { useSeenState } from './seen-state.ts';
import { SkillCard } from './skill-card.tsx';
import '../styles/flight.css';
import '../styles/ground.css';

export { GroundCard } from '../ground/ground-card.tsx';

export function Cards({ brief }: { readonly brief: Brief }) {
  const { leg } = brief.brief;
  const key = `${leg.routeText} ${leg.departureUtc}`;
  return (
    <>
      <Checklist key={`list ${key}`} brief={brief.brief} />
      <CueCard brief={brief.brief} candidate={restingCandidate.value} />
      <InFlight key={`seen ${key}`} brief={brief} />
      <SkillCard key={`skill ${key}`} brief={brief} />
      <ShareCard key={`share ${key}`} />
    </>
  );
}

/** One entry for the judgement and for the report; it goes with the leg. */
function InFlight({ brief }: { readonly brief: Brief }) {
  const state = useSeenState();
  const candidate = restingCandidate.value;
  const profile = legAircraft.value;
  const here =
    candidate && profile && hereOf(brief.brief, candidate, { distanceNm: restingNm.value, profile });
  return (
    <>
      <SeenCard brief={brief} here={here} state={state} />
      <ReportCard brief={brief} here={here} state={state} />
    </>
  );
}
