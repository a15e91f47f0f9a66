/** The plan of a network as plain drawing: needs no WebGL, and prints. */
import { useMemo } from 'preact/hooks';
import { VERDICTS_GRAVEST_FIRST } from '../../../../worker/schema/board-order.ts';
import { VerdictShape } from '../../answer/verdict-shape.tsx';
import type { VerdictCode } from '../../contract.ts';
import type { BaseMap } from '../../plan/base-map.ts';
import { basePaths } from '../../plan/base-paths.ts';
import type { Frame } from '../../plan/mercator.ts';
import { type Along, type DrawnLine, pathOf } from './lines.ts';
import type { View } from './network-frame.ts';
import { MARK_PX, type NetworkMarks, type VerdictMark } from './network-marks.ts';

/** Drawn in this order: the gravest lies on top. */
const DRAWN_ORDER = VERDICTS_GRAVEST_FIRST.toReversed();

interface NetworkDrawingProps {
  readonly frame: Frame;
  readonly view: View;
  readonly lines: readonly DrawnLine[];
  readonly selected: DrawnLine | undefined;
  readonly marks: NetworkMarks;
  readonly baseMap: BaseMap | undefined;
}

export function NetworkDrawing({ frame, view, lines, selected, marks, baseMap }: NetworkDrawingProps) {
  const { widthPx, heightPx } = frame;
  const base = useMemo(() => baseMap && basePaths(baseMap, frame), [baseMap, frame]);
  return (
    <svg
      class="network-svg"
      aria-hidden="true"
      width={widthPx}
      height={heightPx}
      viewBox={`0 0 ${widthPx} ${heightPx}`}
    >
      <rect class="plan-water" width={widthPx} height={heightPx} />
      <g transform={`translate(${view.x} ${view.y}) scale(${view.k})`} class="network-moved">
        {base && (
          <>
            <path class="plan-land" d={base.land} />
            <path class="plan-state" d={base.states} />
            <path class="plan-border" d={base.borders} />
          </>
        )}
        <Lines lines={lines} />
        {selected && <SelectedLine line={selected} />}
      </g>
      <Marks marks={marks} selectedKey={selected?.pair.key} />
    </svg>
  );
}

/** From this many on the halos hide more than they part, and cost most of the drawing. */
const CROWDED = 250;

/** One path a verdict, however many lines it has. */
function Lines({ lines }: { readonly lines: readonly DrawnLine[] }) {
  const paths = useMemo(
    () => DRAWN_ORDER.map((code) => ({ code, d: pathOf(lines.filter(({ pair }) => pair.verdict === code)) })),
    [lines],
  );
  return (
    <g class={lines.length > CROWDED ? 'network-crowded' : ''}>
      {paths.map(({ code, d }) => d !== '' && <VerdictLine key={code} code={code} d={d} />)}
    </g>
  );
}

function SelectedLine({ line }: { readonly line: DrawnLine }) {
  const d = pathOf([line]);
  return (
    <g class="network-selected">
      <path class="network-selected-edge" d={d} />
      <path class="network-selected-gap" d={d} />
      <VerdictLine code={line.pair.verdict} d={d} />
    </g>
  );
}

/** Told apart without color too: thin, plain, thick with bars across, a ladder of grey. */
export function VerdictLine({ code, d }: { readonly code: VerdictCode; readonly d: string }) {
  const layers =
    code === 'unknown' || code === 'outside-limits' ? ['halo', 'line', 'bars'] : ['halo', 'line'];
  return (
    <g class={`network-line network-line-${code}`} data-verdict={code}>
      {layers.map((layer) => (
        <path key={layer} class={`network-${layer}`} d={d} />
      ))}
    </g>
  );
}

function Marks({ marks, selectedKey }: { marks: NetworkMarks; selectedKey: string | undefined }) {
  return (
    <>
      <g class="network-arrows">
        {marks.marks.map(({ pair, arrow }) => arrow && <Arrow key={pair.key} {...arrow} />)}
      </g>
      <g class="network-stations">
        {marks.stations.map(({ name, at: [x, y], textAt }) => (
          <g key={name}>
            <circle cx={x} cy={y} r="3.5" />
            {textAt && (
              <text x={textAt[0]} y={textAt[1]}>
                {name}
              </text>
            )}
          </g>
        ))}
      </g>
      <g class="network-marks">
        {marks.marks.map((mark, at) => (
          <Mark key={`${mark.pair.key} ${at}`} mark={mark} isSelected={mark.pair.key === selectedKey} />
        ))}
      </g>
    </>
  );
}

function Arrow({ at: [x, y], angleDeg }: Along) {
  return <path transform={`translate(${x} ${y}) rotate(${angleDeg})`} d="M-6 -6L7 0L-6 6Z" />;
}

function Mark({ mark: { pair, at }, isSelected }: { mark: VerdictMark; isSelected: boolean }) {
  const [x, y] = at;
  const count = pair.flights.length;
  return (
    <g class={isSelected ? 'network-mark network-mark-selected' : 'network-mark'}>
      <circle cx={x} cy={y} r={MARK_PX / 2 + 3} class="network-mark-ground" />
      <g transform={`translate(${x - MARK_PX / 2} ${y - MARK_PX / 2})`}>
        <VerdictShape code={pair.verdict} sizePx={MARK_PX} />
      </g>
      {count > 1 && (
        <text x={x + MARK_PX / 2 + 4} y={y + 5}>
          {count}
        </text>
      )}
    </g>
  );
}
