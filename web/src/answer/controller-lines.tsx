/** What to tell the controller: file, accept, refuse, each with its ten words. */
import type { BriefMember } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { rangeText, refusedRanges } from './file-line.ts';

interface ControllerLinesProps {
  readonly brief: BriefMember;
  /** The headline above says already what to file. */
  readonly isRecommended: boolean;
}

export function ControllerLines({ brief: { file, verdict }, isRecommended }: ControllerLinesProps) {
  if (file === null) return null;
  const isSaid = isRecommended && verdict.sentence.includes(file.reason);
  return (
    <>
      <dl class="controller" aria-label="For the controller">
        {!isSaid && <Line word="File" altitudes={feetText(file.altitudeFt)} reason={file.reason} />}
        <Line word="Accept" altitudes={rangeText(file.acceptFt)} reason={file.acceptReason} />
        {refusedRanges(file).map((range) => (
          <Line key={range.upperFt} word="Refuse" altitudes={rangeText(range)} reason={range.reason} />
        ))}
      </dl>
      {/* The place of the line that comes once another altitude is given. */}
      {isSaid && <p class="controller-kept" aria-hidden="true" />}
    </>
  );
}

interface LineProps {
  readonly word: 'File' | 'Accept' | 'Refuse';
  readonly altitudes: string;
  readonly reason: string;
}

function Line({ word, altitudes, reason }: LineProps) {
  return (
    <div class={`controller-${word.toLowerCase()}`}>
      <dt>{word}</dt>
      <dd>
        <b>{altitudes} ft</b>: {reason}
      </dd>
    </div>
  );
}
