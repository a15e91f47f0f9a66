/** OpenMetrics text read strictly, by the rules of the standard's version 1.0: whatever it does not know is refused. */

export interface ReadSample {
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

const NAME = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const LABEL = '[a-zA-Z_][a-zA-Z0-9_]*="(?:[^"\\\\\\n]|\\\\[\\\\"n])*"';
const SAMPLE = new RegExp(
  `^(${NAME})(?:\\{(${LABEL}(?:,${LABEL})*)\\})? (\\+Inf|-Inf|NaN|-?\\d+(?:\\.\\d+)?(?:e[+-]?\\d+)?)$`,
);
const META = new RegExp(`^# (TYPE|UNIT|HELP) (${NAME}) (.+)$`);

/** Gauges alone. @throws Error with the first line that breaks a rule. */
export function readOpenMetrics(text: string): ReadSample[] {
  if (!text.endsWith('\n# EOF\n')) throw new Error('the text does not end with its mark');
  const lines = text.slice(0, -'# EOF\n'.length).split('\n').slice(0, -1);
  const closed = new Set<string>();
  const samples: ReadSample[] = [];
  const seen = new Set<string>();
  let family = '';
  let isOpen = false;
  for (const line of lines) {
    const meta = META.exec(line);
    const name = meta?.[2] ?? SAMPLE.exec(line)?.[1];
    if (name === undefined) throw new Error(`no line of the standard: ${line}`);
    if (name !== family) {
      if (meta?.[1] !== 'TYPE' || closed.has(name))
        throw new Error(`family begins twice or without type: ${line}`);
      closed.add(family);
      [family, isOpen] = [name, false];
    }
    if (meta !== null) checkMeta(meta, isOpen);
    else {
      isOpen = true;
      const sample = sampleOf(line);
      const key = JSON.stringify([sample.name, Object.entries(sample.labels).sort()]);
      if (seen.has(key)) throw new Error(`sample comes twice: ${line}`);
      seen.add(key);
      samples.push(sample);
    }
  }
  return samples;
}

function checkMeta([line, kind, name, value]: RegExpExecArray, isOpen: boolean): void {
  if (isOpen) throw new Error(`described after its samples: ${line}`);
  if (kind === 'TYPE' && value !== 'gauge') throw new Error(`no gauge: ${line}`);
  if (kind === 'UNIT' && !name!.endsWith(`_${value}`)) throw new Error(`unit is not in the name: ${line}`);
  if (kind === 'HELP' && /(^|[^\\])(\\\\)*\\[^\\n"]/.test(value!)) throw new Error(`odd escape: ${line}`);
}

function sampleOf(line: string): ReadSample {
  const [, name = '', labels = '', value = ''] = SAMPLE.exec(line) ?? [];
  const pairs = [...labels.matchAll(/([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\]|\\.)*)"/g)].map(
    ([, key, written]) => [key!, JSON.parse(`"${written}"`) as string],
  );
  if (new Set(pairs.map(([key]) => key)).size < pairs.length) throw new Error(`label comes twice: ${line}`);
  const number = value.endsWith('Inf') ? Number(value.replace('Inf', 'Infinity')) : Number(value);
  return { name, labels: Object.fromEntries(pairs), value: number };
}
