/** Parts a PIREP into the elements of FAA Form 7110-2: /OV /TM /FL /TP /SK /WX /TA /WV /TB /IC /RM. */

export type ElementCode = 'OV' | 'TM' | 'FL' | 'TP' | 'SK' | 'WX' | 'TA' | 'WV' | 'TB' | 'IC' | 'RM';

export interface PirepElements {
  /** Text before the first element. */
  readonly head: string;
  /** Text of each element that is there, without its code; several of one code are in order. */
  readonly texts: ReadonlyMap<ElementCode, readonly string[]>;
  /** Elements typed after the remarks: they are part of the remarks' text too. */
  readonly afterRemarks: ReadonlyMap<ElementCode, string>;
}

/**
 * A code counts only after a solidus, and only where it is not the start of a word of its own: layers of /SK are parted
 * by a solidus as well (`/OVC100`, `/ SKC`), and remarks hold words as `/TAIL`. Blanks may be missing (`/ICLGT`), and
 * icing may be spelled out (`/ICE`, `/ICING`).
 */
const ELEMENT = new RegExp(
  '(?:/ ?)+(' +
    [
      'OV(?!C(?:\\d|[ /-]|UNKN|$))',
      'TM(?= ?\\d| UNKN|UNKN| ?/| ?$)',
      'FL(?= ?\\d|.?UNKN|.?DUR| ?SFC| ?/| ?$)',
      'TP',
      'SK(?!C\\b)',
      'WX',
      'TA(?= |[-+MP]?\\d|UNKN|/|$)',
      'WV',
      'TB',
      'IC',
      'RM',
    ].join('|') +
    ')(?:(?<=IC)(?:E|G|ING)(?![A-Z]))?',
  'g',
);

/** @param report  One line of upper-case words. Never throws. */
export function pirepElements(report: string): PirepElements {
  const starts = [...report.matchAll(ELEMENT)];
  const texts = new Map<ElementCode, string[]>();
  const afterRemarks = new Map<ElementCode, string>();
  let isAfterRemarks = false;
  for (const [index, match] of starts.entries()) {
    const code = match[1] as ElementCode;
    const from = match.index + match[0].length;
    const to = starts[index + 1]?.index ?? report.length;
    const text = report.slice(from, to).trim();
    if (isAfterRemarks) {
      if (!afterRemarks.has(code)) afterRemarks.set(code, text);
      continue;
    }
    if (code === 'RM') {
      isAfterRemarks = true;
      texts.set('RM', [report.slice(from).trim()]);
    } else {
      texts.set(code, [...(texts.get(code) ?? []), text]);
    }
  }
  return { head: report.slice(0, starts[0]?.index ?? report.length).trim(), texts, afterRemarks };
}
