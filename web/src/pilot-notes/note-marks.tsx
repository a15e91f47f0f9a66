/**
 * Pilots' notes in the cross-section: a dashed circle with a letter where no ice was met or a temperature was read, a tick
 * at tops and bases of cloud. In ink alone, under no word of the picture, and with the age of what was said.
 */
import { type Brief, featuresOf } from '../contract.ts';
import { boxAround, type LabelBox, type PlacedLabel, platePath } from '../section/label-places.ts';
import type { Sheet } from '../section/scales.ts';
import { nowMs } from '../state.ts';
import {
  apart,
  CIRCLE_PX,
  labelScale,
  markBox,
  marksOf,
  type NoteMark,
  noteLabel,
  TICK_PX,
} from './note-places.ts';

interface NoteMarksProps {
  readonly brief: Brief;
  readonly sheet: Sheet;
  /** Words that are drawn already. */
  readonly labels: readonly PlacedLabel[];
  /** Where no further ones can stand. */
  readonly taken: readonly LabelBox[];
}

export function NoteMarks({ brief, sheet, labels, taken }: NoteMarksProps) {
  const atMs = nowMs.value;
  const words = labels.map((label) => boxAround(label, sheet.textScale));
  const found = featuresOf(brief, 'pilot-note').flatMap((note) => marksOf(note, sheet, atMs));
  const marks = apart(found, words, sheet);
  const placed = placedLabels(marks, [...taken, ...words], sheet);
  return (
    <g class="pilot-notes">
      {marks.map((mark) => (
        <g key={mark.key} class={`note-${mark.kind}`} data-feature-id={mark.featureId}>
          <path class="note-reach" d={reachPath(mark)} />
          <MarkSymbol mark={mark} />
        </g>
      ))}
      {placed.map((label) => (
        <g key={`${label.words} ${label.x} ${label.y}`} class="note-label">
          <path class="label-plate" d={platePath(label, labelScale(sheet))} />
          <text x={label.x} y={label.y} dy="0.35em" text-anchor="middle">
            {label.words}
          </text>
        </g>
      ))}
    </g>
  );
}

function placedLabels(marks: readonly NoteMark[], taken: readonly LabelBox[], sheet: Sheet): PlacedLabel[] {
  const boxes = [...taken, ...marks.map(markBox)];
  return marks.flatMap((mark) => {
    const label = noteLabel(mark, boxes, sheet);
    if (label === undefined) return [];
    boxes.push(boxAround(label, labelScale(sheet)));
    return [label];
  });
}

function MarkSymbol({ mark: { kind, x, y } }: { readonly mark: NoteMark }) {
  if (kind === 'note')
    return (
      <>
        <circle cx={x} cy={y} r={CIRCLE_PX} />
        <text x={x} y={y + 4.5} text-anchor="middle">
          N
        </text>
      </>
    );
  // The ends point to where the cloud is.
  const d = `M${x - TICK_PX} ${y}h${2 * TICK_PX}M${x - TICK_PX} ${y}v${kind === 'tops' ? 5 : -5}m${2 * TICK_PX} 0v${kind === 'tops' ? -5 : 5}`;
  return (
    <>
      <path class="note-tick-halo" d={d} />
      <path class="note-tick" d={d} />
    </>
  );
}

/** From end to end of what was told, along and upright. */
function reachPath({ reach: { left, right, top, bottom }, x, y }: NoteMark): string {
  return `M${left} ${y}H${right}M${x} ${top}V${bottom}`;
}
