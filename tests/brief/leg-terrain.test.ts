/** The ground through the whole brief: which source speaks, what the answer says of it, and what stays unknown. */
import { describe, expect, test } from 'vitest';
import { orographyM } from '../../worker/brief/leg-terrain.ts';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { StretchGround } from '../../worker/flight/terrain-stretch.ts';
import { briefSchema } from '../../worker/schema/brief.ts';
import { mFromFt } from '../../worker/science/units.ts';
import type { TerrainSource } from '../../worker/sources/ports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const ROUTE = {
  type: 'LineString' as const,
  coordinates: [
    [-73, 44.5],
    [-71, 44.5],
  ] as [number, number][],
};

async function briefOver(
  terrain: TerrainSource | undefined,
  options: object = {},
  spotHeights: { name: string; latDeg: number; lonDeg: number; heightM: number }[] = [],
) {
  const stores = createMemoryStores({ ...(terrain === undefined ? {} : { terrain }), spotHeights });
  const brief = await makeBrief(
    stores,
    {
      route: ROUTE,
      departure: { atUtc: '2026-01-14T12:00:00Z' },
      aircraft: 'generic-fluid-turboprop',
      options,
    },
    { operators: [] },
  );
  return briefSchema.parse(brief);
}

/** Ground of one height, known throughout. */
function flatTerrain(heightFt: number, change: Partial<StretchGround> = {}): TerrainSource {
  const ground = { highestM: mFromFt(heightFt), atLeastM: mFromFt(heightFt), allowanceM: mFromFt(400) };
  return {
    attribution: 'A survey of heights',
    highestGround: async (stretches) => stretches.map(() => ({ ...ground, isMountainous: false, ...change })),
  };
}

describe('a brief over elevation tiles', () => {
  test('takes ground and minimum from them, and says whose heights they are', async () => {
    const { brief, features } = await briefOver(flatTerrain(2000));
    expect(brief.limits).toMatchObject({
      minimumAltitudeSource: 'terrain-tiles',
      groundAttribution: 'A survey of heights',
    });
    expect(new Set(brief.leg.points.map(({ terrainFt }) => terrainFt))).toEqual(new Set([2000]));
    expect(new Set(brief.leg.points.map(({ minimumAltitudeFt }) => minimumAltitudeFt))).toEqual(
      new Set([3400]),
    );
    expect(features.map(({ properties }) => properties)).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ kind: 'terrain', heightFt: 2000, source: 'terrain-tiles' }),
        expect.objectContaining({ kind: 'minimum-altitude', altitudeFt: 3400, source: 'terrain-tiles' }),
      ]),
    );
    expect(brief.operational.map(({ code }) => code)).toContain('minimum-altitude-from-terrain-tiles');
    const low = brief.alternatives.filter(({ altitudeFt }) => altitudeFt < 3400);
    expect(new Set(low.map(({ standing }) => standing))).toEqual(new Set(['below-minimum-altitude']));
  });

  // 14 CFR 91.177(a)(2): obstacles within 4 NM of the course.
  test.each([
    [1, 4],
    [4, 4],
    [12, 12],
  ])('asks them for a corridor of %i NM to either side as far as %i NM', async (askedNm, groundNm) => {
    const asked: number[] = [];
    const terrain = flatTerrain(2000);
    const spy: TerrainSource = {
      ...terrain,
      highestGround: (stretches, halfWidthM) => {
        asked.push(stretches.length, halfWidthM);
        return terrain.highestGround(stretches, halfWidthM);
      },
    };
    const { brief } = await briefOver(spy, { corridorHalfWidthNm: askedNm });
    expect(asked).toEqual([brief.leg.points.length, groundNm * 1852]);
  });

  test('leaves ground and minimum unknown where they are, and names nobody', async () => {
    const nothing = { highestM: Number.NaN, atLeastM: Number.NaN, isMountainous: undefined };
    const { brief, features } = await briefOver(flatTerrain(0, nothing));
    expect(brief.limits).toMatchObject({ minimumAltitudeSource: 'unknown', groundAttribution: null });
    expect(brief.leg.points.every(({ terrainFt }) => terrainFt === null)).toBe(true);
    expect(brief.leg.points.every(({ minimumAltitudeFt }) => minimumAltitudeFt === null)).toBe(true);
    expect(features.filter(({ properties }) => properties.kind === 'terrain')).toEqual([]);
    expect(brief.operational.map(({ code }) => code)).toContain('minimum-altitude-unknown');
  });

  test('names them where an entered minimum holds and the ground drawn is theirs', async () => {
    const { brief } = await briefOver(flatTerrain(2000), {
      minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 5000 }],
    });
    expect(brief.limits).toMatchObject({
      minimumAltitudeSource: 'entered',
      groundAttribution: 'A survey of heights',
    });
  });
});

describe('a brief without elevation tiles', () => {
  test('has spot heights alone, and their ground is told apart', async () => {
    const spot = { name: 'Hill', latDeg: 44.52, lonDeg: -72, heightM: mFromFt(3000) };
    const { brief, features } = await briefOver(undefined, {}, [spot]);
    expect(brief.limits).toMatchObject({ minimumAltitudeSource: 'partly-unknown', groundAttribution: null });
    expect(features.flatMap(({ properties }) => (properties.kind === 'terrain' ? [properties] : []))).toEqual(
      [expect.objectContaining({ heightFt: 3000, source: 'spot-heights' })],
    );
  });

  // 3 NM north of the leg.
  test('counts a spot 3 NM to the side however narrow a corridor is asked for', async () => {
    const spot = { name: 'Hill', latDeg: 44.55, lonDeg: -72, heightM: mFromFt(3000) };
    const { features } = await briefOver(undefined, { corridorHalfWidthNm: 1 }, [spot]);
    expect(features.flatMap(({ properties }) => (properties.kind === 'terrain' ? [properties] : []))).toEqual(
      [expect.objectContaining({ heightFt: 3000, source: 'spot-heights' })],
    );
  });
});

describe('orographyM', () => {
  /** Runs of one hour each, of a spacing and with the model's ground at each point; null is no column there. */
  const runsOf = (...runs: readonly (readonly [number, readonly (number | null)[]])[]) =>
    ({
      runs: runs.map(([spacingM, heights]) => ({
        hours: [{ spacingM }],
        columns: [
          heights.map((surfaceHeightM) =>
            surfaceHeightM === null ? undefined : { kind: 'profile', profile: { surfaceHeightM } },
          ),
        ],
      })),
    }) as unknown as Parameters<typeof orographyM>[0];
  const NONE = Number.NaN;

  test('is the highest of a point and its neighbors, since a point speaks half way to them', () => {
    expect([...orographyM(runsOf([3000, [100, 400, 200, 50, 60]]), 5)]).toEqual([400, 400, 400, 200, 60]);
  });

  test('is the highest that any run has', () => {
    const found = orographyM(runsOf([3000, [100, null, NONE]], [25_000, [90, 300, 20]]), 3);
    expect([...found]).toEqual([300, 300, 300]);
  });

  test('stays unknown where no run has any, whatever the neighbors have', () => {
    expect([...orographyM(runsOf([3000, [100, null, NONE, 200]]), 4)]).toEqual([100, NONE, NONE, 200]);
    expect([...orographyM({ runs: [] }, 2)]).toEqual([NONE, NONE]);
  });

  test('takes nothing from a grid coarser than the corridor is wide', () => {
    expect([...orographyM(runsOf([111_000, [100, 100]]), 2)]).toEqual([NONE, NONE]);
    expect([...orographyM(runsOf([27_800, [100, 100]]), 2)]).toEqual([100, 100]);
  });
});
