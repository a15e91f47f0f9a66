/** Later departures on the sheet's altitude axis: one narrow column a departure, a verdict shape at each altitude. */
import { useMemo } from 'preact/hooks';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { slideDeparture } from '../ask-leg.ts';
import { considerAltitude } from '../consider.ts';
import type { BriefMember } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { type Sheet, shownCandidates } from '../section/scales.ts';
import { considered } from '../state.ts';
import { clockText, zoneMark } from '../units.ts';
import { VERDICT_WORDS } from '../words.ts';
import { isFlown, isRecommendedAt, type LaterDeparture, laterBy } from './later-words.ts';

export const COLUMN_PX = 50;

interface DeparturesPanelProps {
  readonly brief: BriefMember;
  readonly sheet: Sheet;
}

export function DeparturesPanel({ brief, sheet }: DeparturesPanelProps) {
  const { departures, leg } = brief;
  const shown = shownCandidates(brief, sheet.range);
  return (
    <table
      class="later"
      style={{ height: `${sheet.heightPx}px`, '--later-columns': `repeat(${departures.length}, 1fr)` }}
    >
      <caption class="for-ears">The same leg later: the verdict at each altitude</caption>
      <thead style={{ height: `${sheet.plot.top}px` }}>
        <tr>
          <th scope="col" class="for-ears">
            altitude ft
          </th>
          {departures.map((departure) => (
            <th key={departure.departureUtc} scope="col">
              <DepartureButton departure={departure} legDepartureUtc={leg.departureUtc} />
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {shown.map(({ altitudeFt }) => (
          <LaterRow key={altitudeFt} altitudeFt={altitudeFt} departures={departures} sheet={sheet} />
        ))}
      </tbody>
    </table>
  );
}

interface LaterRowProps {
  readonly altitudeFt: number;
  readonly departures: readonly LaterDeparture[];
  readonly sheet: Sheet;
}

function LaterRow({ altitudeFt, departures, sheet }: LaterRowProps) {
  const cells = useMemo(
    () =>
      departures.map((departure) => (
        <Cell key={departure.departureUtc} departure={departure} altitudeFt={altitudeFt} />
      )),
    [departures, altitudeFt],
  );
  return (
    <tr
      class={isConsidered(altitudeFt) ? 'later-considered' : ''}
      style={{ top: `${sheet.y(altitudeFt) - sheet.rowPx / 2}px`, height: `${sheet.rowPx}px` }}
      onClick={() => considerAltitude(altitudeFt)}
    >
      <th scope="row" class="for-ears">
        {feetText(altitudeFt)}
      </th>
      {cells}
    </tr>
  );
}

const isConsidered = (altitudeFt: number) =>
  !considered.value.isStepped && considered.value.altitudeFt === altitudeFt;

interface DepartureButtonProps {
  readonly departure: LaterDeparture;
  readonly legDepartureUtc: string;
}

/** Opens the brief of that departure. */
function DepartureButton({ departure, legDepartureUtc }: DepartureButtonProps) {
  const { departureUtc, verdict, lacks } = departure;
  const lacking = lacks.length === 0 ? '' : `. ${lacks.join('. ')}`;
  return (
    <button type="button" title={`${verdict.sentence}${lacking}`} onClick={() => openDeparture(departureUtc)}>
      <span>{laterBy(departureUtc, legDepartureUtc)}</span>
      <span class="later-clock">
        {clockText(departureUtc)}
        {zoneMark()}
        {lacks.length > 0 && <b class="later-lacks">?</b>}
      </span>
      <span class="for-ears">
        : {verdict.sentence}
        {lacking}. Brief this departure
      </span>
    </button>
  );
}

/** The same leg then: what was given stays given. */
export function openDeparture(departureUtc: string): void {
  slideDeparture(departureUtc);
}

/** No figure for an altitude is unknown, not nothing. */
function Cell({
  departure,
  altitudeFt,
}: {
  readonly departure: LaterDeparture;
  readonly altitudeFt: number;
}) {
  const cell = departure.byAltitude.find((one) => one.altitudeFt === altitudeFt);
  if (cell !== undefined && !isFlown(cell)) {
    return (
      <td>
        <span class="for-ears">not flown</span>
      </td>
    );
  }
  const verdict = cell?.verdict ?? 'unknown';
  const isMarked = isRecommendedAt(departure, altitudeFt);
  return (
    <td class={isMarked ? 'later-recommended' : ''}>
      <VerdictShape code={verdict} sizePx={15} />
      <span class="for-ears">
        {VERDICT_WORDS[verdict].toLowerCase()}
        {isMarked && ', the altitude to file'}
      </span>
    </td>
  );
}
