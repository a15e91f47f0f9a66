/** The altitude in large figures, what was filed beside what was given, and the control to say what was given. */

import { considerBest, sayGiven } from '../consider.ts';
import { bestCandidateOf, levelsText, steppedOf } from '../considered.ts';
import type { BriefMember, Candidate } from '../contract.ts';
import { considered, isGivenSaid } from '../state.ts';

interface HeadlineProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate | undefined;
  readonly isRecommended: boolean;
}

export function Headline({ brief, candidate, isRecommended }: HeadlineProps) {
  const isNone = isRecommended && brief.file === null;
  return (
    <div class="headline">
      {isNone || candidate === undefined ? (
        <p class="altitude altitude-none">No altitude to file</p>
      ) : (
        <Altitude
          word={isRecommended ? 'File' : isGivenSaid.value ? 'Given' : 'Looking at'}
          candidate={candidate}
        />
      )}
      <Given brief={brief} candidate={candidate} isRecommended={isRecommended} />
    </div>
  );
}

function Altitude({ word, candidate }: { readonly word: string; readonly candidate: Candidate }) {
  return (
    <p class={candidate.profile.length > 1 ? 'altitude altitude-stepped' : 'altitude'}>
      <span class="altitude-word">{word}</span> <span class="altitude-figure">{levelsText(candidate)}</span>{' '}
      <span class="altitude-unit">ft</span>
    </p>
  );
}

function Given({ brief, candidate, isRecommended }: HeadlineProps) {
  const best = bestCandidateOf(brief);
  if (best === undefined) return null;
  const word = brief.file === null ? 'Least bad' : 'Filed';
  return (
    <div class="given">
      {/* Stands empty while nothing else was given: the sheet below must not move under the finger. */}
      <p class="given-line">
        {!isRecommended && candidate !== undefined && (
          <>
            {word} {levelsText(best)} · {isGivenSaid.value ? 'given' : 'looking at'} {levelsText(candidate)}{' '}
            ft
          </>
        )}
      </p>
      <p class="given-choice">
        <label for="given-altitude">I was given</label>
        <GivenSelect brief={brief} />
      </p>
      {/* Its place is kept, as that of the line above. */}
      <button
        type="button"
        class={isRecommended ? 'given-back given-back-idle' : 'given-back'}
        onClick={() => considerBest({ brief })}
      >
        Back to {levelsText(best)} ft
      </button>
    </div>
  );
}

const STEPPED = 'stepped';
/** Nobody gave one yet. */
const NONE = '';

function GivenSelect({ brief }: Pick<HeadlineProps, 'brief'>) {
  const stepped = steppedOf(brief);
  const { altitudeFt, isStepped } = considered.value;
  const offered = brief.alternatives.filter(
    (one) => one.exposure !== null || (!isStepped && one.altitudeFt === altitudeFt),
  );
  return (
    <select
      id="given-altitude"
      value={!isGivenSaid.value ? NONE : isStepped ? STEPPED : String(altitudeFt)}
      onChange={(event) => {
        const { value } = event.currentTarget;
        if (value === NONE) considerBest({ brief });
        else if (value === STEPPED && stepped) sayGiven({ altitudeFt: stepped.altitudeFt, isStepped: true });
        else sayGiven({ altitudeFt: Number(value), isStepped: false });
      }}
    >
      <option value={NONE}>–</option>
      {stepped && <option value={STEPPED}>{levelsText(stepped)} ft</option>}
      {offered.map((one) => (
        <option key={one.altitudeFt} value={String(one.altitudeFt)}>
          {levelsText(one)} ft{one.direction === 'ask' ? ', ask' : ''}
        </option>
      ))}
    </select>
  );
}
