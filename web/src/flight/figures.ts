/** Figures that somebody typed, with a decimal point or a comma. */

const FIGURE = /^-?\d+([.,]\d+)?$/;

/** undefined for nothing, and for what is no figure. */
export function figureOf(text: string): number | undefined {
  return FIGURE.test(text.trim()) ? Number(text.trim().replace(',', '.')) : undefined;
}

export const isWrongFigure = (text: string) => text.trim() !== '' && figureOf(text) === undefined;
