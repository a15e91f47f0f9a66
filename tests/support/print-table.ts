/** Tables of figures for whoever reads the run, in the form the README takes. */

/**
 * Writes a Markdown table to standard output.
 *
 * @param title  One line above it.
 * @param head   Column names.
 * @param rows   As many words as there are columns.
 */
export function printTable(
  title: string,
  head: readonly string[],
  rows: readonly (readonly (string | number)[])[],
): void {
  const line = (words: readonly (string | number)[]) => `| ${words.join(' | ')} |\n`;
  const rule = line(head.map(() => '---'));
  process.stdout.write(`\n${title}\n\n${line(head)}${rule}${rows.map(line).join('')}`);
}

/** A number to the given decimals; a dash where a score has no value. */
export function figure(value: number, decimals = 2): string {
  return Number.isFinite(value) ? value.toFixed(decimals) : '–';
}

/** Both ends of an interval. */
export function span({ low, high }: { readonly low: number; readonly high: number }, decimals = 2): string {
  return `${figure(low, decimals)} to ${figure(high, decimals)}`;
}
