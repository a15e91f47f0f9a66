/**
 * What a pilot's report says beside ice that was met: none met, cloud, temperature. Facts to be read beside the picture;
 * nothing here ever raises or lowers anything.
 */
import {
  type AltitudeBand,
  isNullIcing,
  type PilotReport,
  type ReportLevel,
} from '../../formats/pilot-reports/report.ts';
import { cFromK } from '../../science/units.ts';
import type { PilotSaid, SaidCloud } from '../reports.ts';
import { bandWords, rangeWords } from './band-words.ts';
import { clockWords } from './make-report.ts';

/**
 * @param metIce  The report tells of ice or freezing precipitation somewhere: it cannot say that none was met.
 * @returns       undefined for a report that says nothing of the kind, and for one without a time: nobody can tell its age.
 * @checked       tests/sources/report-facts/pilot-said.test.ts
 */
export function pilotSaid(report: PilotReport, metIce: boolean): PilotSaid | undefined {
  const { timeMs, temperatureK } = report;
  if (timeMs === undefined) return undefined;
  const noIce = !metIce && isNullIcing(report);
  const clouds = cloudsOf(report);
  if (!noIce && clouds.length === 0 && temperatureK === undefined) return undefined;
  const band = noIce ? nullBand(report) : report.level;
  const pieces = [
    ...(noIce ? [`no ice met${bandWords(band)}`] : []),
    ...clouds.flatMap(cloudPieces),
    ...(temperatureK === undefined ? [] : [`${Math.round(cFromK(temperatureK))} °C`]),
  ];
  return {
    noIce,
    ...edgesOf(band),
    clouds,
    temperatureK,
    sentence: `Pilot report at ${clockWords(timeMs)}: ${fewWords(pieces).join(', ')}`,
  };
}

/** Layers with a height, the highest first. What the amount was is left to the text. */
function cloudsOf({ sky }: PilotReport): SaidCloud[] {
  if (sky.kind !== 'reported') return [];
  const heightFt = ({ base, top }: SaidCloud) => (top ?? base)!.upperFt;
  return sky.layers
    .map(({ base, top }) => ({ base, top }))
    .filter(({ base, top }) => base !== undefined || top !== undefined)
    .toSorted((a, b) => heightFt(b) - heightFt(a));
}

function cloudPieces({ base, top }: SaidCloud): string[] {
  return [
    ...(top === undefined ? [] : [`tops ${rangeWords(top)} ft`]),
    ...(base === undefined ? [] : [`bases ${rangeWords(base)} ft`]),
  ];
}

/** Where no ice was met: of one layer as stated, of several only what the report itself flew at. */
function nullBand({ icing, level }: PilotReport): AltitudeBand | ReportLevel {
  if (icing.kind !== 'reported' || icing.layers.length !== 1) return level;
  return icing.layers[0]!.band;
}

function edgesOf(band: AltitudeBand | ReportLevel): Pick<PilotSaid, 'lowerFt' | 'upperFt'> {
  if (band.kind === 'altitude') return { lowerFt: band.altitudeFt, upperFt: band.altitudeFt };
  return {
    lowerFt: 'lowerFt' in band ? band.lowerFt : undefined,
    upperFt: 'upperFt' in band ? band.upperFt : undefined,
  };
}

/** With the five words before them a sentence of fewer than 14. */
const MOST_WORDS = 8;

/** The first of them, as many as there is room for; the values beside the sentence hold the rest. */
function fewWords(pieces: readonly string[]): string[] {
  let words = 0;
  return pieces.filter((piece) => {
    words += piece.split(' ').length;
    return words <= MOST_WORDS;
  });
}
