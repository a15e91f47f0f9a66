/** Wind at the considered altitude: an arrow the way it blows (north is up) with its speed, as many as there is room for. */
import { type CellStripProps, cellsAlong, type StretchOfCell } from './cell-strip.ts';
import { UnknownStretches } from './temperature-strip.tsx';

const LEAST_GAP_PX = 64;
const EDGE_PX = 26;

export function WindStrip({ curtain, altitudeAtFt, sheet, heightPx }: CellStripProps) {
  const cells = cellsAlong(curtain, altitudeAtFt);
  return (
    <g>
      <UnknownStretches cells={cells} sheet={sheet} heightPx={heightPx} />
      {arrowCells(cells, sheet).map(({ middleNm, cell }) => {
        const x = sheet.x(middleNm);
        const fromDeg = cell.value('windFrom');
        const speedKt = cell.value('windSpeed');
        if (fromDeg === undefined || speedKt === undefined) {
          return cell.state === 'known' ? (
            <text key={middleNm} class="note" x={x} y={heightPx / 2} dy="0.35em" text-anchor="middle">
              unknown
            </text>
          ) : null;
        }
        return (
          <g key={middleNm} class="wind">
            <path
              d="M0 -11V8M-4 3 0 11 4 3"
              transform={`translate(${x - 12} ${heightPx / 2}) rotate(${fromDeg})`}
            />
            <text x={x + 2} y={heightPx / 2} dy="0.35em">
              {Math.round(speedKt)}
            </text>
          </g>
        );
      })}
    </g>
  );
}

function arrowCells(cells: readonly StretchOfCell[], sheet: CellStripProps['sheet']): StretchOfCell[] {
  const chosen: StretchOfCell[] = [];
  let nextPx = sheet.plot.left + EDGE_PX;
  for (const stretch of cells) {
    const x = sheet.x(stretch.middleNm);
    if (x < nextPx || x > sheet.plot.right - EDGE_PX) continue;
    chosen.push(stretch);
    nextPx = x + LEAST_GAP_PX;
  }
  return chosen;
}
