/** The cross-section: everything about an altitude stands at its height, everything about a place stands under it. */
import { useMemo, useRef } from 'preact/hooks';
import { considerAltitude, placeCursorAt } from '../consider.ts';
import { bestCandidateOf, levelsText } from '../considered.ts';
import { type Brief, featuresOf } from '../contract.ts';
import { keepInPlace } from '../keep-in-place.ts';
import { noteViews } from '../pilot-notes/load-views.ts';
import { Axes } from './axes.tsx';
import { BandLabels, Bands, useBandLabels } from './bands.tsx';
import { Crossings } from './crossings.tsx';
import { CursorHandles, CursorLines } from './cursor.tsx';
import { HazardBoxes } from './hazard-boxes.tsx';
import { boxesOfLines, LineLabels, lineLabels } from './line-labels.tsx';
import { CloudOutline, FreezingLevels, MinimumAltitudes, Terrain } from './lines.tsx';
import { Painted, rectPath } from './paint.tsx';
import { levelsPath } from './profile-line.tsx';
import { type Sheet, shownCandidates, snapAltitudeFt } from './scales.ts';
import { WayMarks } from './way-marks.tsx';

interface SectionProps {
  readonly brief: Brief;
  readonly sheet: Sheet;
}

export function Section({ brief, sheet }: SectionProps) {
  const bands = featuresOf(brief, 'icing-band');
  const pointer = usePointer(brief, sheet);
  return (
    <div class="drawing" style={{ height: `${sheet.heightPx}px` }}>
      <svg
        class="section"
        role="img"
        aria-label={sectionWords(brief)}
        width={sheet.widthPx}
        height={sheet.heightPx}
        viewBox={`0 0 ${sheet.widthPx} ${sheet.heightPx}`}
        {...pointer}
      >
        <Backing sheet={sheet} />
        <Bands bands={bands} sheet={sheet} />
        <Axes sheet={sheet} brief={brief.brief} />
        <CloudOutline features={featuresOf(brief, 'cloud-band')} sheet={sheet} />
        <HazardBoxes brief={brief} sheet={sheet} />
        <Terrain features={featuresOf(brief, 'terrain')} sheet={sheet} />
        <FreezingLevels features={featuresOf(brief, 'freezing-level')} sheet={sheet} />
        <MinimumAltitudes features={featuresOf(brief, 'minimum-altitude')} sheet={sheet} />
        <Crossings crossings={brief.brief.limits.crossings} sheet={sheet} />
        <FiledAltitude brief={brief} sheet={sheet} />
      </svg>
      <svg
        class="section-over"
        aria-hidden="true"
        width={sheet.widthPx}
        height={sheet.heightPx}
        viewBox={`0 0 ${sheet.widthPx} ${sheet.heightPx}`}
      >
        <CursorLines sheet={sheet} points={brief.brief.leg.points} />
        <MarksAndWords brief={brief} sheet={sheet} />
      </svg>
      <CursorHandles sheet={sheet} candidates={shownCandidates(brief.brief, sheet.range)} />
    </div>
  );
}

/** Apart, since the lines that they keep clear of move with the altitude considered and the rest of the drawing does not. */
function MarksAndWords({ brief, sheet }: SectionProps) {
  const bands = useMemo(() => featuresOf(brief, 'icing-band'), [brief]);
  const labels = lineLabels(brief, sheet);
  const taken = boxesOfLines(brief, sheet, labels);
  const bandLabels = useBandLabels(bands, sheet, taken);
  const views = noteViews(brief);
  return (
    <>
      <BandLabels labels={bandLabels} textScale={sheet.textScale} />
      <WayMarks brief={brief.brief} sheet={sheet} />
      <LineLabels labels={labels} textScale={sheet.textScale} />
      {views && (
        <views.NoteMarks brief={brief} sheet={sheet} labels={[...labels, ...bandLabels]} taken={taken} />
      )}
    </>
  );
}

/** What no band covers is not known: hatching lies under everything. */
function Backing({ sheet }: { readonly sheet: Sheet }) {
  const { left, right, top, bottom } = sheet.plot;
  return <Painted look={{ kind: 'unknown', state: 'no-data' }} d={rectPath(left, top, right, bottom)} />;
}

/** The altitude to file as a heavy line, and the range to accept as a bar along the altitude axis. */
function FiledAltitude({ brief, sheet }: SectionProps) {
  const { file } = brief.brief;
  if (file === null) return null;
  const { left } = sheet.plot;
  const d = levelsPath(sheet, bestCandidateOf(brief.brief) ?? { altitudeFt: file.altitudeFt, profile: [] });
  return (
    <g class="filed">
      <path
        class="accept-bar"
        d={`M${left - 1} ${sheet.y(file.acceptFt.lowerFt) + 5}V${sheet.y(file.acceptFt.upperFt) - 5}`}
      />
      <path class="filed-halo" d={d} />
      <path class="filed-line" d={d} />
    </g>
  );
}

/** A press that moves less is a click: the sheet may shift under it when the answer above grows. */
const CLICK_PX = 4;

/** A mouse drags both; a finger's tap sets both, its sideways drag the place, its upward drag scrolls the page. */
function usePointer(brief: Brief, sheet: Sheet) {
  const pressed = useRef<{ x: number; y: number; isDrag: boolean } | undefined>(undefined);
  const altitudesFt = shownCandidates(brief.brief, sheet.range).map((candidate) => candidate.altitudeFt);
  const place = (event: MouseEvent, withAltitude: boolean) => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    placeCursorAt(sheet.nmAt(event.clientX - box.left));
    if (withAltitude) considerAltitude(snapAltitudeFt(altitudesFt, sheet.ftAt(event.clientY - box.top)));
  };
  const release = () => {
    pressed.current = undefined;
  };
  return {
    onPointerDown: (event: PointerEvent) => {
      pressed.current = { x: event.clientX, y: event.clientY, isDrag: false };
      (event.currentTarget as Element).setPointerCapture(event.pointerId);
      if (event.pointerType === 'mouse') place(event, true);
    },
    onPointerMove: (event: PointerEvent) => {
      const press = pressed.current;
      if (press === undefined) return;
      const movedPx = Math.hypot(event.clientX - press.x, event.clientY - press.y);
      press.isDrag ||= movedPx >= CLICK_PX;
      if (press.isDrag) place(event, event.pointerType === 'mouse');
    },
    onPointerUp: release,
    onPointerCancel: release,
    onClick: (event: MouseEvent) => {
      const isMouse = event instanceof PointerEvent && event.pointerType === 'mouse';
      if (!isMouse) keepInPlace(event.currentTarget as Element, () => place(event, true));
    },
  };
}

function sectionWords(brief: Brief): string {
  const { leg, file } = brief.brief;
  const best = bestCandidateOf(brief.brief);
  const filed =
    file === null || best === undefined
      ? 'No altitude to file.'
      : `Altitude to file ${levelsText(best)} feet.`;
  return `Cross-section of the leg from ${leg.from} to ${leg.to}, ${Math.round(leg.distanceNm)} nautical miles. ${filed} The values at the cursor and the altitude table say in words what is drawn.`;
}
