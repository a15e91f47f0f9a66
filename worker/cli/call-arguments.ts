/** Arguments of a call as people type them. */

/** Options whose values may be below zero. */
const SIGNED = new Set(['--lat', '--lon', '--elevation', '--at']);

/** Joins a negative number to the option before it, which would be taken for an option of its own: `--lat -73`. */
export function withSignedValues(args: readonly string[]): string[] {
  const joined: string[] = [];
  for (const argument of args) {
    const isValue = /^-\.?\d/.test(argument) && SIGNED.has(joined.at(-1) ?? '');
    if (isValue) joined.push(`${joined.pop()}=${argument}`);
    else joined.push(argument);
  }
  return joined;
}
