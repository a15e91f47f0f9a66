/** Texts that hold METAR, TAF, pilot reports and warnings in any mixture: each line goes to the reader of its kind. */
import { readHeading, startsReport } from './aerodrome-reports/bulletin-lines.ts';
import { AIREP_START } from './pilot-reports/airep.ts';
import { PIREP_START } from './pilot-reports/pirep.ts';

export type ReportKind = 'aerodrome-reports' | 'pilot-reports' | 'warnings';

/** By the first two letters of TTAAii; WMO-No. 386, part II, table A. */
const HEADINGS: ReadonlyMap<string, ReportKind> = new Map([
  ...['SA', 'SP', 'FT', 'FC'].map((letters) => [letters, 'aerodrome-reports'] as const),
  ...['UA', 'UB'].map((letters) => [letters, 'pilot-reports'] as const),
  ...['WA', 'WC', 'WS', 'WV'].map((letters) => [letters, 'warnings'] as const),
]);
/** The heading may have its first line behind it. */
const HEADING = /^[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}(?: [A-Z]{3})?/;
/** The code before METAR names its station first, which may be ARP. */
const SURFACE_AIRWAYS = /^[A-Z]{3} S[AP] \d{4}(?: |$)/;
const WARNING_START =
  /^(?:[A-Z]{4} )?(?:CONVECTIVE |CANCEL )?(?:SIGMET|AIRMET)(?![A-Z])|^[A-Z]{3,4} (?:WA|WS|UWS|WST) \d{6}(?!\d)/;

/**
 * @param text  plain text; pieces end at line ends and equals signs, and go on in the kind of the piece before.
 * @returns     the text of each kind that begins somewhere, with the lines of the others empty: lines keep their
 *              numbers. Together they hold every piece once; what stands before the first goes with it.
 */
export function partsOfReports(text: string): ReadonlyMap<ReportKind, string> {
  const pieces = piecesOf(text);
  const kinds = [...new Set(pieces.flatMap(({ kind }) => (kind === undefined ? [] : [kind])))];
  const parts = new Map<ReportKind, string[]>(kinds.map((kind) => [kind, []]));
  let current = kinds[0];
  for (const { piece, kind } of pieces) {
    current = kind ?? current;
    for (const [each, texts] of parts) texts.push(each === current ? piece : lineEndOf(piece));
  }
  return new Map([...parts].map(([kind, texts]) => [kind, texts.join('')]));
}

interface Piece {
  readonly piece: string;
  /** undefined for a piece that goes on with the one before. */
  readonly kind: ReportKind | undefined;
}

function piecesOf(text: string): Piece[] {
  let isAfterEnd = true;
  return text.split(/(?<=[\n=])/).map((piece) => {
    // Blanks before a line mean that it goes on, unless the message before it has ended.
    const kind = kindAt(piece, !isAfterEnd && /^[ \t]/.test(piece));
    if (piece.trim() !== '') isAfterEnd = piece.trimEnd().endsWith('=');
    return { piece, kind };
  });
}

const lineEndOf = (piece: string) => (piece.endsWith('\n') ? '\n' : '');

function kindAt(piece: string, isIndented: boolean): ReportKind | undefined {
  const words = piece.replace(/\s+/g, ' ').trim().toUpperCase();
  const heading = HEADING.exec(words)?.[0];
  const headed = heading === undefined ? undefined : readHeading(heading);
  if (headed !== undefined) return HEADINGS.get(headed.designator.slice(0, 2));
  if (SURFACE_AIRWAYS.test(words)) return 'aerodrome-reports';
  if (WARNING_START.test(words)) return 'warnings';
  if (PIREP_START.test(words) || AIREP_START.test(words)) return 'pilot-reports';
  return startsReport(words, isIndented) ? 'aerodrome-reports' : undefined;
}
