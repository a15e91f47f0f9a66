/**
 * The sky element, /SK: amount, base and top of each layer, layers parted by a solidus (`BKN-OVC030-TOP060/OVC100`).
 * Older forms write the base before and the top after the amount (`055 SCT 073`); both are read.
 */
import { altitudeFtOf, tokensOf } from './altitudes.ts';
import type { HeightRange, LayerElement, SkyAmount, SkyLayer } from './report.ts';

/** Thinnest first. */
const AMOUNTS: readonly (readonly [SkyAmount, readonly string[]])[] = [
  ['clear', ['SKC', 'CLR']],
  ['few', ['FEW']],
  ['scattered', ['SCT']],
  ['broken', ['BKN']],
  ['overcast', ['OVC']],
];
const TOPS = new Set(['TOP', 'TOPS']);
const BASES = new Set(['BASE', 'BASES']);
const SILENT = new Set(['-', '.', ',', 'MSL', 'FL', 'FT']);

export interface ReadSky {
  readonly sky: LayerElement<SkyLayer>;
  readonly isInCloud: boolean;
  readonly unread: readonly string[];
}

interface Draft {
  readonly amounts: SkyAmount[];
  base: HeightRange | undefined;
  top: HeightRange | undefined;
  /** Opened by BASES or TOPS, which say what the heights are. */
  isNamed: boolean;
}

/** @checked tests/formats/pilot-reports/elements.test.ts */
export function readSky(text: string): ReadSky {
  const readers = text.split('/').map((layer) => new SkyReader(tokensOf(layer)));
  const layers = readers.flatMap((reader) => reader.certain().map(layerOf));
  const isInCloud = readers.some((reader) => reader.isInCloud);
  const isSilent = isInCloud || text === '' || text === 'UNKN';
  const missing = isSilent ? ({ kind: 'not-reported' } as const) : ({ kind: 'unreadable', text } as const);
  return {
    sky: layers.length > 0 ? { kind: 'reported', element: 'SK', layers } : missing,
    isInCloud,
    unread: readers.flatMap((reader) =>
      reader.certain().length < reader.drafts.length ? reader.tokens : reader.unread,
    ),
  };
}

class SkyReader {
  readonly drafts: Draft[] = [];
  readonly unread: string[] = [];
  readonly tokens: readonly string[];
  isInCloud = false;
  /** What the next height is. */
  private expects: 'base' | 'top' = 'base';
  /** A base written before its amount: a height, or UNKN. */
  private baseBefore: HeightRange | 'unknown' | undefined;

  constructor(tokens: readonly string[]) {
    this.tokens = tokens;
    for (let index = 0; index < tokens.length; ) index = this.step(index);
    this.keepBase();
  }

  /** Beside words that no rule reads, a height without amount or name may be anything. */
  certain(): readonly Draft[] {
    if (this.unread.length === 0) return this.drafts;
    return this.drafts.filter(({ amounts, isNamed }) => amounts.length > 0 || isNamed);
  }

  private step(index: number): number {
    const token = this.tokens[index]!;
    const amount = amountOf(token);
    const height = heightAt(this.tokens, index);
    if (amount !== undefined) this.addAmount(amount, this.isRangeAt(index));
    else if (height !== undefined) this.addHeight(height.range);
    else if (token === 'UNKN' && amountOf(this.tokens[index + 1]) !== undefined) this.baseBefore = 'unknown';
    else this.addWord(token);
    return height?.next ?? index + 1;
  }

  private isRangeAt(index: number): boolean {
    return this.tokens[index - 1] === '-' && amountOf(this.tokens[index - 2]) !== undefined;
  }

  private addAmount(amount: SkyAmount, isRange: boolean): void {
    const before = this.drafts.at(-1);
    const isOpen = before?.amounts.length === 0 && this.baseBefore === undefined;
    const draft = before !== undefined && (isRange || isOpen) ? before : this.open(false);
    draft.amounts.push(amount);
    if (isRange) return;
    this.expects = this.baseBefore === undefined ? 'base' : 'top';
    if (this.baseBefore !== undefined && this.baseBefore !== 'unknown') draft.base = this.baseBefore;
    this.baseBefore = undefined;
  }

  private addHeight(range: HeightRange): void {
    const draft = this.drafts.at(-1);
    if (this.expects === 'top') {
      const open = draft === undefined || draft.top !== undefined ? this.open(true) : draft;
      open.top = range;
      this.expects = 'base';
    } else if (draft !== undefined && draft.base === undefined && draft.top === undefined) {
      draft.base = range;
    } else {
      this.keepBase();
      this.baseBefore = range;
    }
  }

  private addWord(token: string): void {
    if (TOPS.has(token)) {
      this.keepBase();
      this.expects = 'top';
    } else if (BASES.has(token)) {
      this.open(true);
      this.expects = 'base';
    } else if (token === 'IMC') this.isInCloud = true;
    else if (token === 'UNKN') this.expects = this.expects === 'base' ? 'top' : 'base';
    else if (!SILENT.has(token)) this.unread.push(token);
  }

  /** A height that stood before an amount which never came: a layer without amount. */
  private keepBase(): void {
    if (this.baseBefore !== undefined && this.baseBefore !== 'unknown')
      this.open(false).base = this.baseBefore;
    this.baseBefore = undefined;
  }

  private open(isNamed: boolean): Draft {
    const draft: Draft = { amounts: [], base: undefined, top: undefined, isNamed };
    this.drafts.push(draft);
    return draft;
  }
}

function amountOf(token: string | undefined): SkyAmount | undefined {
  return AMOUNTS.find(([, codes]) => codes.includes(token ?? ''))?.[0];
}

/** `035`, or `060-070` for a height that varies. */
function heightAt(
  tokens: readonly string[],
  index: number,
): { range: HeightRange; next: number } | undefined {
  const firstFt = altitudeFtOf(tokens[index] ?? '');
  if (firstFt === undefined) return undefined;
  const secondFt = tokens[index + 1] === '-' ? altitudeFtOf(tokens[index + 2] ?? '') : undefined;
  const ends = [firstFt, secondFt ?? firstFt];
  const range = { lowerFt: Math.min(...ends), upperFt: Math.max(...ends) };
  return { range, next: secondFt === undefined ? index + 1 : index + 3 };
}

function layerOf({ amounts, base, top }: Draft): SkyLayer {
  const inOrder = AMOUNTS.map(([amount]) => amount).filter((amount) => amounts.includes(amount));
  return { thinnest: inOrder[0] ?? 'unstated', thickest: inOrder.at(-1) ?? 'unstated', base, top };
}
