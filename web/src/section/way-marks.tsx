/** Where the considered altitude has no way out of the ice, and where none is known: a bar on its line. */
import { wayStretches } from '../answer/file-line.ts';
import { levelAtFt, waysOf } from '../considered.ts';
import type { BriefMember } from '../contract.ts';
import { consideredCandidate } from '../state.ts';
import { Painted, rectPath } from './paint.tsx';
import type { Sheet } from './scales.ts';

const BAR_PX = 9;
/** A single point still shows. */
const LEAST_PX = 6;
const TICK_PX = 5;

export function WayMarks({ brief, sheet }: { readonly brief: BriefMember; readonly sheet: Sheet }) {
  const candidate = consideredCandidate.value;
  if (candidate === undefined) return null;
  const marked = wayStretches(waysOf(candidate, brief.leg.points)).filter(
    ({ way }) => way === 'none' || way === 'unknown',
  );
  return (
    <g class="way-marks">
      {marked.map(({ way, fromNm, toNm }) => {
        const y = sheet.y(levelAtFt(candidate, (fromNm + toNm) / 2));
        const left = sheet.x(fromNm);
        const right = Math.max(sheet.x(toNm), left + LEAST_PX);
        const d = rectPath(left, y - BAR_PX / 2, right, y + BAR_PX / 2);
        return (
          <g key={`${way} ${fromNm}`} data-way={way}>
            {way === 'unknown' ? (
              <Painted look={{ kind: 'unknown', state: 'no-data' }} d={d} />
            ) : (
              <path class="way-mark-none" d={d} />
            )}
            <path class="way-mark-ends" d={endsPath(left, right, y)} />
          </g>
        );
      })}
    </g>
  );
}

/** Closed at both ends, like a gate. */
function endsPath(left: number, right: number, y: number): string {
  const half = BAR_PX / 2 + TICK_PX;
  return `M${left} ${y - half}V${y + half}M${right} ${y - half}V${y + half}`;
}
