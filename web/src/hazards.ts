/** Reports and warnings where they hold: over their stretch of the leg and between their heights. */
import { type Brief, type FeatureOf, featuresOf } from './contract.ts';
import { worstFirst } from './plan/report-marks.ts';

export type Hazard = FeatureOf<'report'> | FeatureOf<'warning'>;
type Properties = Hazard['properties'];

const SEVERITY_WORDS: Readonly<Record<Properties['severity'], string>> = {
  unstated: 'ice',
  moderate: 'moderate ice',
  severe: 'severe ice',
  'large-drops': 'large drops',
};

/** The most serious first. */
export function hazardsOf(brief: Brief): Hazard[] {
  return worstFirst<Hazard>([...featuresOf(brief, 'warning'), ...featuresOf(brief, 'report')]);
}

/** Those that hold at a place, their edges included; an edge that nobody stated is none. */
export function hazardsAt(brief: Brief, distanceNm: number, altitudeFt: number): Hazard[] {
  return hazardsOf(brief).filter(({ properties: { fromNm, toNm, lowerFt, upperFt } }) => {
    const isOver = distanceNm >= fromNm && distanceNm <= toNm;
    return isOver && altitudeFt >= (lowerFt ?? -Infinity) && altitudeFt <= (upperFt ?? Infinity);
  });
}

/** The notice that some reports could not be read comes as a warning without a kind. */
export const isUnreadNotice = ({ reportKind }: Pick<Properties, 'reportKind'>) => reportKind === null;

/** "warned of severe ice", "large drops reported": short enough for the drawing. */
export function hazardWords(properties: Pick<Properties, 'kind' | 'reportKind' | 'severity'>): string {
  if (isUnreadNotice(properties)) return 'reports not read';
  const what = SEVERITY_WORDS[properties.severity];
  if (properties.kind === 'warning') return `warning: ${what}`;
  return `${properties.reportKind === 'taf' ? 'forecast' : 'reported'}: ${what}`;
}

/** "reported: SIGMET 2: severe icing", as the readout says it. */
export function hazardSentence({ properties }: Hazard): string {
  return `${isUnreadNotice(properties) ? 'unknown' : 'reported'}: ${properties.sentence}`;
}
