/** Thin strips under the cross-section, on its distance axis, for the altitude being considered. */

import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { legAircraft } from '../aircraft-of-leg.ts';
import { placeCursorAt } from '../consider.ts';
import { levelAtFt, levelsText, waysOf } from '../considered.ts';
import type { Brief } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { rectPath } from '../section/paint.tsx';
import type { Sheet } from '../section/scales.ts';
import { cursorNm, followingCandidate, followingConsidered } from '../state.ts';
import { altitudeOverFt } from '../table/path-pieces.ts';
import { unitText } from '../units.ts';
import type { CellStripProps } from './cell-strip.ts';
import { FluidStrip } from './fluid-strip.tsx';
import { GrowthStrip } from './growth-strip.tsx';
import { TemperatureStrip } from './temperature-strip.tsx';
import { WayOutStrip } from './way-out-strip.tsx';
import { WindStrip } from './wind-strip.tsx';

interface StripsProps {
  readonly brief: Brief;
  readonly sheet: Sheet;
}

export function Strips({ brief, sheet }: StripsProps) {
  const { curtain, leg, limits } = brief.brief;
  const candidate = followingCandidate.value;
  const { altitudeFt } = followingConsidered.value;
  const at = `at ${candidate === undefined ? feetText(altitudeFt) : levelsText(candidate)} ft`;
  const isFlown = candidate !== undefined && candidate.exposure !== null;
  const flownFt = candidate?.flownFt ?? null;
  const distancesNm = leg.points.map(({ distanceNm }) => distanceNm);
  const levelFt = (nm: number) => (candidate === undefined ? altitudeFt : levelAtFt(candidate, nm));
  const altitudeAtFt = (nm: number) =>
    flownFt === null ? levelFt(nm) : altitudeOverFt(distancesNm, flownFt, nm);
  return (
    <section class="strips" aria-label="Along the leg">
      <Strip title={`Way out ${at}`} heightPx={30} sheet={sheet}>
        <WayOutStrip
          ways={waysOf(candidate, leg.points)}
          air={{ points: leg.points, curtain }}
          none={isFlown ? 'unknown' : 'not flown'}
          sheet={sheet}
          heightPx={30}
        />
      </Strip>
      {(candidate?.fluidPlan != null || limits.fluidOnBoardL !== null) && (
        <Strip
          title={`Fluid left ${at}, ${unitText('L')}, before the hold; barred: on`}
          heightPx={46}
          sheet={sheet}
        >
          <FluidStrip
            brief={brief.brief}
            candidate={candidate}
            aircraft={legAircraft.value}
            sheet={sheet}
            heightPx={46}
          />
        </Strip>
      )}
      {curtain === undefined ? (
        <p class="strip-note">This answer carries no values along the leg.</p>
      ) : (
        <CellStrips
          curtain={curtain}
          altitudeAtFt={altitudeAtFt}
          sheet={sheet}
          at={flownFt === null ? at : `on the path ${at}`}
        />
      )}
    </section>
  );
}

interface CellStripsProps extends Omit<CellStripProps, 'heightPx'> {
  readonly at: string;
}

function CellStrips({ at, ...cells }: CellStripsProps) {
  const { sheet } = cells;
  return (
    <>
      <Strip title={`Growth ${at}, ${unitText('mm/min')} if in ice`} heightPx={46} sheet={sheet}>
        <GrowthStrip {...cells} heightPx={46} />
      </Strip>
      <Strip title={`Temperature ${at}, °C static`} heightPx={40} sheet={sheet}>
        <TemperatureStrip {...cells} heightPx={40} />
      </Strip>
      <Strip title={`Wind ${at}, kt`} heightPx={40} sheet={sheet}>
        <WindStrip {...cells} heightPx={40} />
      </Strip>
    </>
  );
}

interface StripProps {
  readonly title: string;
  readonly heightPx: number;
  readonly sheet: Sheet;
  readonly children: ComponentChildren;
}

function Strip({ title, heightPx, sheet, children }: StripProps) {
  const isDragging = useRef(false);
  const { left, right } = sheet.plot;
  const place = (event: MouseEvent) => {
    const box = (event.currentTarget as Element).getBoundingClientRect();
    placeCursorAt(sheet.nmAt(event.clientX - box.left));
  };
  return (
    <figure class="strip">
      <figcaption style={{ '--plot-left': `${left}px` }}>{title}</figcaption>
      <svg
        width={sheet.widthPx}
        height={heightPx}
        viewBox={`0 0 ${sheet.widthPx} ${heightPx}`}
        role="img"
        aria-label={title}
        onPointerDown={(event) => {
          isDragging.current = true;
          (event.currentTarget as Element).setPointerCapture(event.pointerId);
          place(event);
        }}
        onPointerMove={(event) => {
          if (isDragging.current) place(event);
        }}
        onPointerUp={() => (isDragging.current = false)}
        onPointerCancel={() => (isDragging.current = false)}
      >
        <path class="strip-paper" d={rectPath(left, 0, right, heightPx)} />
        {children}
        <path class="strip-edge" d={rectPath(left, 0.5, right, heightPx - 0.5)} />
        <path class="cursor-distance" d={`M${sheet.x(cursorNm.value)} 0V${heightPx}`} />
      </svg>
    </figure>
  );
}
