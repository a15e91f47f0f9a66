/**
 * Makes the print one page, of A4 as of letter: print.css gives it its width and scale, and what is too high for the
 * lower of the two papers is left out, in a fixed order, with a line in its place that says so.
 *
 * No letter on the paper is smaller than 6.5 pt, so the scale is never made smaller to fit more.
 */
import { capitalized } from '../../../worker/flight/words.ts';

const PX_PER_MM = 96 / 25.4;
/** Letter, 279.4 mm, is lower than A4; margins as in print.css. */
const PAPER_HEIGHT_PX = (279.4 - 2 * 8) * PX_PER_MM;
/** For what rounds otherwise on paper than on the screen. */
const SPARE_PX = 8;

interface LeftOut {
  /** The part that gets the line. */
  readonly from: string;
  readonly items: string;
  /** So many of the first stay for now. */
  readonly keep: number;
  readonly word: string;
}

const REPORTS = { from: '.reports', items: 'li', word: 'report' };
const WAYS = { from: '.ways', items: 'tbody tr:not(.way-best)', word: 'way' };
const NOTES = { from: '.notes', items: 'li', word: 'note' };
const REASONS = { from: '.considered', items: '.considered-reason', word: 'reason' };
const SOURCES = { from: '.data:not(.reports)', items: '.sources li', word: 'source' };
const STRIPS = { from: '.strips', items: '.strip', word: 'strip' };

/** What is missed least comes first. The answer, its ages, the cautions, the cross-section and the table stay. */
const ORDER: readonly LeftOut[] = [
  { from: '.note-list', items: 'li', keep: 0, word: 'pilot note' },
  { ...REPORTS, keep: 8 },
  { ...WAYS, keep: 4 },
  { from: '.brief-side', items: '.plan', keep: 0, word: 'plan view' },
  { from: '.brief-side', items: '.ground-card', keep: 0, word: 'ground card' },
  { ...SOURCES, keep: 8 },
  { ...NOTES, keep: 3 },
  { ...REASONS, keep: 3 },
  { ...REPORTS, keep: 4 },
  // The oldest come first.
  { ...SOURCES, keep: 2 },
  // The strips of temperature and wind, then growth: way out and fluid stay.
  { ...STRIPS, keep: 2 },
  { ...WAYS, keep: 2 },
  { from: '.readout', items: '.phases', keep: 0, word: 'table by phase' },
  { ...NOTES, keep: 1 },
  { ...REPORTS, keep: 1 },
  { ...REASONS, keep: 0 },
  { ...WAYS, keep: 0 },
  { ...NOTES, keep: 0 },
  { ...SOURCES, keep: 0 },
];

const LEFT_OUT = 'data-left-out';
const LINE = 'data-left-out-line';

/** Follows every print of this page. The page must have been drawn for paper before: listen after whoever draws it. */
export function fitPrintsToPaper(page: HTMLElement): void {
  addEventListener('beforeprint', () => queueMicrotask(() => fitToPaper(page)));
  addEventListener('afterprint', () => putBack(page));
}

function fitToPaper(page: HTMLElement): void {
  putBack(page);
  const items = itemsInOrder(page);
  withPaperStyles(() => {
    const fits = (count: number) => {
      leaveOut(page, items.slice(0, count));
      return page.getBoundingClientRect().height <= PAPER_HEIGHT_PX - SPARE_PX;
    };
    leaveOut(page, items.slice(0, leastThatFits(fits, items.length)));
  });
}

/** The least count that fits, or the most there are. */
function leastThatFits(fits: (count: number) => boolean, most: number): number {
  if (fits(0)) return 0;
  let tooFew = 0;
  let enough = most;
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (fits(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

interface Item {
  readonly element: Element;
  readonly from: Element;
  readonly word: string;
}

/** Of each list its last first, each item once. */
function itemsInOrder(page: HTMLElement): readonly Item[] {
  const found = new Map<Element, Item>();
  for (const { from: selector, items, keep, word } of ORDER)
    for (const from of page.querySelectorAll(selector))
      for (const element of [...from.querySelectorAll(items)].slice(keep).reverse())
        if (!found.has(element)) found.set(element, { element, from, word });
  return [...found.values()];
}

/** These and no others, with a line in each part that lacks some. */
function leaveOut(page: HTMLElement, items: readonly Item[]): void {
  putBack(page);
  const lines = new Map<Element, Map<string, number>>();
  for (const { element, from, word } of items) {
    element.setAttribute(LEFT_OUT, '');
    const counts = lines.get(from) ?? new Map<string, number>();
    lines.set(from, counts.set(word, (counts.get(word) ?? 0) + 1));
  }
  for (const [from, counts] of lines) {
    const words = [...counts].map(([word, count]) => wordsOf(word, count));
    from.setAttribute(LINE, `${capitalized(words.join(', '))}: see the link`);
  }
}

const ALONE: ReadonlySet<string> = new Set(['plan view', 'ground card', 'table by phase']);

/** What there is one of by nature has no number. */
function wordsOf(word: string, count: number): string {
  if (ALONE.has(word)) return `the ${word}`;
  return `${count} further ${word}${count === 1 ? '' : 's'}`;
}

function putBack(page: HTMLElement): void {
  for (const element of page.querySelectorAll(`[${LEFT_OUT}]`)) element.removeAttribute(LEFT_OUT);
  for (const element of page.querySelectorAll(`[${LINE}]`)) element.removeAttribute(LINE);
}

/** Before it prints, a browser still lays out for the screen: the sheets' rules for paper hold while this runs. */
function withPaperStyles(run: () => void): void {
  const queries = [...document.styleSheets]
    .flatMap((sheet) => [...sheet.cssRules])
    .filter((rule) => rule instanceof CSSMediaRule)
    .map(({ media }) => ({ media, text: media.mediaText }));
  for (const { media, text } of queries) media.mediaText = /\bprint\b/.test(text) ? 'all' : 'not all';
  try {
    run();
  } finally {
    for (const { media, text } of queries) media.mediaText = text;
  }
}
