/** Poison at the brief's own stages: whatever is taken away, nothing that was unknown or icy turns into "no ice found". */
import { beforeAll, describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Sounding, SoundingLevels } from '../../worker/formats/sounding.ts';
import type { Brief, CurtainAnswer } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { type AscentLevel, makeAscent } from '../support/make-ascent.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const PLACES = [
  { ident: 'AAAA', name: 'West', latDeg: 44.5, lonDeg: -73.0, elevationM: 100, kind: 'aerodrome' as const },
  { ident: 'BBBB', name: 'East', latDeg: 44.5, lonDeg: -71.0, elevationM: 100, kind: 'aerodrome' as const },
];
const REQUEST: BriefRequest = {
  route: 'AAAA BBBB',
  departure: { atUtc: '2026-01-14T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: { curtain: true, minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }] },
};

/** An invented deck: saturated and below freezing from 950 to 750 hPa, dry above. */
const DECK: readonly AscentLevel[] = [
  [995, 100, -2, 3, 200, 5],
  [975, 270, -3, 1, 210, 6],
  [950, 480, -4.5, 0.1, 220, 8],
  [925, 700, -6, 0.1, 230, 10],
  [900, 920, -7.2, 0.1, 240, 11],
  [850, 1380, -9.2, 0.1, 250, 12],
  [800, 1860, -11.2, 0.1, 250, 13],
  [775, 2110, -12.2, 0.2, 250, 14],
  [750, 2370, -9, 15, 260, 15],
  [700, 2910, -10, 20, 260, 16],
  [600, 4100, -16, 25, 270, 20],
  [500, 5480, -25, 25, 270, 25],
  [400, 7100, -37, 20, 270, 30],
  [250, 10200, -55, 15, 270, 35],
];

/** Cold air with a deck between 850 and 700 hPa that neither of the two levels shows. */
const DECK_BETWEEN: readonly AscentLevel[] = [
  [995, 100, -8, 12, 200, 5],
  [925, 660, -9, 12, 230, 10],
  [850, 1300, -10, 12, 250, 12],
  [830, 1480, -10.5, 0.1, 250, 12],
  [800, 1760, -11, 0.1, 250, 13],
  [770, 2040, -11.5, 0.1, 250, 14],
  [750, 2240, -9, 14, 260, 15],
  [700, 2750, -11, 14, 260, 16],
  [600, 3900, -22, 14, 270, 20],
  [500, 5200, -34, 14, 270, 25],
  [400, 6750, -44, 14, 270, 30],
  [250, 9800, -55, 14, 270, 35],
];

let sounding: Sounding;
let whole: CurtainAnswer;

async function briefOver(soundings: readonly Sounding[]): Promise<Brief> {
  const stores = createMemoryStores({ places: PLACES });
  await stores.soundings.put('demo', soundings, 0);
  return makeBrief(stores, REQUEST, { operators: ['demo'] });
}

function curtainOf(brief: Brief): CurtainAnswer {
  if (brief.brief.curtain === undefined) throw new Error('the request asked for the curtain');
  return brief.brief.curtain;
}

const valueAt = (curtain: CurtainAnswer, name: string, index: number) =>
  curtain.quantities[name]!.values[index]! * curtain.quantities[name]!.scale;

/** Probability from which a cell counts as icy before something is taken away; under 0.15 it counts as free after. */
const LIKELY = 0.4;

/** Cells that were icy or unknown and now stand as known and without ice. */
function turnedFree(before: CurtainAnswer, after: CurtainAnswer): string[] {
  const found: string[] = [];
  for (let index = 0; index < before.state.length; index += 1) {
    if (after.state[index] !== 0) continue;
    const wasUnknown = before.state[index] !== 0;
    const wasIcy = !wasUnknown && valueAt(before, 'icingProbability', index) >= LIKELY;
    const isFree =
      valueAt(after, 'icingProbability', index) < 0.15 && valueAt(after, 'largeDrops', index) === 0;
    if ((wasUnknown || wasIcy) && isFree) found.push(`cell ${index} was ${wasUnknown ? 'unknown' : 'icy'}`);
  }
  return found;
}

function withLevels(
  change: (levels: Record<keyof Omit<SoundingLevels, 'levelCount'>, Float64Array>) => void,
): Sounding {
  const { levels } = sounding;
  const copy = {
    pressurePa: levels.pressurePa.slice(),
    geopotentialHeightM: levels.geopotentialHeightM.slice(),
    temperatureK: levels.temperatureK.slice(),
    dewPointK: levels.dewPointK.slice(),
    windDirectionDeg: levels.windDirectionDeg.slice(),
    windSpeedMps: levels.windSpeedMps.slice(),
  };
  change(copy);
  return { ...sounding, levels: { levelCount: levels.levelCount, ...copy } };
}

beforeAll(async () => {
  sounding = makeAscent(DECK, { timeMs: Date.parse(REQUEST.departure.atUtc) });
  whole = curtainOf(await briefOver([sounding]));
});

describe('missing is not clear', () => {
  it('the whole ascent gives a deck of ice with known air above (or these tests would prove nothing)', () => {
    const known = whole.state.filter((state) => state === 0).length;
    const icy = whole.state.filter(
      (state, index) => state === 0 && valueAt(whole, 'icingProbability', index) >= 0.4,
    );
    expect(known).toBeGreaterThan(800);
    expect(icy.length).toBeGreaterThan(100);
  });

  it('no source at all: every cell unknown, verdict unknown, no altitude to file', async () => {
    const { brief } = await briefOver([]);
    expect(new Set(brief.curtain?.state)).not.toContain(0);
    expect(brief.verdict.code).toBe('unknown');
    expect(brief.file).toBeNull();
  });

  it.each(['temperatureK', 'dewPointK'] as const)(
    '%s missing on any run of levels frees no cell of ice',
    async (quantity) => {
      const count = sounding.levels.levelCount;
      for (let from = 0; from < count; from += 1) {
        for (const length of [1, 2, count]) {
          const poisoned = withLevels((levels) => levels[quantity].fill(Number.NaN, from, from + length));
          const after = curtainOf(await briefOver([poisoned]));
          expect(turnedFree(whole, after), `${quantity} ${from}+${length}`).toEqual([]);
        }
      }
    },
  );

  it('an ascent cut off at any level is unknown above it', async () => {
    for (let kept = 1; kept < sounding.levels.levelCount; kept += 1) {
      const cut = {
        ...sounding,
        levels: {
          levelCount: kept,
          pressurePa: sounding.levels.pressurePa.slice(0, kept),
          geopotentialHeightM: sounding.levels.geopotentialHeightM.slice(0, kept),
          temperatureK: sounding.levels.temperatureK.slice(0, kept),
          dewPointK: sounding.levels.dewPointK.slice(0, kept),
          windDirectionDeg: sounding.levels.windDirectionDeg.slice(0, kept),
          windSpeedMps: sounding.levels.windSpeedMps.slice(0, kept),
        },
      };
      const after = curtainOf(await briefOver([cut]));
      expect(turnedFree(whole, after), `${kept} levels kept`).toEqual([]);
    }
  });

  it('an ascent seven hours old is not used: too old, not free of ice', async () => {
    const old = { ...sounding, timeMs: sounding.timeMs - 7 * 3_600_000 };
    const brief = await briefOver([old]);
    expect(new Set(curtainOf(brief).state)).not.toContain(0);
    expect(brief.brief.verdict.code).toBe('unknown');
  });

  it('an ascent 400 km away is not used', async () => {
    const far = { ...sounding, latDeg: 48.5 };
    expect(new Set(curtainOf(await briefOver([far])).state)).not.toContain(0);
  });

  it('a dry far ascent cannot free the deck of a near one', async () => {
    const dry = withLevels((levels) => {
      for (let level = 0; level < levels.dewPointK.length; level += 1) {
        levels.dewPointK[level] = levels.temperatureK[level]! - 20;
      }
    });
    const far = { ...dry, stationId: 'ZZM00000998', latDeg: 46.5 };
    const after = curtainOf(await briefOver([sounding, far]));
    expect(turnedFree(whole, after)).toEqual([]);
  });

  it('many dry far ascents cannot outvote a near one that lost its humidity', async () => {
    const lost = withLevels((levels) => levels.dewPointK.fill(Number.NaN));
    const dry = withLevels((levels) => {
      for (let level = 0; level < levels.dewPointK.length; level += 1) {
        levels.dewPointK[level] = levels.temperatureK[level]! - 20;
      }
    });
    const far = [45.4, 45.45, 43.6, 43.55].map((latDeg, index) => ({
      ...dry,
      stationId: `ZZM0000099${index}`,
      latDeg,
    }));
    const near = { ...lost, stationId: 'ZZM00000980', lonDeg: -72 };
    const after = curtainOf(await briefOver([near, ...far]));
    expect(turnedFree(whole, after)).toEqual([]);
  });

  it('an ascent of standard levels alone says nothing of a deck between two of them', async () => {
    const standard = new Set([995, 925, 850, 700, 500, 400, 250]);
    const timeMs = Date.parse(REQUEST.departure.atUtc);
    const full = curtainOf(await briefOver([makeAscent(DECK_BETWEEN, { timeMs })]));
    const icy = full.state.filter(
      (state, index) => state === 0 && valueAt(full, 'icingProbability', index) >= LIKELY,
    );
    expect(icy.length).toBeGreaterThan(30);
    const partA = DECK_BETWEEN.filter(([pressureHPa]) => standard.has(pressureHPa));
    const after = curtainOf(await briefOver([makeAscent(partA, { timeMs })]));
    expect(turnedFree(full, after)).toEqual([]);
  });

  it('a lone ascent both far and old is not known air', async () => {
    const remote = { ...sounding, latDeg: 46.6, timeMs: sounding.timeMs - 4.9 * 3_600_000 };
    expect(new Set(curtainOf(await briefOver([remote])).state)).not.toContain(0);
  });
});
