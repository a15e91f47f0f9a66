/** The plan view: a drawing at once, a map that can be moved and tilted as soon as one can be had. */
import { effect, type Signal, useSignal } from '@preact/signals';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { levelsText } from '../considered.ts';
import type { BandFeature, Brief, Candidate } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf } from '../look.ts';
import { feetText } from '../numbers.ts';
import { followingCandidate, followingConsidered, followingNm, isPrinting } from '../state.ts';
import { useElementWidth } from '../use-element-width.ts';
import { whenIdle } from '../when-idle.ts';
import { iceWords, stateSentence } from '../words.ts';
import type { Stretch } from './along-leg.ts';
import { BASE_MAP_ATTRIBUTION, type BaseMap, loadBaseMap } from './base-map.ts';
import { canDrawMaps } from './can-draw-maps.ts';
import { positionAt } from './cursor-position.ts';
import { RULE_STEP_FT, wallOf } from './curtain-wall.ts';
import type { MapPlan } from './map-plan.ts';
import { Marks, type Project } from './marks.tsx';
import { type BandPiece, bandPieces, levelsAlong } from './plan-bands.ts';
import { type PlanMark, planMarks } from './plan-marks.ts';
import { planFrame, SvgPlan } from './svg-plan.tsx';
import { WORSE_WITHIN_FT, type WorseStretch, worseAir } from './worse-air.ts';
import { ZoomButtons } from './zoom-buttons.tsx';

const PRINT_WIDTH_PX = 288;
const HEIGHT_PER_WIDTH = 0.62;
const HIGHEST_PX = 560;

/** What the plan view shows of a brief for what is considered. */
function contentOf(brief: Brief, candidate: Candidate | undefined, altitudeFt: number) {
  const { leg, limits } = brief.brief;
  const levels = levelsAlong(candidate, altitudeFt, leg.distanceNm);
  const bands = featuresOf(brief, 'icing-band');
  const corridor = { points: leg.points, halfWidthNm: limits.corridorHalfWidthNm };
  return { levels, pieces: bandPieces(bands, levels, corridor) };
}

export function Plan({ brief }: { readonly brief: Brief }) {
  const element = useRef<HTMLDivElement>(null);
  const measuredPx = useElementWidth(element);
  const widthPx = isPrinting.value ? PRINT_WIDTH_PX : measuredPx;
  const heightPx = Math.round(Math.min(widthPx * HEIGHT_PER_WIDTH, HIGHEST_PX));
  const baseMap = useBaseMap();
  const holder = useRef<HTMLDivElement>(null);
  const { map, moves, isTilted } = useMap(holder, brief, baseMap);
  const { altitudeFt } = followingConsidered.value;
  const candidate = followingCandidate.value;
  const { levels, pieces } = contentOf(brief, candidate, altitudeFt);
  const worse = worseAir(featuresOf(brief, 'icing-band'), levels);
  const levelWords = candidate === undefined ? feetText(altitudeFt) : levelsText(candidate);
  return (
    <section class="plan" aria-labelledby="plan-title">
      <div class="plan-head">
        <h2 id="plan-title">Plan view at {levelWords} ft</h2>
        {map && !isPrinting.value && <MapButtons map={map} isTilted={isTilted} />}
      </div>
      <div
        class={map ? 'plan-frame plan-has-map' : 'plan-frame'}
        ref={element}
        style={{ height: `${heightPx}px` }}
      >
        {widthPx > 0 && (
          <Picture
            brief={brief}
            pieces={pieces}
            marks={planMarks(brief, candidate, levels)}
            baseMap={baseMap}
            size={{ widthPx, heightPx }}
            map={isPrinting.value ? undefined : map}
            moves={moves}
            isTilted={isTilted}
            label={`Plan view of the corridor at ${levelWords} feet; the list after it says the same in words.`}
          />
        )}
        <div class="plan-map" ref={holder} />
        {isTilted.value && map && <WallWords brief={brief} />}
      </div>
      <PlanInWords pieces={pieces} worse={worse} />
      <p class="quiet">{BASE_MAP_ATTRIBUTION}</p>
    </section>
  );
}

interface PictureProps {
  readonly brief: Brief;
  readonly pieces: readonly BandPiece[];
  readonly marks: readonly PlanMark[];
  readonly baseMap: BaseMap | undefined;
  readonly size: { readonly widthPx: number; readonly heightPx: number };
  readonly map: MapPlan | undefined;
  readonly moves: Signal<number>;
  readonly isTilted: Signal<boolean>;
  readonly label: string;
}

