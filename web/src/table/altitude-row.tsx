/** One row of the altitude table. */
import { computed, type ReadonlySignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { VerdictShape } from '../answer/verdict-shape.tsx';
import { levelsText, waysOf } from '../considered.ts';
import type { BriefMember, Candidate, ExposureAnswer } from '../contract.ts';
import { UNKNOWN_TEXT } from '../known-amounts.ts';
import { feetText } from '../numbers.ts';
import { STANDING_WORDS, VERDICT_WORDS } from '../words.ts';
import {
  builtText,
  fluidText,
  fuelText,
  iceMinutesText,
  temperatureText,
  timeText,
  unknownMinutesText,
  whyText,
  windText,
} from './cells.ts';
import type { Column, ColumnId } from './columns.ts';
import { PathPicture } from './path-picture.tsx';
import { ROLE } from './roles.ts';
import type { TableRow } from './rows.ts';
import { wayCell } from './way-cell.ts';

/** What every row is drawn with. */
export interface RowFrame {
  readonly brief: BriefMember;
  readonly columns: readonly Column[];
  readonly picture: { readonly widthPx: number; readonly heightPx: number };
}

interface CandidateRowProps {
  readonly frame: RowFrame;
  readonly candidate: Candidate;
  readonly isStepped: boolean;
  /** Among the rows that can be taken. */
  readonly index: number;
  /** Index of the row that is considered; -1 when it is none of them. */
  readonly consideredRow: ReadonlySignal<number>;
  readonly place: { readonly top?: string; readonly height?: string };
  readonly onTake: (row: Element) => void;
  readonly onArrow: (step: 1 | -1, event: KeyboardEvent) => void;
}

export function CandidateRow(props: CandidateRowProps) {
  const { frame, candidate, isStepped, index, consideredRow, place, onTake, onArrow } = props;
  // What is considered changes two rows of thirty, and none of their figures.
  const part = useMemo(
    () => computed(() => partOf(index, consideredRow.value)),
    [index, consideredRow],
  ).value;
  const isConsidered = part === 'considered';
  const cells = useMemo(() => <Cells frame={frame} candidate={candidate} />, [frame, candidate]);
  return (
    <tr
      role={ROLE.row}
      class={rowClass(candidate, isConsidered, isStepped)}
      style={place}
      data-altitude-ft={isStepped ? 'stepped' : candidate.altitudeFt}
      onClick={(event) => onTake(event.currentTarget)}
    >
      <th role={ROLE.rowHeader} scope="row">
        <button
          type="button"
          tabIndex={part === 'other' ? -1 : 0}
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
        <Tag candidate={candidate} />
      </th>
      {cells}
    </tr>
  );
}

/** One row takes part in tabbing: the considered one, or the first when none is. */
function partOf(index: number, consideredIndex: number): 'considered' | 'tab-stop' | 'other' {
  if (index === consideredIndex) return 'considered';
  return index === 0 && consideredIndex < 0 ? 'tab-stop' : 'other';
}

function Cells({ frame, candidate }: Pick<CandidateRowProps, 'frame' | 'candidate'>) {
  if (candidate.exposure !== null)
    return <Amounts frame={frame} candidate={candidate} exposure={candidate.exposure} />;
  return (
    <td role={ROLE.cell} class="row-standing" colSpan={frame.columns.length}>
      {hasColumn(frame, 'why') ? whyText(candidate) : STANDING_WORDS[candidate.standing]}
    </td>
  );
}

const hasColumn = ({ columns }: RowFrame, id: ColumnId) => columns.some((column) => column.id === id);

/** The one to file is found at a glance; one against the direction of flight has to be asked for. */
function Tag({ candidate }: { readonly candidate: Candidate }) {
  const { standing, direction, exposure, isUnderColdMinimum } = candidate;
  if (standing === 'recommended') {
    return (
      <span class="tag tag-file" aria-hidden="true">
        file
      </span>
    );
  }
  if (exposure === null) return null;
  if (isUnderColdMinimum) {
    return (
      <span class="tag tag-cold" title="In this cold truly under the minimum altitude">
        low
      </span>
    );
  }
  if (direction !== 'ask') return null;
  return (
    <span class="tag" title="Not the level for this direction of flight: ask for it">
      ask
    </span>
  );
}

interface RunRowProps {
  readonly run: Extract<TableRow, { kind: 'run' }>;
  readonly columnCount: number;
}

export function RunRow({ run, columnCount }: RunRowProps) {
  return (
    <tr role={ROLE.row} class="row row-unflyable row-run">
      <th role={ROLE.rowHeader} scope="row">
        {feetText(run.lowerFt)} to {feetText(run.upperFt)}
      </th>
      <td role={ROLE.cell} class="row-standing" colSpan={columnCount}>
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

interface AmountsProps {
  readonly frame: RowFrame;
  readonly candidate: Candidate;
  readonly exposure: ExposureAnswer;
}

function Amounts({ frame, candidate, exposure }: AmountsProps) {
  const texts: Partial<Record<ColumnId, TextOf>> = TEXTS;
  return (
    <>
      {frame.columns.map(({ id }) => {
        const text = texts[id];
        if (text !== undefined) return <Amount key={id} id={id} text={text(exposure, frame.brief.limits)} />;
        if (id === 'unknown') return <UnknownMinutes key={id} exposure={exposure} />;
        if (id === 'out') return <WayOutCell key={id} frame={frame} candidate={candidate} />;
        if (id === 'path') return <PathCell key={id} frame={frame} candidate={candidate} />;
        return (
          <td key={id} role={ROLE.cell} class="cell-why" title={whyText(candidate)}>
            <span>{whyText(candidate)}</span>
          </td>
        );
      })}
    </>
  );
}

type TextOf = (exposure: ExposureAnswer, limits: BriefMember['limits']) => string;

const TEXTS = {
  ice: iceMinutesText,
  built: builtText,
  fluid: fluidText,
  time: timeText,
  fuel: fuelText,
  temperature: temperatureText,
  wind: windText,
};

/** Nothing known looks as unknown air does in the section. */
function Amount({ id, text }: { readonly id: ColumnId; readonly text: string }) {
  if (text !== UNKNOWN_TEXT) {
    return (
      <td role={ROLE.cell} class={`cell-${id}`}>
        {text}
      </td>
    );
  }
  return (
    <td role={ROLE.cell} class={`cell-${id} has-unknown`}>
      <span aria-hidden="true">{text}</span>
      <span class="for-ears">unknown</span>
    </td>
  );
}

function UnknownMinutes({ exposure }: { readonly exposure: ExposureAnswer }) {
  return (
    <td role={ROLE.cell} class={`cell-unknown ${exposure.unknownMinutes > 0 ? 'has-unknown' : 'no-unknown'}`}>
      <span>{unknownMinutesText(exposure)}</span>
    </td>
  );
}

interface CellProps {
  readonly frame: RowFrame;
  readonly candidate: Candidate;
}

/** The eye gets the word and one place, the ear all of them. */
function WayOutCell({ frame, candidate }: CellProps) {
  const { word, place, kind, whole } = wayCell(waysOf(candidate, frame.brief.leg.points));
  return (
    <td
      role={ROLE.cell}
      class={`cell-out out-${kind}${kind === 'unknown' ? ' has-unknown' : ''}`}
      title={whole}
    >
      <span class="out-word" aria-hidden="true">
        {word}
      </span>
      {place !== '' && (
        <span class="out-place" aria-hidden="true">
          {' '}
          {place}
        </span>
      )}
      <span class="for-ears">{whole}</span>
    </td>
  );
}

/** Without values along the leg there is nothing to draw; the minutes stand in the cells beside it. */
function PathCell({ frame: { brief, picture }, candidate }: CellProps) {
  const { curtain } = brief;
  const { flownFt } = candidate;
  return (
    <td role={ROLE.cell} class="cell-path">
      {curtain !== undefined && flownFt !== null && (
        <PathPicture curtain={curtain} flownFt={flownFt} {...picture} />
      )}
      {/* The words of what is drawn are the cells after it. */}
      <span class="for-ears">drawn</span>
    </td>
  );
}
