import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { isInBox } from '../../worker/flight/hazard-areas.ts';
import { regionBox, stationBox } from '../../worker/sources/region-boxes.ts';
import type { AerodromeRow } from '../../worker/store/place-repository.ts';

const rows = JSON.parse(
  readFileSync(new URL('../../worker/generated/aerodromes.json', import.meta.url), 'utf8'),
) as readonly AerodromeRow[];
const indicators = rows.filter(([ident]) => /^[A-Z]{4}$/.test(ident));

it.each([
  ['region', regionBox],
  ['station', stationBox],
] as const)('every aerodrome of the bundled list lies in the box of its %s', (_, boxOf) => {
  const outside = indicators.filter(
    ([ident, , latDeg, lonDeg]) => !isInBox(boxOf(ident), { latDeg, lonDeg }),
  );
  // A field in the north of Canada whose identifier in the list is no location indicator.
  expect(outside.map(([ident]) => ident)).toEqual(['ZHZH']);
  expect(indicators.length).toBeGreaterThan(4000);
});

it.each([
  ['KZNY', 44, -72, true],
  ['KZNY', 50, 9, false],
  ['EDGG', 44, -72, false],
  ['UHHH', 66, -170, true],
])('%s may speak for %d, %d: %s', (indicator, latDeg, lonDeg, isInside) => {
  expect(isInBox(regionBox(indicator), { latDeg, lonDeg })).toBe(isInside);
});

it.each(['KZAK', 'PAZA', 'NZZO', 'YUDD', 'BOS', '', undefined])('%s leaves nothing out', (indicator) => {
  expect(regionBox(indicator)).toBeUndefined();
});

it.each(['KZZZ', 'PAZZ'])('a station %s is not in Hawaii', (station) => {
  expect(isInBox(stationBox(station), { latDeg: 21, lonDeg: -157 })).toBe(false);
});
