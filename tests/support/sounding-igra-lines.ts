/** One small IGRA ascent, line by line, to be spoiled in tests. Composed from the format description, but for AT_677. */
export const HEADER = '#ZZM00099999 2024 01 15 12 1105    4 test-src           447500  -852500';
export const SURFACE = '21 -9999  98700B  197B  -21B-9999    12    60    41';
export const AT_925 = '10 -9999  92500B  722B  -49B-9999     5    80    98';
export const AT_850 = '10 -9999  85000B 1398B   13B-9999    30   150   154';
/** A published record, looked up. */
export const AT_677 = '20 -9999  67700 -9999  -311B-9999    22 -9999 -9999';
export const CLEAN = [HEADER, SURFACE, AT_925, AT_850, AT_677];

/** The clean record with some lines put in place of its own. */
export function withLines(replacements: Readonly<Record<number, string>>): string {
  return CLEAN.map((line, index) => replacements[index] ?? line).join('\n');
}

/** The header announcing another count of records. */
export function headerFor(levelCount: number): string {
  return HEADER.replace('    4 test', `${String(levelCount).padStart(5)} test`);
}

/** Puts text into a line from a column (from 1) on. */
export function at(line: string, column: number, text: string): string {
  return line.slice(0, column - 1) + text + line.slice(column - 1 + text.length);
}
