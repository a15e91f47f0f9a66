/** Marks and names of the plan view, over the drawing and over the map alike. */
import { line } from 'd3-shape';
import { patternsOf } from '../look.ts';
import type { Position } from './along-leg.ts';
import { type MarkLabel, placeMarkLabels } from './mark-places.ts';
import { marksBesideWall, type PlanMark } from './plan-marks.ts';

export type Project = (place: Position) => readonly [number, number];

interface MarksProps {
  readonly marks: readonly PlanMark[];
  readonly cursor: Position | undefined;
  readonly project: Project;
  readonly isTilted: boolean;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The same in words stands in the list after the drawing. */
export function Marks({ marks, cursor, project, isTilted, widthPx, heightPx }: MarksProps) {
  const shown = isTilted ? marksBesideWall(marks) : marks;
  const projected = shown.map((mark) => {
    const [x, y] = project(mark.place);
    return { mark, x, y };
  });
  const labels = placeMarkLabels(projected, { widthPx, heightPx, prefersUnder: isTilted });
  const [cursorX, cursorY] = cursor === undefined ? [0, 0] : project(cursor);
  return (
    <svg class="plan-marks" width={widthPx} height={heightPx} aria-hidden="true">
      {projected.toReversed().map(({ mark, x, y }) => (
        <g key={mark.id} class={classOf(mark)} data-feature-id={mark.id}>
          <MarkSymbol mark={mark} x={x} y={y} project={project} />
        </g>
      ))}
      {cursor && <circle class="cursor-point" cx={cursorX} cy={cursorY} r="6" />}
      {labels.map((label) => (
        <Label key={label.id} label={label} />
      ))}
    </svg>
  );
}

function classOf(mark: PlanMark): string {
  if (mark.kind === 'report') return mark.isSerious ? 'mark-report report-serious' : 'mark-report';
  return mark.kind === 'way' ? `mark-way mark-way-${mark.way}` : `mark-${mark.kind}`;
}

function Label({ label: { kind, words, x, y } }: { readonly label: MarkLabel }) {
  return (
    <text class={`name-${kind}`} x={x} y={y} dy="0.35em" text-anchor="middle">
      {words}
    </text>
  );
}

/** Half the side of a report's square, and of a note's circle. */
const REPORT_PX = 8;
const STATION_PX = 7;

interface SymbolProps {
  readonly mark: PlanMark;
  readonly x: number;
  readonly y: number;
  readonly project: Project;
}

function MarkSymbol({ mark, x, y, project }: SymbolProps) {
  switch (mark.kind) {
    case 'fix':
      return <circle cx={x} cy={y} r="4" />;
    case 'aerodrome':
      return <circle cx={x} cy={y} r="3.5" />;
    case 'station':
      return <path d={`M${x} ${y - STATION_PX}l7 7-7 7-7-7z`} />;
    case 'report':
      return (
        <>
          <rect x={x - REPORT_PX} y={y - REPORT_PX} width={2 * REPORT_PX} height={2 * REPORT_PX} />
          <text x={x} y={y + 4.5} text-anchor="middle">
            {mark.letter}
          </text>
        </>
      );
    case 'note': {
      const cx = x + (mark.isAtFix ? 2.2 * REPORT_PX : 0);
      return (
        <>
          <circle cx={cx} cy={y} r={REPORT_PX} />
          <text x={cx} y={y + 4.5} text-anchor="middle">
            N
          </text>
        </>
      );
    }
    case 'way':
      return <WayLine mark={mark} project={project} />;
    default:
      return <WorseLine mark={mark} project={project} />;
  }
}

function pathOf(positions: readonly Position[], project: Project): string {
  const pen = line<Position>(
    (place) => project(place)[0],
    (place) => project(place)[1],
  ).digits(1);
  return pen(positions) ?? '';
}

/** On the line of the leg: solid where there is none, hatched where nobody knows, thin where there is one. */
function WayLine({
  mark,
  project,
}: {
  readonly mark: PlanMark & { kind: 'way' };
  readonly project: Project;
}) {
  const d = pathOf(mark.line, project);
  return (
    <>
      {(mark.way === 'none' || mark.way === 'unknown') && <path class="way-casing" d={d} />}
      <path class="way-line" d={d} />
    </>
  );
}

/** Beside the corridor, in the paint of the worst that is near. */
function WorseLine({
  mark,
  project,
}: {
  readonly mark: PlanMark & { kind: 'worse' };
  readonly project: Project;
}) {
  const d = pathOf(mark.line, project);
  const [paint] = patternsOf(mark.look);
  return (
    <>
      <path class="worse-casing" d={d} />
      <path class={`worse-line ${paint}`} d={d} />
    </>
  );
}
