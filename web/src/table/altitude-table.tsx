/** Every candidate altitude as a row that stands level with that altitude in the cross-section. */
import { VerdictShape } from '../answer/verdict-shape.tsx';
import type { Candidate, ExposureAnswer } from '../contract.ts';
import { feetText, hourMinuteText } from '../numbers.ts';
import type { Sheet } from '../section/scales.ts';
import { consideredFt } from '../state.ts';
import { STANDING_WORDS, VERDICT_WORDS } from '../words.ts';
import { builtText, fluidText, iceMinutesText, UNKNOWN_TEXT, unknownMinutesText, windText } from './cells.ts';

interface AltitudeTableProps {
  readonly candidates: readonly Candidate[];
  readonly sheet: Sheet;
  /** Rows placed on the altitude axis; otherwise one under the other. */
  readonly isLevel: boolean;
}

export function AltitudeTable({ candidates, sheet, isLevel }: AltitudeTableProps) {
  const moveTo = (altitudeFt: number, event: KeyboardEvent) => {
    consideredFt.value = altitudeFt;
    const body = (event.currentTarget as Element).closest('tbody');
    requestAnimationFrame(() => body?.querySelector<HTMLElement>('button[tabindex="0"]')?.focus());
  };
  return (
    <table
      class={isLevel ? 'altitudes altitudes-level' : 'altitudes'}
      style={isLevel ? { height: `${sheet.heightPx}px` } : {}}
    >
      <caption class="for-ears">Altitude table: what each altitude meets</caption>
      <thead style={isLevel ? { height: `${sheet.plot.top}px` } : {}}>
        <tr>
          <th scope="col">altitude ft</th>
          <th scope="col">ice min</th>
          <th scope="col">unknown min</th>
          <th scope="col">built mm</th>
          <th scope="col">fluid L</th>
          <th scope="col">time h:min</th>
          <th scope="col" class="wide-only">
            wind kt
          </th>
        </tr>
      </thead>
      <tbody>
        {candidates.map((candidate, index) => (
          <Row
            key={candidate.altitudeFt}
            candidate={candidate}
            isTabStop={isTabStop(candidates, index)}
            place={
              isLevel
                ? { top: `${sheet.y(candidate.altitudeFt) - sheet.rowPx / 2}px`, height: `${sheet.rowPx}px` }
                : {}
            }
            onArrow={(step, event) => {
              const next = candidates[index + step];
              if (next) moveTo(next.altitudeFt, event);
            }}
          />
        ))}
      </tbody>
    </table>
  );
}

/** One row takes part in tabbing: the considered one, or the first when none is. */
function isTabStop(candidates: readonly Candidate[], index: number): boolean {
  const considered = candidates.findIndex((candidate) => candidate.altitudeFt === consideredFt.value);
  return index === Math.max(0, considered);
}

interface RowProps {
  readonly candidate: Candidate;
  readonly isTabStop: boolean;
  readonly place: { readonly top?: string; readonly height?: string };
  readonly onArrow: (step: 1 | -1, event: KeyboardEvent) => void;
}

function Row({ candidate, isTabStop, place, onArrow }: RowProps) {
  const isConsidered = candidate.altitudeFt === consideredFt.value;
  return (
    <tr
      class={rowClass(candidate, isConsidered)}
      style={place}
      data-altitude-ft={candidate.altitudeFt}
      onClick={() => (consideredFt.value = candidate.altitudeFt)}
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
          <span class="row-altitude">{feetText(candidate.altitudeFt)}</span>
          <span class="for-ears"> {rowWords(candidate)}</span>
        </button>
        {candidate.direction === 'ask' && candidate.exposure !== null && (
          <span class="ask" title="Not the level for this direction of flight: ask for it">
            ask
          </span>
        )}
      </th>
      {candidate.exposure === null ? (
        <td class="row-standing" colSpan={6}>
          {STANDING_WORDS[candidate.standing]}
        </td>
      ) : (
        <Amounts exposure={candidate.exposure} />
      )}
    </tr>
  );
}

function rowClass(candidate: Candidate, isConsidered: boolean): string {
  const flown = candidate.exposure === null ? ' row-unflyable' : '';
  return `row row-${candidate.standing}${flown}${isConsidered ? ' row-considered' : ''}`;
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
