/** Comparison of wind, sky and weather with the values that a manual prints. */
import type { Conditions } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import type { PublishedComparison } from '../../support/published-values.ts';

export const WHOLE = { abs: 1e-9, why: 'the example prints the whole value' };
export const CONVERTED = { abs: 1e-6, why: 'exact factor between the units' };

/** Direction, speed and perhaps gust: two or three values. */
export function compareWind(
  published: PublishedComparison,
  found: Conditions,
  [directionDeg, speedKt, gustKt]: readonly [number, number, number?],
): void {
  published.close(found.wind!.directionDeg!, directionDeg, WHOLE);
  published.close(found.wind!.speedKt!, speedKt, CONVERTED);
  if (gustKt !== undefined) published.close(found.wind!.gustKt!, gustKt, CONVERTED);
}

/** The number of layers, then amount, base and type of each. */
export function compareLayers(
  published: PublishedComparison,
  found: Conditions,
  rows: readonly (readonly [string, number, ('CB' | null)?])[],
): void {
  published.close(found.sky!.layers.length, rows.length, WHOLE);
  rows.forEach(([amount, baseFt, type = null], index) => {
    const layer = found.sky!.layers[index]!;
    published.same<string | null>(layer.amount, amount, `amount of layer ${index}`);
    published.close(layer.baseAglFt!, baseFt, WHOLE);
    published.same(layer.type as string | null, type, `type of layer ${index}`);
  });
}

/** The groups of the weather as they stand. */
export const weatherText = (conditions: Conditions) => conditions.weather.map(({ text }) => text).join(' ');
