/** Which rows the altitude table has, and what is said of the candidates that get none. */
import type { Candidate } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { STANDING_WORDS } from '../words.ts';

export type TableRow =
  | { readonly kind: 'candidate'; readonly candidate: Candidate; readonly isStepped: boolean }
  /** Neighbors that cannot be flown for one reason. */
  | {
      readonly kind: 'run';
      readonly upperFt: number;
      readonly lowerFt: number;
      readonly standing: Candidate['standing'];
    };

/** A run shorter than this keeps its rows. */
const LEAST_RUN = 2;

/** Plain rows: what cannot be flown is said once a run. @param candidates  Highest first. */
export function gatheredRows(candidates: readonly Candidate[]): TableRow[] {
  const rows: TableRow[] = [];
  let run: Candidate[] = [];
  const close = () => {
    if (run.length >= LEAST_RUN) rows.push(runOf(run));
    else rows.push(...run.map(rowOf));
    run = [];
  };
  for (const candidate of candidates) {
    if (run.length > 0 && run[0]!.standing !== candidate.standing) close();
    if (candidate.exposure === null) run.push(candidate);
    else rows.push(rowOf(candidate));
  }
  close();
  return rows;
}

export function rowOf(candidate: Candidate): TableRow {
  return { kind: 'candidate', candidate, isStepped: candidate.profile.length > 1 };
}

function runOf(run: readonly Candidate[]): TableRow {
  return {
    kind: 'run',
    upperFt: run[0]!.altitudeFt,
    lowerFt: run.at(-1)!.altitudeFt,
    standing: run[0]!.standing,
  };
}

/** "Not shown: 21,000 to 25,000 ft, the leg is too short to climb there"; '' when all are. */
export function notShownWords(hidden: readonly Candidate[]): string {
  if (hidden.length === 0) return '';
  const parts = gatheredRows(hidden).map((row) =>
    row.kind === 'run'
      ? `${feetText(row.lowerFt)} to ${feetText(row.upperFt)} ft, ${STANDING_WORDS[row.standing]}`
      : `${feetText(row.candidate.altitudeFt)} ft, ${STANDING_WORDS[row.candidate.standing]}`,
  );
  return `Not shown: ${parts.join('; ')}`;
}
