/** The colors of the picture, those of the sheet by day, and the patterns that are made of them. */
import { type BandProperties, lookOf, type Shade, type Sureness } from '../../schema/band-look.ts';

/** Colors by their index in the palette: one that is not painted is unknown, never paper. */
export const COLOR = {
  unknownGround: 0,
  unknownLine: 1,
  paper: 2,
  ink: 3,
  inkSoft: 4,
  rule: 5,
  ground: 6,
  warn: 7,
  trace: 8,
  light: 9,
  moderate: 10,
  severe: 11,
  paleTrace: 12,
  paleLight: 13,
  paleModerate: 14,
  paleSevere: 15,
} as const;

const PAPER = 0xf6efdf;
const SHADES = [0xe6cb6a, 0xc98a22, 0xb34a1e, 0x5e1230];

/** Between the rulings of ice that is less sure: paper over its color, never wholly the paper. */
const RULING_OPACITY = 0.74;

/** As 0xrrggbb, in the order of COLOR. */
export const PALETTE: readonly number[] = [
  ...[0xd3cec6, 0x827b72, PAPER, 0x2a1d14, 0x66523f, 0xd3c4a8, 0x45372b, 0x7d1d33],
  ...SHADES,
  ...SHADES.map(underPaper),
];

function underPaper(color: number): number {
  const mixed = (shift: number) => {
    const [over, under] = [(PAPER >>> shift) & 0xff, (color >>> shift) & 0xff];
    return Math.round(over * RULING_OPACITY + under * (1 - RULING_OPACITY)) << shift;
  };
  return mixed(16) | mixed(8) | mixed(0);
}

/** Colors of a square that comes again and again from the upper left of the picture on: neighboring areas run on. */
export interface Paint {
  readonly sidePx: number;
  /** Row by row. */
  readonly colors: Uint8Array;
}

type ColorAt = (x: number, y: number) => number;

function paintWith(sidePx: number, colorAt: ColorAt): Paint {
  const colors = new Uint8Array(sidePx * sidePx);
  return { sidePx, colors: colors.map((_, dot) => colorAt(dot % sidePx, Math.floor(dot / sidePx))) };
}

export const plain = (color: number): Paint => ({ sidePx: 1, colors: Uint8Array.of(color) });

const HATCH_PX = { apart: 24, line: 9 };

export const unknownPaint: Paint = paintWith(HATCH_PX.apart, (x, y) =>
  (x + y) % HATCH_PX.apart < HATCH_PX.line ? COLOR.unknownLine : COLOR.unknownGround,
);

/** Of these rows so many are pale. */
const RULED_PX = 8;
const PALE_PX: Readonly<Record<Sureness, number>> = { sure: 0, likely: 3, possible: 5 };
const PALE_OFFSET = COLOR.paleTrace - COLOR.trace;

const ruled =
  (shade: Shade, sureness: Sureness): ColorAt =>
  (_, y) =>
    COLOR[shade] + (y % RULED_PX < PALE_PX[sureness] ? PALE_OFFSET : 0);

/** Two dots a square, as on a die; each has a rim of paper, to stand out of wine as of straw. */
const DOT_PX = { square: 32, radius: 5, rim: 7 };

const dotted =
  (under: ColorAt): ColorAt =>
  (x, y) => {
    const half = DOT_PX.square / 2;
    if (x < half !== y < half) return under(x, y);
    const fromDotPx = Math.hypot((x % half) - half / 2, (y % half) - half / 2);
    if (fromDotPx <= DOT_PX.radius) return COLOR.ink;
    return fromDotPx <= DOT_PX.rim ? COLOR.paper : under(x, y);
  };

type IcePaints = Readonly<Record<Shade, Readonly<Record<Sureness, Paint>>>>;

function icePaints(sidePx: number, over: (under: ColorAt) => ColorAt): IcePaints {
  const of = (shade: Shade, sureness: Sureness) => paintWith(sidePx, over(ruled(shade, sureness)));
  const all = (shade: Shade) => ({
    sure: of(shade, 'sure'),
    likely: of(shade, 'likely'),
    possible: of(shade, 'possible'),
  });
  return { trace: all('trace'), light: all('light'), moderate: all('moderate'), severe: all('severe') };
}

const ICE = icePaints(RULED_PX, (under) => under);
const LARGE_DROPS = icePaints(DOT_PX.square, dotted);
const PAPER_PAINT = plain(COLOR.paper);
const GROUND_PAINT = plain(COLOR.ground);

export function paintOf(air: BandProperties): Paint {
  const look = lookOf(air);
  if (look.kind === 'unknown') return unknownPaint;
  if (look.kind === 'no-ice') return PAPER_PAINT;
  if (look.kind === 'below-ground') return GROUND_PAINT;
  return (look.largeDrops ? LARGE_DROPS : ICE)[look.shade][look.sureness];
}
