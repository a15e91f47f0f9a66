/** The picture of a brief, by the colors of its pixels: what is not known is hatched, ice has its color, words stay inside. */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { briefPicture } from '../../worker/brief/brief-picture.ts';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { fitted } from '../../worker/brief/picture/letters.ts';
import { cautionText } from '../../worker/brief/picture/words.ts';
import type { BandFeature, Brief, BriefFeature, VerdictCode } from '../../worker/schema/brief.ts';
import { cellStateSchema, verdictCodes } from '../../worker/schema/brief.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { type ReadPicture, readIndexedPng } from '../support/read-indexed-png.ts';
import { DECK_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';

/** The sheet's own by day: ink.css. */
const PAPER = 0xf6efdf;
const INK = 0x2a1d14;
const GROUND = 0x45372b;
const WARN = 0x7d1d33;
const OCHRE = 0xc98a22;
const WINE = 0x5e1230;
const HATCH = [0xd3cec6, 0x827b72];

/** Where the picture has its cross-section and the verdict's shape. */
const PLOT = { left: 48, top: 256, right: 966, bottom: 552 };
const SHAPE = { left: 44, top: 108, right: 166, bottom: 230 };
/** Depth of the foot that is hatched where no ground is known. */
const FOOT_PX = 24;
/** Whatever is filed stays below half of this. */
const ABOVE_ALL_FT = 70_000;

let deck: Brief;
let unknown: Brief;

beforeAll(async () => {
  const empty = createMemoryStores({ places: FIELDS });
  unknown = await makeBrief(empty, LEG, { operators: ['demo'] });
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], 0);
  deck = await makeBrief(stores, LEG, { operators: ['demo'] });
});

const MADE_UTC = '2026-01-14T09:05:00.000Z';
const pictureOf = async (brief: Brief) => readIndexedPng(await briefPicture(brief, MADE_UTC));

type Properties = BandFeature['properties'];
const CLEAR: Omit<Properties, 'fromNm' | 'toNm' | 'lowerFt' | 'upperFt'> = {
  ...{ kind: 'icing-band', state: 'known', intensity: 'none', iceKind: 'none', probability: 0 },
  ...{ growthMmPerMin: 0, largeDrops: 'none', envelopeRatio: 0 },
};
const SEVERE = { intensity: 'severe', iceKind: 'clear', probability: 0.9, growthMmPerMin: 3 } as const;
const NO_DATA: Partial<Properties> = {
  ...{ state: 'no-data', intensity: null, iceKind: null, probability: null },
  ...{ growthMmPerMin: null, largeDrops: null, envelopeRatio: null },
};

const bandOf = (properties: Partial<Properties>): BriefFeature => ({
  ...{ type: 'Feature', id: 'band', geometry: { type: 'Polygon', coordinates: [] } },
  properties: { ...CLEAR, fromNm: 0, toNm: 100, lowerFt: -5000, upperFt: ABOVE_ALL_FT, ...properties },
});

const terrainOf = (fromNm: number, toNm: number, heightFt: number): BriefFeature => ({
  ...{ type: 'Feature', id: 'terrain', geometry: { type: 'LineString', coordinates: [] } },
  properties: { kind: 'terrain', fromNm, toNm, heightFt, source: 'spot-heights' },
});

type Member = Brief['brief'];
/** A leg of 100 NM with these features and no altitude to file, unless given. */
const legOf = (features: BriefFeature[], given: Partial<Member> = {}): Brief => ({
  ...deck,
  features,
  brief: { ...deck.brief, leg: { ...deck.brief.leg, distanceNm: 100 }, file: null, ...given },
});

const filed = (altitudeFt: number): Partial<Member> => ({
  file: {
    ...{ altitudeFt, acceptFt: { lowerFt: altitudeFt, upperFt: altitudeFt }, refuse: [] },
    ...{ reason: 'r', acceptReason: 'a' },
  },
  recommended: null,
});

/** Column of the picture at a part of the leg. */
const columnAt = (part: number) => Math.round(PLOT.left + (PLOT.right - PLOT.left) * part);

/** Colors of a box, each once. */
function colorsIn({ at }: ReadPicture, box: typeof PLOT): Set<number> {
  const colors = new Set<number>();
  for (let y = box.top; y < box.bottom; y += 1)
    for (let x = box.left; x < box.right; x += 1) colors.add(at(x, y));
  return colors;
}

/** Of a part of the leg, above the foot. */
const airOf = (from: number, to: number) => ({
  ...{ left: columnAt(from) + 1, right: columnAt(to) - 1 },
  ...{ top: PLOT.top, bottom: PLOT.bottom - FOOT_PX },
});

