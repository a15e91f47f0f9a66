/** Texts of warnings: SIGMET and AIRMET in the form of ICAO and in the bulletins of the United States, in any mixture. */
import {
  type BulletinLine,
  type BulletinMessage,
  bulletinMessages,
  quoted,
  type RefusedText,
} from '../pilot-reports/bulletin.ts';
import { bulletinTimeMs } from '../pilot-reports/instants.ts';
import { ICAO_START, readIcaoWarning, type WarningContext } from './icao-warning.ts';
import { readUsWarnings, US_ISSUE, US_START, type UsIssue } from './us-warning.ts';
import { dayGroupMs } from './validity.ts';
import type { Warning } from './warning.ts';

/** The longest bulletins have some thousand characters; a longer text has lost its ends. */
const LONGEST_MESSAGE = 20_000;

/**
 * Reads every warning of a text, in order. A message ends at an equals sign or a heading; its month and year are the
 * nearest to `context.referenceMs`, by the day of the heading where there is one.
 *
 * Never throws. Every line that is not blank is a heading, part of a warning or part of a refusal.
 *
 * @checked tests/formats/warnings/read-warnings.test.ts
 */
export function* readWarnings(text: string, context: WarningContext): Generator<Warning | RefusedText> {
  for (const message of bulletinMessages(text)) yield* warningsOf(message, context);
}

function* warningsOf(
  { lines, heading }: BulletinMessage,
  around: WarningContext,
): Generator<Warning | RefusedText> {
  const referenceMs = bulletinTimeMs(heading, around.referenceMs);
  const context = { ...around, referenceMs };
  const { text, lineAt } = oneLine(lines);
  if (text.length > LONGEST_MESSAGE) {
    const reason = `warning: found ${text.length} characters, expected at most ${LONGEST_MESSAGE}`;
    yield { kind: 'refused', line: lineAt(0), text, reason };
    return;
  }
  const starts = startsIn(text);
  const head = text.slice(0, starts[0]?.index ?? text.length);
  const issue = issueOf(head, heading === undefined ? undefined : referenceMs, referenceMs);
  const stray = head
    .replace(US_ISSUE, ' ')
    .replace(/\bSIG[ECW]\b|[. ]+/g, ' ')
    .trim();
  if (stray !== '' || starts.length === 0) yield refuse(starts.length === 0 ? text : stray, lineAt(0));
  for (const [place, { index, style }] of starts.entries()) {
    const piece = text.slice(index, starts[place + 1]?.index ?? text.length).trim();
    if (style === 'icao') yield readIcaoWarning(piece, lineAt(index), context);
    else yield* readUsWarnings(piece, (offset) => lineAt(index + offset), issue, context);
  }
}

function refuse(text: string, line: number): RefusedText {
  return { kind: 'refused', line, text, reason: reasonOf(text) };
}

/** A group of times that is none is named; else what stands where a warning should. */
function reasonOf(text: string): string {
  const times =
    /\b(?:SIGMET|AIRMET) (?:[A-Z]{0,8} ?\d{0,3}) ?VALID ((?!UNTIL)[\w/-]+(?: ?[/-]? ?\d[\w/-]*)?)/.exec(text);
  if (times !== null) {
    return `validity: found ${quoted(times[1]!)}, expected two groups of day, hour and minute, as 141300/141700`;
  }
  const isNone = /SIGMET ?\.{2,4} ?NONE|NO SIG/.test(text);
  const expected = isNone ? 'a warning; this text says that there is none' : 'SIGMET or AIRMET with VALID';
  return `warning: found ${quoted(text)}, expected ${expected}`;
}

function startsIn(text: string): { readonly index: number; readonly style: 'icao' | 'us' }[] {
  const icao = [...text.matchAll(ICAO_START)].map(({ index }) => ({ index, style: 'icao' as const }));
  const us = [...text.matchAll(US_START)].map(({ index }) => ({ index, style: 'us' as const }));
  return [...icao, ...us].sort((a, b) => a.index - b.index);
}

function issueOf(head: string, headingMs: number | undefined, referenceMs: number): UsIssue {
  const match = US_ISSUE.exec(head);
  const issuedMs = match === null ? undefined : dayGroupMs(match[2]!, referenceMs);
  return { office: match?.[1], issuedMs: issuedMs ?? headingMs };
}

/** The lines as one, and the line of the input that holds an offset of it. */
function oneLine(lines: readonly BulletinLine[]): { text: string; lineAt: (offset: number) => number } {
  let text = '';
  const ends: { readonly end: number; readonly line: number }[] = [];
  for (const { text: content, line } of lines) {
    text += `${text === '' ? '' : ' '}${content.replace(/\s+/g, ' ').trim()}`;
    ends.push({ end: text.length, line });
  }
  const lineAt = (offset: number) => ends.find(({ end }) => offset < end)?.line ?? ends.at(-1)?.line ?? 1;
  return { text, lineAt };
}
