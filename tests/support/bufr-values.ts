/** The values of a message as our reader has them, laid beside those of ecCodes. */
import { expect } from 'vitest';
import { type BufrSubset, decodeMessage } from '../../worker/formats/bufr/decode-message.ts';
import { readSections } from '../../worker/formats/bufr/sections.ts';
import { bufrDumpOf, bufrDumpPlainOf, type DumpedValue, type PlainValue } from './eccodes-bufr.ts';

const FLAG = 31_031;
const FIELD = 31_021;
/** Entries that the manual leaves to centers; 2 06 says how wide one is. */
const isLocal = (descriptor: number) => descriptor < 100_000 && descriptor % 1000 >= 192;
/** Marker of a substituted value. */
const SUBSTITUTED = 223_255;
/** Operators and flags, by code; text inserted by 2 05, by name. */
const LEFT_ASIDE = /^2|^031031$/;
const INSERTED_TEXT = 'text';

export interface OwnValue {
  readonly descriptor: number;
  /** NaN of a number, undefined of text: missing. */
  readonly value: number | string | undefined;
}

/** The values of each subset of a message. */
export function ownValues(message: Uint8Array): OwnValue[][] {
  return [...decodeMessage(readSections(message, 0))].map(valuesOf);
}

export function valuesOf({ layout, values }: BufrSubset): OwnValue[] {
  return layout.codings.map(({ descriptor, kind }, index) => ({
    descriptor,
    value: kind === 'text' ? values.text(index) : values.numbers[index]!,
  }));
}

/**
 * Differences from ecCodes' values of a subset, in words. Left aside is what it lists in part or as an attribute: bitmaps,
 * operators, the significance of associated fields, unknown local elements.
 */
export function differences(own: readonly OwnValue[], dumped: readonly DumpedValue[]): string[] {
  const ours = own.filter(
    ({ descriptor }) => descriptor !== FLAG && descriptor !== FIELD && !isLocal(descriptor),
  );
  const theirs = dumped.filter(({ key, code }) => !LEFT_ASIDE.test(code ?? '') && key !== INSERTED_TEXT);
  const found = ours.flatMap((one, index) => {
    const other = theirs[index];
    return other !== undefined && isSame(one, other) ? [] : [`${index}: ${JSON.stringify([one, other])}`];
  });
  return ours.length === theirs.length ? found : [`${ours.length} values beside ${theirs.length}`, ...found];
}

/** Own values without those that count or flag others, each with its quality. */
interface OwnPlainValue extends OwnValue {
  readonly quality: number | undefined;
}

function plainOf(subset: BufrSubset): OwnPlainValue[] {
  const { qualities } = subset.layout;
  const qualityOf = new Map(qualities.map(({ index, of }) => [of, subset.values.numbers[index]!]));
  const aside = new Set(qualities.map(({ index }) => index));
  return valuesOf(subset)
    .map((value, index) => ({ ...value, index, quality: qualityOf.get(index) }))
    .filter(({ descriptor, index }) => Math.trunc(descriptor / 1000) !== 31 && !aside.has(index));
}

/** What differs from the plain dump of the same message, in words: values, confidences, substituted values. */
export function plainDifferences(subset: BufrSubset, dumped: readonly PlainValue[]): string[] {
  const own = plainOf(subset);
  const ours = own.filter(({ descriptor }) => descriptor !== SUBSTITUTED);
  const theirs = dumped.filter(({ key }) => key !== INSERTED_TEXT);
  const substituted = theirs.flatMap(({ attributes }) => attributes.get('substitutedValue') ?? []);
  const ourSubstituted = own.flatMap(({ descriptor, value }) => (descriptor === SUBSTITUTED ? [value] : []));
  const found = ours.flatMap((one, index) => {
    const other = theirs[index];
    const isEqual =
      other !== undefined &&
      isSame(one, { key: other.key, value: other.value ?? null }) &&
      isSameQuality(one.quality, other.attributes.get('percentConfidence'));
    return isEqual ? [] : [`${index}: ${JSON.stringify([one, other])}`];
  });
  if (ours.length !== theirs.length) found.unshift(`${ours.length} values beside ${theirs.length}`);
  if (JSON.stringify(substituted) !== JSON.stringify(ourSubstituted)) found.push('substituted values differ');
  return found;
}

/** A missing confidence is not printed. */
function isSameQuality(own: number | undefined, printed: number | undefined): boolean {
  return own === undefined || Number.isNaN(own) ? printed === undefined : own === printed;
}

/** The dump prints six figures: half a unit of the sixth, and a little for rounding in between. */
function printedTolerance(value: number): number {
  return value === 0 ? 0 : 0.5001 * 10 ** (Math.floor(Math.log10(Math.abs(value))) - 5);
}

function isSame({ descriptor, value }: OwnValue, other: DumpedValue): boolean {
  if (other.code !== undefined && Number(other.code) !== descriptor) return false;
  if (typeof value === 'number' && !Number.isNaN(value)) {
    return typeof other.value === 'number' && Math.abs(value - other.value) <= printedTolerance(value);
  }
  if (typeof value === 'string') return String(other.value ?? '').trim() === value;
  return other.value === null;
}

/** Holds a message made in a test against ecCodes, value by value; gives the number of values. */
export function expectLikeEccodes(message: Uint8Array): number {
  const own = ownValues(message);
  const dumped = bufrDumpOf(message, own.length);
  expect(dumped).toHaveLength(own.length);
  expect(own.flatMap((values, subset) => differences(values, dumped[subset]!))).toEqual([]);
  return own.reduce((count, values) => count + values.length, 0);
}

/** The same of a message of one subset whose values have information attached by bitmaps. */
export function expectInformationLikeEccodes(message: Uint8Array): void {
  const subsets = [...decodeMessage(readSections(message, 0))];
  expect(subsets).toHaveLength(1);
  expect(plainDifferences(subsets[0]!, bufrDumpPlainOf(message))).toEqual([]);
}