/** First and last row of a color in a column of the plot. */
function rowsOf({ at }: ReadPicture, column: number, color: number): [number, number] {
  const rows = [];
  for (let y = PLOT.top; y < PLOT.bottom; y += 1) if (at(column, y) === color) rows.push(y);
  return [rows[0] ?? Number.NaN, rows.at(-1) ?? Number.NaN];
}

describe('the file', () => {
  it('is a PNG of 1200 x 630 pixels, at most 32 colors and under 60 kB, and the same each time', async () => {
    const bytes = await briefPicture(deck, MADE_UTC);
    const { width, height, paletteLength } = readIndexedPng(bytes);
    expect([width, height]).toEqual([1200, 630]);
    expect(paletteLength).toBeLessThanOrEqual(32);
    expect(bytes.length).toBeLessThan(60_000);
    expect(await briefPicture(structuredClone(deck), MADE_UTC)).toEqual(bytes);
  });
});

describe('the air', () => {
  it('is wine where ice is severe, hatched where it is unknown or nothing is said, and paper where none is found', async () => {
    const picture = await pictureOf(
      legOf([
        bandOf({ toNm: 25, ...SEVERE }),
        bandOf({ fromNm: 25, toNm: 50, ...NO_DATA }),
        bandOf({ fromNm: 50, toNm: 75 }),
      ]),
    );
    expect([...colorsIn(picture, airOf(0, 0.25))]).toEqual([WINE]);
    expect(colorsIn(picture, airOf(0.25, 0.5))).toEqual(new Set(HATCH));
    expect([...colorsIn(picture, airOf(0.5, 0.75))]).toEqual([PAPER]);
    expect(colorsIn(picture, airOf(0.75, 1))).toEqual(new Set(HATCH));
  });

  it.each(cellStateSchema.options)(
    'is paper without ice only where its state is known: %s',
    async (state) => {
      const colors = colorsIn(await pictureOf(legOf([bandOf({ state })])), airOf(0, 1));
      const expected = state === 'known' ? [PAPER] : state === 'below-ground' ? [GROUND] : HATCH;
      expect(colors).toEqual(new Set(expected));
    },
  );

  it('is hatched from end to end, without a line, where there is no data', async () => {
    expect(unknown.brief.file).toBeNull();
    expect(colorsIn(await pictureOf(unknown), PLOT)).toEqual(new Set(HATCH));
  });

  it('is hatched on a leg without length', async () => {
    const brief = legOf([bandOf({ fromNm: -1 }), terrainOf(-1, 100, 500)]);
    const leg = { ...brief.brief.leg, distanceNm: 0 };
    const picture = await pictureOf({ ...brief, brief: { ...brief.brief, leg } });
    expect(colorsIn(picture, PLOT)).toEqual(new Set(HATCH));
  });

  it('has paler rulings, never the paper, the less sure ice is', async () => {
    const parts = [0.2, 0.5, 0.9].map((probability, third) =>
      bandOf({ ...SEVERE, probability, fromNm: third * 30, toNm: third * 30 + 30 }),
    );
    const picture = await pictureOf(legOf(parts));
    const shareOfWine = [0.1, 0.4, 0.7].map((part) => {
      const rows = Array.from({ length: 200 }, (_, row) => picture.at(columnAt(part), PLOT.top + row));
      expect(rows).not.toContain(PAPER);
      return rows.filter((color) => color === WINE).length / 200;
    });
    expect(shareOfWine[0]).toBeGreaterThan(0.2);
    expect(shareOfWine[0]).toBeLessThan(shareOfWine[1]! - 0.1);
    expect(shareOfWine[1]).toBeLessThan(shareOfWine[2]! - 0.1);
    expect(shareOfWine[2]).toBe(1);
  });

  it('has dots of ink over the color of its ice where drops are large, and nowhere else', async () => {
    const light = { intensity: 'light', probability: 0.9 } as const;
    const picture = await pictureOf(
      legOf([bandOf({ ...light, toNm: 50, largeDrops: 'freezing-rain' }), bandOf({ ...light, fromNm: 50 })]),
    );
    expect(colorsIn(picture, airOf(0, 0.5))).toEqual(new Set([OCHRE, INK, PAPER]));
    expect([...colorsIn(picture, airOf(0.5, 1))]).toEqual([OCHRE]);
    const square = Array.from({ length: 96 * 96 }, (_, dot) =>
      picture.at(PLOT.left + (dot % 96), PLOT.top + Math.floor(dot / 96)),
    );
    const shareOf = (color: number) => square.filter((each) => each === color).length / square.length;
    expect(shareOf(OCHRE)).toBeGreaterThan(0.5);
    expect(shareOf(INK)).toBeGreaterThan(0.1);
  });
});

