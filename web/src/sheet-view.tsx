/** The sheet: cross-section, table, strips and readout on their two shared axes. */
import { useRef } from 'preact/hooks';
import type { Brief } from './contract.ts';
import { DepartureChips } from './later/departure-chips.tsx';
import { COLUMN_PX, DeparturesPanel } from './later/departures-panel.tsx';
import { NextPicture } from './next-picture.tsx';
import { ReadoutPanel } from './readout/readout.tsx';
import { PRINT_WIDTH_PX, printLayout, sheetLayout } from './section/layout.ts';
import { Legend } from './section/legend.tsx';
import { altitudeRange, makeSheet } from './section/scales.ts';
import { Section } from './section/section.tsx';
import { isPrinting, isTouched } from './state.ts';
import { Strips } from './strips/strips.tsx';
import { AltitudeTable } from './table/altitude-table.tsx';
import { tablePlace } from './table/columns.ts';
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
  const layout = isPrinting.value ? printLayout(rowCount) : sheetLayout(widthPx, rowCount, isTouched.value);
  const table = tablePlace(widthPx, layout.isSideBySide);
  const laterPx = layout.isSideBySide ? laterWidthPx(brief, widthPx) : 0;
  const sheet = makeSheet({
    widthPx: layout.isSideBySide ? widthPx - table.widthPx - laterPx : widthPx,
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
        ...(layout.isSideBySide
          ? { gridTemplateColumns: `${sheet.widthPx}px ${table.widthPx}px ${laterPx}px` }
          : {}),
      }}
    >
      {laterPx === 0 && (
        <div class="sheet-chips">
          <DepartureChips brief={brief.brief} />
        </div>
      )}
      <div class="sheet-section">
        <Section brief={brief} sheet={sheet} />
      </div>
      <div class="sheet-table">
        <NextPicture>
          <AltitudeTable brief={brief.brief} sheet={sheet} place={table} />
        </NextPicture>
      </div>
      {laterPx > 0 && (
        <div class="sheet-later">
          <NextPicture>
            <DeparturesPanel brief={brief.brief} sheet={sheet} />
          </NextPicture>
        </div>
      )}
      <div class="sheet-strips">
        <NextPicture>
          <Strips brief={brief} sheet={sheet} />
        </NextPicture>
      </div>
      <div class="sheet-readout">
        <NextPicture>
          <ReadoutPanel brief={brief} reach={table.reach} />
        </NextPicture>
      </div>
      <div class="sheet-legend">
        <NextPicture>
          <Legend />
        </NextPicture>
      </div>
    </div>
  );
}

/** Narrower, the columns of later departures would press the cross-section: they are chips then. */
const LEAST_WITH_LATER_PX = 1180;
const LATER_MARGIN_PX = 14;

/** 0 where there is no room, or nothing to show. */
function laterWidthPx({ brief: { departures } }: Brief, sheetWidthPx: number): number {
  if (departures.length === 0 || sheetWidthPx < LEAST_WITH_LATER_PX) return 0;
  return departures.length * COLUMN_PX + LATER_MARGIN_PX;
}
