/** Adds up what the tests of tests/published/ have compared. */
import type { PublishedTable } from './published-values.ts';

/** Fewer looked-up values or sources mean that tests were lost. Values computed apart and from memory do not help. */
export const LEAST_LOOKED_UP = { values: 150, sources: 12 } as const;

/** A test file and what its passed tests compared. */
export interface ComparedFile {
  readonly file: string;
  readonly tables: readonly PublishedTable[];
}

/** @returns the headline and one line a source, the most values first. */
export function tallyLines(files: readonly ComparedFile[]): string[] {
  const tables = files.flatMap((each) => each.tables);
  const named = sourcesOf(tables.filter(({ tag }) => tag !== 'C'));
  const byTag = (['L', 'M', 'C'] as const).map((tag) => `${tag} ${sum(tables.filter(hasTag(tag)))}`);
  const headline = `published values: ${sum(tables)} compared, ${named.length} sources (${byTag.join(', ')})`;
  const lines = (['L', 'M', 'C'] as const).flatMap((tag) =>
    sourcesOf(tables.filter(hasTag(tag)))
      .map((source) => ({
        source,
        values: sum(tables.filter((each) => each.tag === tag && each.source === source)),
      }))
      .sort((a, b) => b.values - a.values)
      .map(({ source, values }) => `${tag} ${String(values).padStart(4)}  ${source}`),
  );
  return [headline, ...lines];
}

/** @returns what is missing from a run of the whole folder; nothing when all is well. */
export function tallyFaults(files: readonly ComparedFile[]): string[] {
  const lookedUp = files.flatMap((each) => each.tables).filter(hasTag('L'));
  const found = { values: sum(lookedUp), sources: sourcesOf(lookedUp).length };
  const faults = (['values', 'sources'] as const)
    .filter((what) => found[what] < LEAST_LOOKED_UP[what])
    .map((what) => `looked-up ${what}: found ${found[what]}, expected at least ${LEAST_LOOKED_UP[what]}`);
  const idle = files.filter(({ tables }) => tables.length === 0);
  return [...faults, ...idle.map(({ file }) => `${file}: found no compared value, expected some`)];
}

function hasTag(tag: PublishedTable['tag']) {
  return (table: PublishedTable): boolean => table.tag === tag;
}

function sum(tables: readonly PublishedTable[]): number {
  return tables.reduce((total, { values }) => total + values, 0);
}

function sourcesOf(tables: readonly PublishedTable[]): string[] {
  return [...new Set(tables.map(({ source }) => source))];
}