describe('the ground', () => {
  it('is dark up to its height, and the foot is hatched where none is known', async () => {
    const clear = [bandOf({}), terrainOf(0, 50, 4000)];
    const picture = await pictureOf(legOf([...clear, bandOf({ ...SEVERE, fromNm: 50, upperFt: 4000 })]));
    const [top, bottom] = rowsOf(picture, columnAt(0.25), GROUND);
    expect(top).toBe(rowsOf(picture, columnAt(0.75), WINE)[0]);
    expect(bottom).toBe(PLOT.bottom - 1);
    const foot = { left: columnAt(0.5), right: PLOT.right, top: PLOT.bottom - FOOT_PX, bottom: PLOT.bottom };
    expect(colorsIn(picture, foot)).toEqual(new Set(HATCH));
  });
});

describe('the altitude to file', () => {
  /** Row of the filed altitude from the two edges of a band of 2,000 to 4,000 ft, whatever the scale. */
  async function linesOf(given: Partial<Member>, altitudeFt: number) {
    const bands = [bandOf({}), bandOf({ ...SEVERE, lowerFt: 2000, upperFt: 4000 })];
    const picture = await pictureOf(legOf(bands, given));
    const [top, last] = rowsOf(picture, columnAt(0.9), WINE);
    const pxPerFt = (last + 1 - top) / 2000;
    return { picture, expectedY: top - (altitudeFt - 4000) * pxPerFt };
  }

  it.each([6000, 11_000, 17_000])('is a bold line at its height: %i ft', async (altitudeFt) => {
    const { picture, expectedY } = await linesOf(filed(altitudeFt), altitudeFt);
    const [first, last] = rowsOf(picture, columnAt(0.5), INK);
    // The edges of the band are rounded to pixels, 2,000 ft of them; to 17,000 ft that is up to seven times a pixel.
    expect(Math.abs((first + last) / 2 - expectedY)).toBeLessThan(1 + (altitudeFt - 4000) / 2000);
    expect(last - first).toBeGreaterThanOrEqual(8);
    expect(last - first).toBeLessThanOrEqual(12);
  });

  it('rises and sinks along the flown path of the same altitude', async () => {
    const points = [0, 50, 100].map((distanceNm) => ({ ...deck.brief.leg.points[0]!, distanceNm }));
    const recommended = { ...deck.brief.alternatives[0]!, altitudeFt: 10_000, flownFt: [0, 10_000, 0] };
    const leg = { ...deck.brief.leg, distanceNm: 100, points };
    const picture = await pictureOf(legOf([bandOf({})], { ...filed(10_000), leg, recommended }));
    const middle = (part: number) => {
      const column = rowsOf(picture, columnAt(part), INK);
      return { first: column[0], last: column[1] };
    };
    expect(middle(0.25).last).toBeGreaterThan(middle(0.5).last + 60);
    // By hand: a quarter of the way is half of the height; the foot of the plot is sea level.
    const halfY = (PLOT.bottom + (middle(0.5).first + middle(0.5).last) / 2) / 2;
    expect(Math.abs(middle(0.25).last - halfY)).toBeLessThan(10);
    expect(Math.abs(middle(0.75).last - halfY)).toBeLessThan(10);
  });

  it('has no line where none is to be filed', async () => {
    const picture = await pictureOf(legOf([bandOf({})], { recommended: deck.brief.alternatives[0]! }));
    expect(colorsIn(picture, airOf(0, 1))).toEqual(new Set([PAPER]));
  });
});

describe('the verdict', () => {
  const shapeOf = async (code: VerdictCode) => {
    const picture = await pictureOf(legOf([], { verdict: { ...deck.brief.verdict, code } }));
    const x = (SHAPE.left + SHAPE.right) / 2;
    /** Down its middle, by parts of its height. */
    return {
      picture,
      down: [0.04, 0.25, 0.4, 0.5, 0.6, 0.75, 0.95].map((part) =>
        picture.at(x, Math.round(SHAPE.top + part * (SHAPE.bottom - SHAPE.top))),
      ),
    };
  };

  it('is an open ring where no ice is found', async () => {
    expect((await shapeOf('no-ice-found')).down).toEqual([INK, PAPER, PAPER, PAPER, PAPER, PAPER, INK]);
  });

  it('is a half disc within limits', async () => {
    expect((await shapeOf('within-limits')).down).toEqual([INK, PAPER, PAPER, INK, INK, INK, INK]);
  });

  it('is a full disc with a bar through it outside limits', async () => {
    const { down, picture } = await shapeOf('outside-limits');
    expect(down).toEqual([PAPER, WARN, PAPER, WARN, PAPER, WARN, PAPER]);
    expect(picture.at(SHAPE.left + 2, (SHAPE.top + SHAPE.bottom) / 2)).toBe(WARN);
  });

  it('is a hatched square where it is unknown', async () => {
    const { picture } = await shapeOf('unknown');
    expect(colorsIn(picture, SHAPE)).toEqual(new Set([INK, ...HATCH]));
    expect(picture.at(SHAPE.left + 1, SHAPE.top + 1)).toBe(INK);
  });
});

