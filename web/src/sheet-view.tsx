/** The sheet: cross-section, table, strips and readout on their two shared axes. */
import { useRef } from 'preact/hooks';
import type { Brief } from './contract.ts';
import { ReadoutPanel } from './readout/readout.tsx';
import { PRINT_WIDTH_PX, printLayout, sheetLayout } from './section/layout.ts';
import { Legend } from './section/legend.tsx';
import { altitudeRange, makeSheet } from './section/scales.ts';
import { Section } from './section/section.tsx';
import { isPrinting } from './state.ts';
import { Strips } from './strips/strips.tsx';
import { AltitudeTable } from './table/altitude-table.tsx';
import { useElementWidth } from './use-element-width.ts';

export function SheetView({ brief }: { readonly brief: Brief }) {
  const element = useRef<HTMLDivElement>(null);
  const measuredPx = useElementWidth(element);
  const widthPx = isPrinting.value ? PRINT_WIDTH_PX : measuredPx;
  return (
    <div class="sheet" ref={element}>
      {widthPx > 0 && <SheetParts brief={brief} widthPx={widthPx} />}
    </div>
  );
}

function SheetParts({ brief, widthPx }: { readonly brief: Brief; readonly widthPx: number }) {
  const range = altitudeRange(brief);
  const rowCount = (range.highestFt - range.lowestFt) / range.stepFt;
  const layout = isPrinting.value ? printLayout(rowCount) : sheetLayout(widthPx, rowCount);
  const tablePx = layout.isSideBySide ? tableWidthPx(widthPx) : widthPx;
  const sheet = makeSheet({
    widthPx: layout.isSideBySide ? widthPx - tablePx : widthPx,
    rowPx: layout.rowPx,
    textScale: layout.textScale,
    range,
    lengthNm: brief.brief.leg.distanceNm,
    margins: layout.margins,
  });
  return (
    <div
      class={layout.isSideBySide ? 'sheet-parts sheet-side-by-side' : 'sheet-parts'}
      style={{
        '--text-scale': layout.textScale,
        ...(layout.isSideBySide ? { gridTemplateColumns: `${sheet.widthPx}px ${tablePx}px` } : {}),
      }}
    >
      <div class="sheet-section">
        <Section brief={brief} sheet={sheet} />
      </div>
      <div class="sheet-table">
        <AltitudeTable brief={brief.brief} sheet={sheet} isLevel={layout.isSideBySide} />
      </div>
      <div class="sheet-strips">
        <Strips brief={brief} sheet={sheet} />
      </div>
      <div class="sheet-readout">
        <ReadoutPanel brief={brief} />
      </div>
      <div class="sheet-legend">
        <Legend />
      </div>
    </div>
  );
}

function tableWidthPx(sheetWidthPx: number): number {
  if (sheetWidthPx < 900) return 352;
  if (sheetWidthPx < 1150) return 440;
  return sheetWidthPx < 1700 ? 560 : 640;
}
