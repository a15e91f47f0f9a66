/** Plan view of the network: each pair of stations as a line that shows the gravest verdict of its flights. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { BoardFlight } from '../../../../worker/schema/board.ts';
import { BASE_MAP_ATTRIBUTION, type BaseMap, loadBaseMap } from '../../plan/base-map.ts';
import { useElementWidth } from '../../use-element-width.ts';
import { whenIdle } from '../../when-idle.ts';
import { drawnLines } from './lines.ts';
import './network.css';
import { NetworkDrawing } from './network-drawing.tsx';
import { networkFrame, type View, WHOLE } from './network-frame.ts';
import { networkMarks } from './network-marks.ts';
import { ChosenPair, flightsWords, NetworkLegend, PairList, Undrawn } from './network-words.tsx';
import { flightToSelect, networkLines, type PairLine } from './pairs.ts';
import { useHand, ViewButtons } from './view-hand.tsx';

const HEIGHT_PER_WIDTH = 0.62;
const LOWEST_PX = 300;
const HIGHEST_PX = 900;

export interface NetworkPlanProps {
  readonly flights: readonly BoardFlight[];
  readonly selectedId: string | undefined;
  readonly onSelect: (id: string) => void;
}

export function NetworkPlan({ flights, selectedId, onSelect }: NetworkPlanProps) {
  const { pairs, undrawn, past } = useMemo(() => networkLines(flights), [flights]);
  const chosen = pairs.find((pair) => pair.flights.some(({ id }) => id === selectedId));
  const selectPair = (pair: PairLine) => onSelect(flightToSelect(pair, selectedId));
  return (
    <section class="network" aria-labelledby="network-title">
      <h2 id="network-title">Plan view of the network</h2>
      {pairs.length === 0 ? (
        <p class="network-none">Nothing can be drawn: no flight ahead has a route worked out.</p>
      ) : (
        <>
          <p class="quiet">
            One line a pair of stations, drawn as the gravest verdict of its flights. Touch a line to choose a
            flight of it; the list of flights and the list below say the same in words.
          </p>
          <NetworkPicture pairs={pairs} chosen={chosen} onPair={selectPair} />
          <NetworkLegend pairs={pairs} />
        </>
      )}
      {chosen && <ChosenPair pair={chosen} selectedId={selectedId} onSelect={onSelect} />}
      <Undrawn flights={undrawn} selectedId={selectedId} onSelect={onSelect} />
      {past > 0 && <p class="quiet">Left out: {flightsWords(past)} arrived or cancelled.</p>}
      {pairs.length > 0 && <PairList pairs={pairs} selectedId={selectedId} onPair={selectPair} />}
      <p class="quiet">{BASE_MAP_ATTRIBUTION}</p>
    </section>
  );
}

interface NetworkPictureProps {
  readonly pairs: readonly PairLine[];
  readonly chosen: PairLine | undefined;
  readonly onPair: (pair: PairLine) => void;
}

function NetworkPicture({ pairs, chosen, onPair }: NetworkPictureProps) {
  const element = useRef<HTMLDivElement>(null);
  const widthPx = useElementWidth(element);
  const heightPx = Math.round(Math.min(HIGHEST_PX, Math.max(LOWEST_PX, widthPx * HEIGHT_PER_WIDTH)));
  return (
    <div class="network-frame" ref={element} style={{ height: `${heightPx}px` }}>
      {widthPx > 0 && (
        <SizedPicture pairs={pairs} chosen={chosen} onPair={onPair} widthPx={widthPx} heightPx={heightPx} />
      )}
    </div>
  );
}

type SizedPictureProps = NetworkPictureProps & { readonly widthPx: number; readonly heightPx: number };

function SizedPicture({ pairs, chosen, onPair, widthPx, heightPx }: SizedPictureProps) {
  const size = useMemo(() => ({ widthPx, heightPx }), [widthPx, heightPx]);
  const frame = useStableFrame(pairs, size);
  const lines = useMemo(() => (frame ? drawnLines(pairs, frame) : []), [pairs, frame]);
  const [view, setView] = useState<View>(WHOLE);
  const marks = useMemo(() => networkMarks(lines, view, size, chosen?.key), [lines, view, size, chosen?.key]);
  const baseMap = useBaseMap();
  const hand = useHand({ lines, view, setView, size, onPair });
  if (frame === undefined) return null;
  const unnamed = marks.stations.filter(
    ({ at: [x, y], textAt }) =>
      textAt === undefined && x >= 0 && y >= 0 && x <= size.widthPx && y <= size.heightPx,
  ).length;
  return (
    <>
      <div class={view.k > 1 ? 'network-hand network-hand-moves' : 'network-hand'} {...hand}>
        <NetworkDrawing
          frame={frame}
          view={view}
          lines={lines}
          selected={lines.find(({ pair }) => pair.key === chosen?.key)}
          marks={marks}
          baseMap={baseMap}
        />
      </div>
      <ViewButtons view={view} setView={setView} size={size} />
      {unnamed > 0 && <p class="network-unnamed">{unnamed} without room for a name: zoom in</p>}
    </>
  );
}

/** The same while the extent is: what comes in over the live connection must not draw the base map anew. */
function useStableFrame(pairs: readonly PairLine[], size: { widthPx: number; heightPx: number }) {
  const frame = networkFrame(pairs, size);
  const extent = `${frame?.bounds.join(' ')} ${frame?.middleLonDeg} ${size.widthPx} ${size.heightPx}`;
  return useMemo(() => frame, [extent]);
}

/** The atlases are large: they are asked for once the lines stand. */
function useBaseMap(): BaseMap | undefined {
  const [baseMap, setBaseMap] = useState<BaseMap>();
  useEffect(
    () =>
      whenIdle(() => {
        loadBaseMap().then(setBaseMap, () => undefined);
      }),
    [],
  );
  return baseMap;
}
