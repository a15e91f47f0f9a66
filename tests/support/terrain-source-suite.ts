/** What holds for every source of terrain, whatever it is made of. */
import { expect, test } from 'vitest';
import { terrainStretches } from '../../worker/flight/terrain-stretch.ts';
import type { RoutePoints } from '../../worker/flight/types.ts';
import { mFromNm } from '../../worker/science/units.ts';
import type { TerrainSource } from '../../worker/sources/ports.ts';

/** @param known  A route whose ground the source knows. @param unknown  One whose ground it does not. */
export function terrainSourceSuite(
  source: () => TerrainSource,
  routes: { readonly known: RoutePoints; readonly unknown: RoutePoints },
): void {
  const groundOf = (route: RoutePoints, halfWidthNm: number) =>
    source().highestGround(terrainStretches(route), mFromNm(halfWidthNm));

  test('answers each stretch, in order, and says who made the heights', async () => {
    const forth = await groundOf(routes.known, 4);
    expect(forth).toHaveLength(routes.known.pointCount);
    const back = await source().highestGround(terrainStretches(routes.known).toReversed(), mFromNm(4));
    expect(back.toReversed()).toEqual(forth);
    expect(source().attribution).not.toBe('');
  });

  test('knows heights, and at least as much of them as the highest', async () => {
    for (const ground of await groundOf(routes.known, 4)) {
      expect(ground.highestM).toBeGreaterThan(-500);
      expect(ground.atLeastM).toBe(ground.highestM);
      expect(ground.allowanceM).toBeGreaterThan(0);
    }
  });

  test('has no lower ground in a wider corridor', async () => {
    const widths = await Promise.all(
      [0.5, 2, 5, 10, 20].map((halfWidthNm) => groundOf(routes.known, halfWidthNm)),
    );
    let rises = 0;
    widths.slice(1).forEach((wider, index) => {
      wider.forEach((ground, point) => {
        const before = widths[index]![point]!;
        expect(ground.highestM).toBeGreaterThanOrEqual(before.highestM);
        rises += Number(ground.highestM > before.highestM);
      });
    });
    expect(rises).toBeGreaterThan(0);
  });

  test('leaves what it does not know unknown', async () => {
    const ground = await groundOf(routes.unknown, 4);
    expect(ground).toHaveLength(routes.unknown.pointCount);
    for (const { highestM, atLeastM, isMountainous } of ground) {
      expect([highestM, atLeastM, isMountainous]).toEqual([Number.NaN, Number.NaN, undefined]);
    }
  });
}