function Picture({ brief, pieces, baseMap, size, map, label, ...rest }: PictureProps) {
  const { widthPx, heightPx } = size;
  const frame = useMemo(() => planFrame(brief, widthPx, heightPx), [brief, widthPx, heightPx]);
  const onDrawing: Project = ([lonDeg, latDeg]) => frame.pxOf(lonDeg, latDeg);
  return (
    <>
      <SvgPlan brief={brief} pieces={pieces} baseMap={baseMap} frame={frame} label={label} />
      <MovingMarks
        {...rest}
        brief={brief}
        size={size}
        project={map?.project ?? onDrawing}
        isOnMap={map !== undefined}
      />
    </>
  );
}

type MovingMarksProps = Pick<PictureProps, 'brief' | 'marks' | 'size' | 'moves' | 'isTilted'> & {
  readonly project: Project;
  readonly isOnMap: boolean;
};

/** Drawn again with every move of the map, alone. */
function MovingMarks({ brief, marks, size, project, moves, isTilted, isOnMap }: MovingMarksProps) {
  moves.value;
  const cursor = positionAt(brief.brief.leg.points, followingNm.value);
  return (
    <Marks {...size} marks={marks} cursor={cursor} project={project} isTilted={isOnMap && isTilted.value} />
  );
}

interface MapButtonsProps {
  readonly map: MapPlan;
  readonly isTilted: Signal<boolean>;
}

function MapButtons({ map, isTilted }: MapButtonsProps) {
  return (
    <div class="plan-buttons">
      <ZoomButtons zoomBy={map.zoomBy} />
      <button
        type="button"
        class="plan-tilt"
        aria-pressed={isTilted.value}
        onClick={() => (isTilted.value = !isTilted.value)}
      >
        Tilt
      </button>
    </div>
  );
}
/** Nobody can read a height off the wall without its scale. */
function WallWords({ brief }: { readonly brief: Brief }) {
  const { highestFt, exaggeration } = wallOf(brief);
  return (
    <p class="wall-words">
      To {feetText(highestFt)} ft, lines each {feetText(RULE_STEP_FT)} ft, heights {exaggeration}-fold
    </p>
  );
}

interface PlanInWordsProps {
  readonly pieces: readonly BandPiece[];
  readonly worse: readonly WorseStretch[];
}

function PlanInWords({ pieces, worse }: PlanInWordsProps) {
  return (
    <ol class="for-ears">
      {pieces.map(({ band, fromNm, toNm }) => (
        <li key={`${band.id} ${fromNm}`}>{bandSentence(band, placeWords({ fromNm, toNm }))}</li>
      ))}
      {worse.map((stretch) => (
        <li key={`${stretch.side} ${stretch.fromNm}`}>
          {placeWords(stretch)}: worse within {feetText(WORSE_WITHIN_FT)} ft {stretch.side}, {stretch.inFull}
        </li>
      ))}
    </ol>
  );
}

const placeWords = ({ fromNm, toNm }: Stretch) =>
  `${Math.round(fromNm)} to ${Math.round(toNm)} nautical miles`;

function bandSentence({ properties }: BandFeature, place: string): string {
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

/** Puts the map over the drawing when WebGL and the library are there; the drawing stays when they are not. */
function useMap(
  holder: { current: HTMLDivElement | null },
  brief: Brief,
  baseMap: BaseMap | undefined,
): {
  readonly map: MapPlan | undefined;
  readonly moves: Signal<number>;
  readonly isTilted: Signal<boolean>;
} {
  const [map, setMap] = useState<MapPlan>();
  const moves = useSignal(0);
  const isTilted = useSignal(false);
  useEffect(() => {
    if (baseMap === undefined || holder.current === null || !canDrawMaps()) return;
    const lost = () => setMap(undefined);
    let isGone = false;
    let close = () => {};
    const element = holder.current;
    const start = async () => {
      const { openMap } = await import('./map-plan.ts');
      if (isGone) return;
      const opened = openMap({
        element,
        brief,
        baseMap,
        onReady: () => setMap(opened),
        onLost: lost,
        onMove: () => (moves.value += 1),
      });
      const stopFollowing = [
        effect(() => {
          const { altitudeFt } = followingConsidered.value;
          const content = contentOf(brief, followingCandidate.value, altitudeFt);
          opened.show({ ...content, distanceNm: followingNm.value });
        }),
        effect(() => opened.tilt(isTilted.value)),
      ];
      close = () => {
        for (const stop of stopFollowing) stop();
        opened.close();
      };
    };
    start().catch(lost);
    return () => {
      isGone = true;
      close();
      lost();
    };
  }, [brief, baseMap]);
  return { map, moves, isTilted };
}
