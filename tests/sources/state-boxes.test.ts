import type { Feature, MultiPolygon, Polygon, Position } from 'geojson';
import { feature } from 'topojson-client';
import statesAtlas from 'us-atlas/states-10m.json' with { type: 'json' };
import { describe, expect, it } from 'vitest';
import { isInBox } from '../../worker/flight/hazard-areas.ts';
import { statesBox } from '../../worker/sources/state-boxes.ts';

const NAMES =
  'AL Alabama; AR Arkansas; AZ Arizona; CA California; CO Colorado; CT Connecticut; DC District of Columbia; DE Delaware; FL Florida; GA Georgia; IA Iowa; ID Idaho; IL Illinois; IN Indiana; KS Kansas; KY Kentucky; LA Louisiana; MA Massachusetts; MD Maryland; ME Maine; MI Michigan; MN Minnesota; MO Missouri; MS Mississippi; MT Montana; NC North Carolina; ND North Dakota; NE Nebraska; NH New Hampshire; NJ New Jersey; NM New Mexico; NV Nevada; NY New York; OH Ohio; OK Oklahoma; OR Oregon; PA Pennsylvania; RI Rhode Island; SC South Carolina; SD South Dakota; TN Tennessee; TX Texas; UT Utah; VA Virginia; VT Vermont; WA Washington; WI Wisconsin; WV West Virginia; WY Wyoming';
const CODES = NAMES.split('; ').map((each) => [each.slice(0, 2), each.slice(3)] as const);

type Atlas = Parameters<typeof feature>[0];
const atlas = statesAtlas as unknown as Atlas;
const shapes = (
  feature(atlas, atlas.objects.states!) as unknown as { features: Feature<Polygon | MultiPolygon>[] }
).features;

function cornersOf(name: string): Position[] {
  const geometry = shapes.find(({ properties }) => properties?.name === name)!.geometry;
  const rings = geometry.type === 'Polygon' ? geometry.coordinates : geometry.coordinates.flat();
  return rings.flat();
}

describe('statesBox', () => {
  it.each(CODES)('of %s holds all of %s', (code, name) => {
    const corners = cornersOf(name);
    expect(corners.length).toBeGreaterThan(3);
    const box = statesBox(code)!;
    expect(corners.filter(([lonDeg, latDeg]) => !isInBox(box, { latDeg: latDeg!, lonDeg: lonDeg! }))).toEqual(
      [],
    );
  });

  it('holds every contiguous state and no other', () => {
    expect(CODES).toHaveLength(49);
    expect(statesBox('AK')).toBeUndefined();
  });

  it('of several holds them all, and goes further over the sea', () => {
    expect(statesBox('ME NH VT NY LO')).toEqual({ southDeg: 38, northDeg: 52, westDeg: -95, eastDeg: -64 });
    expect(statesBox('MA RI AND ADJ CSTL WTRS')).toEqual({
      southDeg: 35,
      northDeg: 49,
      westDeg: -80,
      eastDeg: -63,
    });
  });

  it.each(['', undefined, 'ME QQ', 'CSTL WTRS', 'FL AND GULF'])('%j leaves nothing out', (places) => {
    expect(statesBox(places)).toBeUndefined();
  });
});