describe('the foot', () => {
  it('says of when the brief is, in letters that fit', async () => {
    expect(cautionText(MADE_UTC)).toBe('ADVICE ONLY, AS OF 14 JAN 09:05 UTC. REASONS: OPEN THE LINK');
    const widest = cautionText('2026-12-28T20:58:00Z');
    expect(fitted(widest, 1112, { most: 4, least: 3 }).text).toBe(widest);
    const [one, other] = await Promise.all(
      [MADE_UTC, '2026-01-14T09:06:00.000Z'].map(async (made) =>
        readIndexedPng(await briefPicture(deck, made)),
      ),
    );
    const differs = (left: number, right: number, top: number, bottom: number) => {
      for (let y = top; y < bottom; y += 1)
        for (let x = left; x < right; x += 1) if (one!.at(x, y) !== other!.at(x, y)) return true;
      return false;
    };
    expect(differs(0, 1200, 0, 574)).toBe(false);
    expect(differs(44, 1156, 574, 630)).toBe(true);
  });
});

describe('invented data', () => {
  /** Right of the verdict's word. */
  const PLACE = { left: 800, right: 1156, top: 194, bottom: 242 };
  const used = (invented: boolean) => ({ ...deck.brief.data[0]!, invented });

  it('is said where any of it is invented, and not where none is or there is none', async () => {
    const colorsWith = async (data: Member['data']) => colorsIn(await pictureOf(legOf([], { data })), PLACE);
    expect(await colorsWith([used(true), used(true)])).toEqual(new Set([PAPER, WARN]));
    expect(await colorsWith([used(true), used(false)])).toEqual(new Set([PAPER, WARN]));
    expect([...(await colorsWith([used(false)]))]).toEqual([PAPER]);
    expect([...(await colorsWith([]))]).toEqual([PAPER]);
  });
});

describe('whatever the brief holds', () => {
  const anyNumber = fc.oneof(
    fc.double({ min: -1e5, max: 1e5, noNaN: true }),
    fc.double({ noNaN: true, noDefaultInfinity: true }),
  );
  const anyText = fc.oneof(
    fc.string({ maxLength: 12 }),
    fc.string({ minLength: 40, maxLength: 300, unit: 'grapheme' }),
  );
  const anyBand = fc
    .record({
      ...{ fromNm: anyNumber, toNm: anyNumber, lowerFt: anyNumber, upperFt: anyNumber },
      state: fc.constantFrom(...cellStateSchema.options),
      intensity: fc.option(fc.constantFrom('none', 'trace', 'light', 'moderate', 'severe')),
      probability: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
      largeDrops: fc.option(fc.constantFrom('none', 'freezing-drizzle', 'freezing-rain', 'ice-pellets')),
    })
    .map((band) => bandOf(band as Partial<Properties>));
  const anyTerrain = fc.tuple(anyNumber, anyNumber, anyNumber).map((numbers) => terrainOf(...numbers));
  const anyPath = fc.array(fc.tuple(anyNumber, anyNumber), { maxLength: 6 });
  const anyBrief = fc
    .record({
      features: fc.array(fc.oneof(anyBand, anyTerrain), { maxLength: 8 }),
      ...{ from: anyText, to: anyText, departureUtc: anyText, distanceNm: anyNumber },
      code: fc.constantFrom(...verdictCodes),
      altitudeFt: fc.option(anyNumber),
      path: anyPath,
    })
    .map(({ features, code, altitudeFt, path, ...leg }) => {
      const points = path.map(([distanceNm]) => ({ ...deck.brief.leg.points[0]!, distanceNm }));
      const flownFt = path.map(([, feet]) => feet);
      return legOf(features, {
        ...(altitudeFt === null ? {} : filed(altitudeFt)),
        recommended: { ...deck.brief.alternatives[0]!, altitudeFt: altitudeFt ?? 0, flownFt },
        leg: { ...deck.brief.leg, ...leg, points },
        verdict: { ...deck.brief.verdict, code },
      });
    });

  it('it is a picture with bare edges, under 60 kB', async () => {
    await fc.assert(
      fc.asyncProperty(anyBrief, async (brief) => {
        const bytes = await briefPicture(brief, MADE_UTC);
        expect(bytes.length).toBeLessThan(60_000);
        const picture = readIndexedPng(bytes);
        expect([picture.width, picture.height]).toEqual([1200, 630]);
        for (const [left, right] of [
          [0, 40],
          [1180, 1200],
        ] as const) {
          expect([...colorsIn(picture, { left, right, top: 0, bottom: 574 })]).toEqual([PAPER]);
        }
        expect([...colorsIn(picture, { left: 0, right: 1200, top: 0, bottom: 20 })]).toEqual([PAPER]);
      }),
      { numRuns: 80 },
    );
  });
});
