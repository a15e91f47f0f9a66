/** Thin strips under the cross-section, on its distance axis, for the altitude being considered. */
import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { bestAltitudeFt } from '../best-altitude.ts';
import type { Brief, CurtainAnswer } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { rectPath } from '../section/paint.tsx';
import type { Sheet } from '../section/scales.ts';
import { consideredFt, cursorNm } from '../state.ts';
import { GrowthStrip } from './growth-strip.tsx';
import { TemperatureStrip } from './temperature-strip.tsx';
import { WayOutStrip } from './way-out-strip.tsx';
import { WindStrip } from './wind-strip.tsx';

interface StripsProps {
  readonly brief: Brief;
  readonly sheet: Sheet;
}

export function Strips({ brief, sheet }: StripsProps) {
  const { curtain, waysOut } = brief.brief;
  const bestFt = bestAltitudeFt(brief.brief);
  const at = `at ${feetText(consideredFt.value)} ft`;
  /** Ways out are those of the filed altitude, else of the one the sentence speaks of; for another they would mislead. */
  const isBest = bestFt !== undefined && consideredFt.value === bestFt;
  return (
    <section class="strips" aria-label="Along the leg">
      <Strip title={`Way out ${at}`} heightPx={30} sheet={sheet}>
        <WayOutStrip
          ways={isBest ? waysOut : []}
          none={isBest ? 'unknown' : `not worked out ${at}`}
          sheet={sheet}
          heightPx={30}
        />
      </Strip>
      {curtain === undefined ? (
        <p class="strip-note">This answer carries no values along the leg.</p>
      ) : (
        <CellStrips curtain={curtain} sheet={sheet} at={at} />
      )}
    </section>
  );
}

interface CellStripsProps {
  readonly curtain: CurtainAnswer;
  readonly sheet: Sheet;
  readonly at: string;
}

function CellStrips({ curtain, sheet, at }: CellStripsProps) {
  return (
    <>
      <Strip title={`Growth ${at}, mm/min if in ice`} heightPx={46} sheet={sheet}>
        <GrowthStrip curtain={curtain} sheet={sheet} heightPx={46} />
      </Strip>
      <Strip title={`Temperature ${at}, °C static`} heightPx={40} sheet={sheet}>
        <TemperatureStrip curtain={curtain} sheet={sheet} heightPx={40} />
      </Strip>
      <Strip title={`Wind ${at}, kt`} heightPx={40} sheet={sheet}>
        <WindStrip curtain={curtain} sheet={sheet} heightPx={40} />
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
    cursorNm.value = sheet.nmAt(event.clientX - box.left);
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
