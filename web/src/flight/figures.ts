/** Figures that somebody typed: with a decimal point or a comma, with either minus; heights as people write them. */

const FIGURE = /^[-\u2212]?\d+([.,]\d+)?$/;

/** undefined for nothing, and for what is no figure. */
export function figureOf(text: string): number | undefined {
  const trimmed = text.trim();
  return FIGURE.test(trimmed) ? Number(trimmed.replace(',', '.').replace('\u2212', '-')) : undefined;
}

/** "9500", "9,500", "9 500", "FL095": ft; undefined for nothing, and for what is none of these. */
export function heightFtOf(text: string): number | undefined {
  const level = /^FL ?(\d{2,3})$/i.exec(text.trim())?.[1];
  if (level !== undefined) return Number(level) * 100;
  const grouped = /^(\d{1,2})[ ,.]?(\d{3})$/.exec(text.trim());
  if (grouped !== null) return Number(`${grouped[1]}${grouped[2]}`);
  return /^\d{1,3}$/.test(text.trim()) ? Number(text.trim()) : undefined;
}
