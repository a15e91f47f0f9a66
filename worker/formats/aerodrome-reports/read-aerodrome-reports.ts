/** METAR, SPECI and TAF from bulletins, files or single texts: every report is read, or refused with its reason. */
import { plainText } from '../plain-text.ts';
import type { Heading } from './bulletin-lines.ts';
import { readMetar } from './read-metar.ts';
import { readTaf } from './read-taf.ts';
import type { AerodromeReport } from './report.ts';
import { createBulletinSplitter, type Place, type RawReport } from './split-bulletins.ts';

/** What the reports do not say themselves. */
export interface ReportContext {
  /** Epoch ms UTC. The codes give the day of the month: month and year are taken so that the report lies nearest to this. */
  readonly nearMs: number;
}

export type AerodromeItem =
  | {
      readonly kind: 'report';
      readonly report: AerodromeReport;
      readonly place: Place;
      /** Undefined for a report outside a bulletin. */
      readonly heading: Heading | undefined;
    }
  | { readonly kind: 'refused'; readonly reason: string; readonly text: string; readonly place: Place };

export interface AerodromeReader {
  /**
   * Takes the next stretch of the file; gives what it has ended. Bytes are read as Latin-1, one character each; of a
   * string dashes and blanks are made plain.
   */
  push(chunk: Uint8Array | string): AerodromeItem[];
  /** To be called once at the end; gives what was open. */
  end(): AerodromeItem[];
}

/**
 * Holds one report at a time, so that a day's collective can stream through. Never throws. The places of the items,
 * and the envelope between them (control characters, numbers, headings, code lines), cover the input without overlap.
 */
export function createAerodromeReader(context: ReportContext): AerodromeReader {
  const splitter = createBulletinSplitter();
  const itemsOf = (raws: RawReport[]) => raws.map((raw) => readReport(raw, context));
  return {
    push: (chunk) => itemsOf(splitter.push(typeof chunk === 'string' ? plainText(chunk) : latin1(chunk))),
    end: () => itemsOf(splitter.end()),
  };
}

/** Reads a whole text; the rules are createAerodromeReader's. */
export function readAerodromeText(text: string, context: ReportContext): AerodromeItem[] {
  const reader = createAerodromeReader(context);
  return [...reader.push(text), ...reader.end()];
}

function readReport(raw: RawReport, { nearMs }: ReportContext): AerodromeItem {
  const { place, heading } = raw;
  const refusal = refusalOf(raw);
  if (refusal !== undefined) return { kind: 'refused', reason: refusal, text: raw.text, place };
  const result = isForecast(raw) ? readTaf(raw, nearMs) : readMetar(raw, nearMs);
  if (result.kind === 'refused') return { kind: 'refused', reason: result.reason, text: raw.text, place };
  return { kind: 'report', report: result.report, place, heading };
}

/** Why a text is not even tried. */
function refusalOf({ isCutOff, text, code, heading }: RawReport): string | undefined {
  if (isCutOff) return 'report: found more than 8192 characters without an end, expected an equals sign';
  if (text === 'NIL') return 'bulletin: found NIL, no reports were sent';
  if (code === undefined && heading !== undefined) {
    return `bulletin: found ${heading.designator}, expected SA, SP, FT or FC, or reports that name their code`;
  }
  return undefined;
}

/** By name; a nameless text outside bulletins is a forecast when it has a period where a forecast has it. */
function isForecast({ code, groups }: RawReport): boolean {
  if (code !== undefined) return code === 'TAF';
  return groups.slice(1, 4).some((group) => /^\d{4}\/\d{4}$/.test(group));
}

const CHUNK_BYTES = 8192;

function latin1(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
    text += String.fromCharCode(...bytes.subarray(at, at + CHUNK_BYTES));
  }
  return text;
}
