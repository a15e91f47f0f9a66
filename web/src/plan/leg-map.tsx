/**
 * A leg picked on a map: the first tap takes the departure, the second the destination. Only where maps can be drawn.
 */
import { type Signal, useSignal } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import { MOST_BOX_DEG, widthDeg } from '../../../worker/schema/places.ts';
import { aerodromesIn, listAscents, type Place } from '../api.ts';
import { useElementWidth } from '../use-element-width.ts';
import { BASE_MAP_ATTRIBUTION, loadBaseMap } from './base-map.ts';
import type { LegGlMap } from './map-leg.ts';
import { Marks } from './marks.tsx';
import { type Box, boxAround, type PickedLeg, pick, pickWords, placeNear, routeText } from './pick-leg.ts';
import type { PlanMark } from './plan-marks.ts';
import { ZoomButtons } from './zoom-buttons.tsx';

interface LegMapProps {
  /** "KBTV DCT KBGR", each time both ends are picked. */
  readonly onRoute: (text: string) => void;
}

const HEIGHT_PER_WIDTH = 0.62;
const HIGHEST_PX = 480;
const WORLD: Box = [-170, -50, 170, 70];

/** What is known of the aerodromes in view. */
type Found = { readonly places: readonly Place[]; readonly lack: string };
const NOTHING: Found = { places: [], lack: '' };

/** It opens on where ascents were made, for only there anything is known. */
export function LegMap({ onRoute }: LegMapProps) {
  const holder = useRef<HTMLDivElement>(null);
  const widthPx = useElementWidth(holder);
  const heightPx = Math.round(Math.min(widthPx * HEIGHT_PER_WIDTH, HIGHEST_PX));
  const [picked, setPicked] = useState<PickedLeg>({});
  const found = useSignal<Found>(NOTHING);
  const moves = useSignal(0);
  const map = useLegMap({ holder, found, moves, onTap: (place) => take(place) });
  const take = (place: Place) => {
    const next = pick(picked, place);
    setPicked(next);
    map?.showLine([next.from, next.to].flatMap((end) => (end ? [[end.lonDeg, end.latDeg] as const] : [])));
    const text = routeText(next);
    if (text !== undefined) onRoute(text);
  };
  return (
    <section class="leg-map" aria-label="The leg on a map">
      <div class="plan-head">
        <p role="status">{found.value.lack === '' ? pickWords(picked) : found.value.lack}</p>
        {map && (
          <div class="plan-buttons">
            <ZoomButtons zoomBy={map.zoomBy} />
          </div>
        )}
      </div>
      <div class={map ? 'plan-frame plan-has-map' : 'plan-frame'} style={{ height: `${heightPx}px` }}>
        <div class="plan-map" ref={holder} />
        {map && (
          <AerodromeMarks
            found={found}
            picked={picked}
            map={map}
            moves={moves}
            size={{ widthPx, heightPx }}
          />
        )}
        <div class="leg-map-middle" aria-hidden="true" />
      </div>
      <p class="quiet">{BASE_MAP_ATTRIBUTION}</p>
    </section>
  );
}

interface AerodromeMarksProps {
  readonly found: Signal<Found>;
  readonly picked: PickedLeg;
  readonly map: LegGlMap;
  readonly moves: Signal<number>;
  readonly size: { readonly widthPx: number; readonly heightPx: number };
}

/** Drawn again with every move of the map, alone; the picked ends take their places first. */
function AerodromeMarks({ found, picked, map, moves, size }: AerodromeMarksProps) {
  moves.value;
  const ends = [picked.from, picked.to].filter((end) => end !== undefined);
  const others = found.value.places.filter(({ ident }) => ends.every((end) => end.ident !== ident));
  const marks = [
    ...ends.map((place) => markOf(place, 'fix')),
    ...others.map((place) => markOf(place, 'aerodrome')),
  ];
  return <Marks {...size} marks={marks} cursor={undefined} project={map.project} isTilted={false} />;
}

function markOf({ ident, lonDeg, latDeg }: Place, kind: 'fix' | 'aerodrome'): PlanMark {
  return { kind, id: ident, place: [lonDeg, latDeg], words: [ident] };
}

interface UseLegMap {
  readonly holder: { current: HTMLDivElement | null };
  readonly found: Signal<Found>;
  readonly moves: Signal<number>;
  readonly onTap: (place: Place) => void;
}

/** Opens the map once it and the atlases are there, and keeps the aerodromes in view asked for. */
function useLegMap({ holder, found, moves, onTap }: UseLegMap): LegGlMap | undefined {
  const [map, setMap] = useState<LegGlMap>();
  const tap = useRef(onTap);
  tap.current = onTap;
  useEffect(() => {
    const element = holder.current;
    if (element === null) return;
    const lost = () => setMap(undefined);
    let isGone = false;
    let close = () => {};
    const start = async () => {
      const [{ openLegMap }, baseMap, first] = await Promise.all([
        import('./map-leg.ts'),
        loadBaseMap(),
        boxOfAscents(),
      ]);
      if (isGone) return;
      const asking = aerodromeAsker(found);
      const opened = openLegMap({
        element,
        baseMap,
        box: first,
        onReady: () => setMap(opened),
        onLost: lost,
        onMove: () => (moves.value += 1),
        onRest: () => asking.ask(opened.seen()),
        onTap(x, y) {
          const place = placeNear(found.value.places, opened.project, [x, y]);
          if (place !== undefined) tap.current(place);
        },
      });
      close = () => {
        asking.stop();
        opened.close();
      };
    };
    start().catch(() => {
      lost();
      if (!isGone) found.value = NO_MAP;
    });
    return () => {
      isGone = true;
      close();
      lost();
    };
  }, []);
  return map;
}

async function boxOfAscents(): Promise<Box> {
  const answer = await listAscents();
  return (answer.kind === 'ok' && boxAround(answer.value.soundings)) || WORLD;
}

const ZOOM_IN: Found = { places: [], lack: 'Zoom in to see the aerodromes' };
const NO_MAP: Found = { places: [], lack: 'The map cannot be had now: type the route' };
const NOT_HAD: Found = { places: [], lack: 'The aerodromes cannot be had now: type the route' };

/** A newer question drops the older one. */
function aerodromeAsker(found: Signal<Found>) {
  let call = new AbortController();
  return {
    async ask(box: Box) {
      call.abort();
      call = new AbortController();
      const { signal } = call;
      const [west, south, east, north] = box;
      if (widthDeg(west, east) > MOST_BOX_DEG.lon || north - south > MOST_BOX_DEG.lat) {
        found.value = ZOOM_IN;
        return;
      }
      const answer = await aerodromesIn(box, signal);
      if (signal.aborted) return;
      if (answer.kind === 'ok') found.value = { places: answer.value.places, lack: '' };
      else found.value = answer.kind === 'problem' && answer.problem.field === 'box' ? ZOOM_IN : NOT_HAD;
    },
    stop: () => call.abort(),
  };
}
