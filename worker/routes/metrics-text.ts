/** Metrics as OpenMetrics text, version 1.0.0. Pure. */

/** One measured value with what it is of. Infinite where it cannot be told how old something is. */
export interface Sample {
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

/** A gauge with all its samples. */
export interface Gauge {
  /** Small letters, figures and underlines; ends with the unit where there is one. */
  readonly name: string;
  readonly unit?: 'seconds';
  readonly help: string;
  readonly samples: readonly Sample[];
}

export const METRICS_TYPE = 'application/openmetrics-text; version=1.0.0; charset=utf-8';
const LONGEST_LABEL = 120;

/** A family is described once, before its samples; the text ends with its mark, so that a cut one shows. */
export function metricsText(gauges: readonly Gauge[]): string {
  return `${gauges.flatMap(family).join('\n')}\n# EOF\n`;
}

function family({ name, unit, help, samples }: Gauge): string[] {
  return [
    `# TYPE ${name} gauge`,
    ...(unit === undefined ? [] : [`# UNIT ${name} ${unit}`]),
    `# HELP ${name} ${escaped(help)}`,
    ...samples.map(({ labels, value }) => `${name}${labelText(labels)} ${numberText(value)}`),
  ];
}

function labelText(labels: Sample['labels']): string {
  const pairs = Object.entries(labels).map(
    ([name, value]) => `${name}="${escaped(value.slice(0, LONGEST_LABEL))}"`,
  );
  return pairs.length === 0 ? '' : `{${pairs.join(',')}}`;
}

const escaped = (text: string) =>
  text.replaceAll('\\', '\\\\').replaceAll('"', '\\"').replaceAll('\n', '\\n');

function numberText(value: number): string {
  if (Number.isNaN(value)) return 'NaN';
  return Number.isFinite(value) ? String(value) : value > 0 ? '+Inf' : '-Inf';
}
