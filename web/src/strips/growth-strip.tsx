/** How fast ice would build at the considered altitude: bars in the bands' paints, hatched where unknown. */
import { airOfCell } from '../curtain.ts';
import { lookOf } from '../look.ts';
import { Painted, rectPath } from '../section/paint.tsx';
import { figureText } from '../units.ts';
import { type CellStripProps, cellsAlong } from './cell-strip.ts';

/** Least top of the scale, so that a trace does not look like a wall. */
const LEAST_TOP_MM_PER_MIN = 1;
/** Ice that hardly builds still shows. */
const LEAST_BAR_PX = 4;

export function GrowthStrip({ curtain, altitudeAtFt, sheet, heightPx }: CellStripProps) {
  const cells = cellsAlong(curtain, altitudeAtFt);
  const topMmPerMin = Math.max(
    LEAST_TOP_MM_PER_MIN,
    ...cells.map(({ cell }) => cell.value('wingGrowth') ?? 0),
  );
  const isBare = cells.every(({ cell }) => lookOf(airOfCell(cell)).kind === 'no-ice');
  return (
    <g>
      {isBare && (
        <text
          class="note"
          x={(sheet.plot.left + sheet.plot.right) / 2}
          y={heightPx / 2}
          dy="0.35em"
          text-anchor="middle"
        >
          no ice found on it
        </text>
      )}
      <g shape-rendering="crispEdges">
        {cells.map(({ fromNm, toNm, cell }) => {
          const look = lookOf(airOfCell(cell));
          if (look.kind === 'no-ice') return null;
          const growth = cell.value('wingGrowth') ?? 0;
          const barPx = Math.max(LEAST_BAR_PX, (growth / topMmPerMin) * (heightPx - 4));
          const topPx = look.kind === 'ice' ? heightPx - barPx : 0;
          return (
            <Painted key={fromNm} look={look} d={rectPath(sheet.x(fromNm), topPx, sheet.x(toNm), heightPx)} />
          );
        })}
      </g>
      <text class="strip-scale" x={sheet.plot.left - 8} y={12} text-anchor="end">
        {figureText(topMmPerMin.toFixed(1), 'mm/min')}
      </text>
      <text class="strip-scale" x={sheet.plot.left - 8} y={heightPx - 1} text-anchor="end">
        0
      </text>
    </g>
  );
}
