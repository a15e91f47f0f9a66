/** One row of the altitude table. */
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { levelsText } from '../considered.ts';
import type { Candidate, ExposureAnswer } from '../contract.ts';
import { feetText, hourMinuteText } from '../numbers.ts';
import { STANDING_WORDS, VERDICT_WORDS } from '../words.ts';
import {
  builtText,
  fluidText,
  fuelText,
  iceMinutesText,
  UNKNOWN_TEXT,
  unknownMinutesText,
  windText,
} from './cells.ts';
import type { TableRow } from './rows.ts';

interface CandidateRowProps {
  readonly candidate: Candidate;
  readonly isStepped: boolean;
  readonly isConsidered: boolean;
  readonly isTabStop: boolean;
  readonly place: { readonly top?: string; readonly height?: string };
  readonly onTake: (row: Element) => void;
  readonly onArrow: (step: 1 | -1, event: KeyboardEvent) => void;
}

export function CandidateRow(props: CandidateRowProps) {
  const { candidate, isStepped, isConsidered, isTabStop, place, onTake, onArrow } = props;
  return (
    <tr
      class={rowClass(candidate, isConsidered, isStepped)}
      style={place}
      data-altitude-ft={isStepped ? 'stepped' : candidate.altitudeFt}
      onClick={(event) => onTake(event.currentTarget)}
    >
      <th scope="row">
        <button
          type="button"
          tabIndex={isTabStop ? 0 : -1}
          aria-pressed={isConsidered}
          onKeyDown={(event) => {
            if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
            event.preventDefault();
            onArrow(event.key === 'ArrowUp' ? -1 : 1, event);
          }}
        >
          <VerdictShape code={candidate.verdict} sizePx={15} />
          <span class="row-altitude">
            {levelsText(candidate)}
            {isStepped && ' ft'}
          </span>
          <span class="for-ears"> {rowWords(candidate)}</span>
        </button>
        {candidate.direction === 'ask' && candidate.exposure !== null && (
          <span class="ask" title="Not the level for this direction of flight: ask for it">
            ask
          </span>
        )}
      </th>
      {candidate.exposure === null ? (
        <td class="row-standing" colSpan={7}>
          {STANDING_WORDS[candidate.standing]}
        </td>
      ) : (
        <Amounts exposure={candidate.exposure} />
      )}
    </tr>
  );
}

export function RunRow({ run }: { readonly run: Extract<TableRow, { kind: 'run' }> }) {
  return (
    <tr class="row row-unflyable row-run">
      <th scope="row">
        {feetText(run.lowerFt)} to {feetText(run.upperFt)}
      </th>
      <td class="row-standing" colSpan={7}>
        {STANDING_WORDS[run.standing]}
      </td>
    </tr>
  );
}

function rowClass(candidate: Candidate, isConsidered: boolean, isStepped: boolean): string {
  const flown = candidate.exposure === null ? ' row-unflyable' : '';
  const stepped = isStepped ? ' row-stepped' : '';
  return `row row-${candidate.standing}${flown}${stepped}${isConsidered ? ' row-considered' : ''}`;
}

/** An altitude that cannot be flown has no verdict to speak of. */
function rowWords(candidate: Candidate): string {
  if (candidate.exposure === null) return 'feet';
  const standing = candidate.standing === 'recommended' ? ', the altitude to file' : '';
  return `feet, ${VERDICT_WORDS[candidate.verdict].toLowerCase()}${standing}`;
}

function Amounts({ exposure }: { readonly exposure: ExposureAnswer }) {
  const hasUnknown = exposure.unknownMinutes > 0;
  return (
    <>
      <Amount text={iceMinutesText(exposure)} />
      <td class={hasUnknown ? 'has-unknown' : 'no-unknown'}>
        <span>{unknownMinutesText(exposure)}</span>
      </td>
      <Amount text={builtText(exposure)} />
      <td>{fluidText(exposure)}</td>
      <td>{hourMinuteText(exposure.timeMinutes)}</td>
      <td class="wide-only">{fuelText(exposure)}</td>
      <td class="wide-only">{windText(exposure)}</td>
    </>
  );
}

/** Nothing known looks as unknown air does in the section. */
function Amount({ text }: { readonly text: string }) {
  if (text !== UNKNOWN_TEXT) return <td>{text}</td>;
  return (
    <td class="has-unknown">
      <span aria-hidden="true">{text}</span>
      <span class="for-ears">unknown</span>
    </td>
  );
}
