/** The plan view: a drawing at once, a map that can be moved as soon as one can be had. */
import { effect } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { BandFeature, Brief } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf } from '../look.ts';
import { feetText } from '../numbers.ts';
import { consideredFt, cursorNm, isPrinting } from '../state.ts';
import { useElementWidth } from '../use-element-width.ts';
import { iceWords, stateSentence } from '../words.ts';
import { BASE_MAP_ATTRIBUTION, type BaseMap, loadBaseMap } from './base-map.ts';
import type { MapPlan } from './map-plan.ts';
import { bandsAt } from './plan-bands.ts';
import { SvgPlan } from './svg-plan.tsx';

const PRINT_WIDTH_PX = 288;

export function Plan({ brief }: { readonly brief: Brief }) {
  const frame = useRef<HTMLDivElement>(null);
  const measuredPx = useElementWidth(frame);
  const widthPx = isPrinting.value ? PRINT_WIDTH_PX : measuredPx;
  const heightPx = Math.round(Math.min(widthPx * 0.62, 560));
  const baseMap = useBaseMap();
  const holder = useRef<HTMLDivElement>(null);
  const hasMap = useMap(holder, brief, baseMap);
  const bands = bandsAt(featuresOf(brief, 'icing-band'), consideredFt.value);
  return (
    <section class="plan" aria-labelledby="plan-title">
      <h2 id="plan-title">Plan view at {feetText(consideredFt.value)} ft</h2>
      <div
        class={hasMap ? 'plan-frame plan-has-map' : 'plan-frame'}
        ref={frame}
        style={{ height: `${heightPx}px` }}
      >
        {widthPx > 0 && <SvgPlan brief={brief} baseMap={baseMap} widthPx={widthPx} heightPx={heightPx} />}
        <div class="plan-map" ref={holder} />
      </div>
      <ol class="for-ears">
        {bands.map((band) => (
          <li key={band.id}>{bandSentence(band)}</li>
        ))}
      </ol>
      <p class="quiet">{BASE_MAP_ATTRIBUTION}</p>
    </section>
  );
}

function bandSentence({ properties }: BandFeature): string {
  const place = `${Math.round(properties.fromNm)} to ${Math.round(properties.toNm)} nautical miles`;
  const look = lookOf(properties);
  if (look.kind === 'no-ice') return `${place}: no ice found`;
  if (look.kind !== 'ice')
    return `${place}: ${stateSentence(look.kind === 'unknown' ? look.state : 'below-ground')}`;
  const chance = Math.round((properties.probability ?? 0) * 100);
  return `${place}: ${iceWords(properties)}, chance up to ${chance} %`;
}

/** The atlases are large: they are asked for once the answer and the cross-section stand. */
function useBaseMap(): BaseMap | undefined {
  const [baseMap, setBaseMap] = useState<BaseMap>();
  useEffect(() => {
    const stop = whenIdle(() => {
      loadBaseMap().then(setBaseMap, () => undefined);
    });
    return stop;
  }, []);
  return baseMap;
}

const LONGEST_WAIT_MS = 2000;
const WAIT_WITHOUT_IDLE_MS = 300;

/** Not every browser tells when it is idle. */
function whenIdle(task: () => void): () => void {
  if (!('requestIdleCallback' in globalThis)) {
    const timer = setTimeout(task, WAIT_WITHOUT_IDLE_MS);
    return () => clearTimeout(timer);
  }
  const handle = requestIdleCallback(task, { timeout: LONGEST_WAIT_MS });
  return () => cancelIdleCallback(handle);
}

/** Puts the map over the drawing when WebGL and the library are there; the drawing stays when they are not. */
function useMap(
  holder: { current: HTMLDivElement | null },
  brief: Brief,
  baseMap: BaseMap | undefined,
): boolean {
  const [hasMap, setHasMap] = useState(false);
  useEffect(() => {
    if (baseMap === undefined || holder.current === null || !canDrawMaps()) return;
    let map: MapPlan | undefined;
    let isGone = false;
    let stopFollowing = () => {};
    const element = holder.current;
    const start = async () => {
      const { openMap } = await import('./map-plan.ts');
      if (isGone) return;
      map = openMap({
        element,
        brief,
        baseMap,
        onReady: () => setHasMap(true),
        onLost: () => setHasMap(false),
      });
      const shown = map;
      stopFollowing = effect(() => shown.show(consideredFt.value, cursorNm.value));
    };
    start().catch(() => setHasMap(false));
    return () => {
      isGone = true;
      stopFollowing();
      map?.close();
      setHasMap(false);
    };
  }, [brief, baseMap]);
  return hasMap;
}

function canDrawMaps(): boolean {
  return document.createElement('canvas').getContext('webgl2') !== null;
}
