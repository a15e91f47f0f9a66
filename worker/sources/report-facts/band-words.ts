/** Altitudes of pilots' reports in words. */
import { withThousands } from '../../flight/words.ts';
import type { AltitudeBand, ReportLevel } from '../../formats/pilot-reports/report.ts';

/** " 8,000 ft", " 6,000-8,000 ft", " below 6,000 ft"; '' for one that nobody states. */
export function bandWords(band: AltitudeBand | ReportLevel): string {
  if (band.kind === 'unknown') return '';
  if (band.kind === 'altitude') return ` ${withThousands(band.altitudeFt)} ft`;
  if (band.kind === 'below') return ` below ${withThousands(band.upperFt)} ft`;
  if (band.kind === 'above') return ` above ${withThousands(band.lowerFt)} ft`;
  return ` ${rangeWords(band)} ft`;
}

/** "9,500", "9,000-10,000". */
export function rangeWords({ lowerFt, upperFt }: { readonly lowerFt: number; readonly upperFt: number }) {
  return lowerFt === upperFt ? withThousands(lowerFt) : `${withThousands(lowerFt)}-${withThousands(upperFt)}`;
}
