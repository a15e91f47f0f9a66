/** The one cursor on the cross-section: two handles to hold, and the lines they move. */

import { considerAltitude, placeCursorAt } from '../consider.ts';
import { levelAtFt, levelsText } from '../considered.ts';
import type { Candidate, RoutePoint } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { consideredCandidate, consideredFt, cursorNm } from '../state.ts';
import { levelsPath } from './profile-line.tsx';
import { type Sheet, snapAltitudeFt } from './scales.ts';

interface CursorProps {
  readonly sheet: Sheet;
  readonly candidates: readonly Candidate[];
}

const KEY_STEPS = 40;

/** Lines inside the drawing. */
export function CursorLines({
  sheet,
  points,
}: {
  readonly sheet: Sheet;
  readonly points: readonly RoutePoint[];
}) {
  const { top, bottom } = sheet.plot;
  const candidate = consideredCandidate.value ?? { altitudeFt: consideredFt.value, profile: [] };
  const along = levelsPath(sheet, candidate);
  const y = sheet.y(levelAtFt(candidate, cursorNm.value));
  const x = sheet.x(cursorNm.value);
  return (
    <g class="cursor">
      <path class="cursor-halo" d={`${along}M${x} ${top}V${bottom}`} />
      <path class="cursor-altitude" d={along} />
      <path class="cursor-flown" d={flownPath(sheet, points, consideredCandidate.value?.flownFt ?? null)} />
      <path class="cursor-distance" d={`M${x} ${top}V${bottom}`} />
      <circle class="cursor-point" cx={x} cy={y} r="5" />
    </g>
  );
}

/** What is flown with climb and descent; '' where nobody worked it out. */
function flownPath(sheet: Sheet, points: readonly RoutePoint[], flownFt: Candidate['flownFt']): string {
  if (flownFt === null) return '';
  const { top, bottom } = sheet.plot;
  const y = (feet: number) => Math.min(bottom, Math.max(top, sheet.y(feet)));
  return flownFt
    .map((feet, at) => `${at === 0 ? 'M' : 'L'}${sheet.x(points[at]?.distanceNm ?? 0)} ${y(feet)}`)
    .join('');
}

/** Both handles obey all four arrow keys, so that one hand moves the whole cursor. */
export function CursorHandles({ sheet, candidates }: CursorProps) {
  const altitudesFt = candidates.map((candidate) => candidate.altitudeFt);
  const onKeyDown = (event: KeyboardEvent) => {
    if (moveByKey(event.key, sheet, altitudesFt)) event.preventDefault();
  };
  const drag = (move: (event: PointerEvent) => void) => ({
    onPointerDown: (event: PointerEvent) =>
      (event.currentTarget as Element).setPointerCapture(event.pointerId),
    onPointerMove: (event: PointerEvent) => {
      if ((event.currentTarget as Element).hasPointerCapture(event.pointerId)) move(event);
    },
  });
  return (
    <>
      <div
        class="handle handle-altitude"
        role="slider"
        tabIndex={0}
        aria-orientation="vertical"
        aria-label="Considered altitude"
        aria-valuemin={sheet.range.lowestFt}
        aria-valuemax={sheet.range.highestFt}
        aria-valuenow={consideredFt.value}
        aria-valuetext={`${consideredWords()} feet`}
        style={{ top: `${sheet.y(consideredFt.value)}px`, width: `${sheet.plot.left - 2}px` }}
        onKeyDown={onKeyDown}
        {...drag((event) => {
          const box = drawingBox(event);
          if (box) considerAltitude(snapAltitudeFt(altitudesFt, sheet.ftAt(event.clientY - box.top)));
        })}
      >
        {feetText(consideredFt.value)}
      </div>
      <div
        class="handle handle-distance"
        role="slider"
        tabIndex={0}
        aria-label="Place along the leg"
        aria-valuemin={0}
        aria-valuemax={sheet.lengthNm}
        aria-valuenow={cursorNm.value}
        aria-valuetext={`${Math.round(cursorNm.value)} nautical miles from departure`}
        style={{ left: `${sheet.x(cursorNm.value)}px`, top: `${sheet.plot.bottom}px` }}
        onKeyDown={onKeyDown}
        {...drag((event) => {
          const box = drawingBox(event);
          if (box) placeCursorAt(sheet.nmAt(event.clientX - box.left));
        })}
      >
        {Math.round(cursorNm.value)}
      </div>
    </>
  );
}

/** Of a stepped profile all its levels. */
function consideredWords(): string {
  const candidate = consideredCandidate.value;
  return candidate === undefined ? feetText(consideredFt.value) : levelsText(candidate);
}

function drawingBox(event: PointerEvent): DOMRect | undefined {
  return (event.currentTarget as Element).closest('.drawing')?.getBoundingClientRect();
}

/** @returns true when the key meant something here. */
export function moveByKey(key: string, sheet: Sheet, altitudesFt: readonly number[]): boolean {
  const sorted = [...altitudesFt].sort((a, b) => a - b);
  const steps: Record<string, number> = { ArrowUp: 1, ArrowDown: -1, PageUp: 5, PageDown: -5 };
  const rows = steps[key];
  if (rows !== undefined) {
    const wantedFt = consideredFt.value + rows * sheet.range.stepFt;
    const inRangeFt = Math.min(sheet.range.highestFt, Math.max(sheet.range.lowestFt, wantedFt));
    const beyond = sorted.filter((feet) =>
      rows > 0 ? feet > consideredFt.value : feet < consideredFt.value,
    );
    if (sorted.length === 0 || beyond.length > 0) considerAltitude(snapAltitudeFt(beyond, inRangeFt));
    return true;
  }
  const along: Record<string, number> = { ArrowRight: 1, ArrowLeft: -1 };
  const direction = along[key];
  if (direction !== undefined) {
    const movedNm = cursorNm.value + (direction * sheet.lengthNm) / KEY_STEPS;
    placeCursorAt(Math.min(sheet.lengthNm, Math.max(0, movedNm)));
    return true;
  }
  if (key !== 'Home' && key !== 'End') return false;
  placeCursorAt(key === 'Home' ? 0 : sheet.lengthNm);
  return true;
}
