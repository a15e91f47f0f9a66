/** Static temperature at the considered altitude, with the freezing line when it lies inside the scale. */
import { line } from 'd3-shape';
import { Painted, rectPath } from '../section/paint.tsx';
import { type CellStripProps, cellsAlong, type StretchOfCell } from './cell-strip.ts';

const LEAST_SPAN_C = 6;

export function TemperatureStrip({ curtain, altitudeAtFt, sheet, heightPx }: CellStripProps) {
  const cells = cellsAlong(curtain, altitudeAtFt);
  const known = cells.flatMap(({ cell }) => cell.value('temperature') ?? []);
  const middleC = known.length === 0 ? 0 : (Math.min(...known) + Math.max(...known)) / 2;
  const spanC = Math.max(LEAST_SPAN_C, known.length === 0 ? 0 : Math.max(...known) - Math.min(...known));
  const y = (celsius: number) => heightPx / 2 - ((celsius - middleC) / spanC) * (heightPx - 14);
  const pen = line<StretchOfCell>(
    ({ middleNm }) => sheet.x(middleNm),
    ({ cell }) => y(cell.value('temperature') ?? 0),
  ).defined(({ cell }) => cell.value('temperature') !== undefined);
  const [highestC, lowestC] = [middleC + spanC / 2, middleC - spanC / 2];
  return (
    <g>
      <UnknownStretches cells={cells} sheet={sheet} heightPx={heightPx} />
      {known.length > 0 && lowestC < 0 && highestC > 0 && (
        <g class="freezing-levels">
          <path d={`M${sheet.plot.left} ${y(0)}H${sheet.plot.right}`} />
        </g>
      )}
      <path class="strip-line" d={pen(cells) ?? ''} />
      {known.length > 0 && (
        <>
          <text class="strip-scale" x={sheet.plot.left - 8} y={12} text-anchor="end">
            {wholeText(highestC)}
          </text>
          <text class="strip-scale" x={sheet.plot.left - 8} y={heightPx - 1} text-anchor="end">
            {wholeText(lowestC)}
          </text>
        </>
      )}
    </g>
  );
}

const wholeText = (celsius: number) => String(Math.round(celsius)).replace('-', '−');

interface UnknownStretchesProps {
  readonly cells: readonly StretchOfCell[];
  readonly sheet: CellStripProps['sheet'];
  readonly heightPx: number;
}

/** Hatching wherever a cell is not known; ground where it lies below the ground. */
export function UnknownStretches({ cells, sheet, heightPx }: UnknownStretchesProps) {
  return (
    <g shape-rendering="crispEdges">
      {cells
        .filter(({ cell }) => cell.state !== 'known')
        .map(({ fromNm, toNm, cell }) => (
          <Painted
            key={fromNm}
            look={
              cell.state === 'below-ground'
                ? { kind: 'below-ground' }
                : { kind: 'unknown', state: cell.state }
            }
            d={rectPath(sheet.x(fromNm), 0, sheet.x(toNm), heightPx)}
          />
        ))}
    </g>
  );
}
