import { describe, expect, test } from 'vitest';
import { geoJsonOf } from '../../../worker/formats/warnings/geojson.ts';
import type { WarningGeometry } from '../../../worker/formats/warnings/warning.ts';
import { greatCircleDistanceM } from '../../../worker/science/great-circle.ts';
import { nmFromM } from '../../../worker/science/units.ts';
import { icao, readOne } from './warning-context.ts';

const geometry = (area: string): WarningGeometry => icao(`${area} FL100/200 STNR NC`).areas[0]!.geometry;
const us = (area: string): WarningGeometry =>
  readOne(`SIGMET PAPA 2 VALID UNTIL 151000\nWI MI\n${area}\nOCNL SEV ICE BTN 040 AND FL220.`).areas[0]!
    .geometry;
const reason = (found: WarningGeometry) => (found.kind === 'unknown' ? found.reason : found.kind);

describe('geometryOf', () => {
  test('a ring as printed, closed, counter-clockwise whichever way it was printed', () => {
    const ring = [
      { latDeg: 43, lonDeg: -85 },
      { latDeg: 45, lonDeg: -86 },
      { latDeg: 44, lonDeg: -90 },
      { latDeg: 43, lonDeg: -85 },
    ];
    expect(geometry('WI N43 W085 - N45 W086 - N44 W090 - N43 W085')).toEqual({ kind: 'polygon', ring });
    // The other way round it starts at the corner before.
    const found = geometry('WI N4400 W09000 - N4500 W08600 - N4300 W08500 - N4400 W09000');
    expect(found).toEqual({ kind: 'polygon', ring: [ring[0], ring[1], ring[2], ring[0]] });
  });

  test('an open ring is closed, and a corner said twice is one', () => {
    const closed = geometry('WI N43 W085 - N45 W086 - N44 W090 - N43 W085');
    expect(geometry('WI N43 W085 - N45 W086 - N44 W090')).toEqual(closed);
    expect(geometry('WI N43 W085 - N45 W086 - N45 W086 - N44 W090 - N43 W085')).toEqual(closed);
  });

  test('fixes are looked up, with distance and point of the compass', () => {
    const found = us('FROM 60N AAA TO BBB TO CCC TO 60N AAA');
    if (found.kind !== 'polygon') throw new Error(reason(found));
    expect(found.ring).toHaveLength(4);
    const north = found.ring.find(({ lonDeg }) => Math.abs(lonDeg + 90) < 1e-9)!;
    expect(nmFromM(greatCircleDistanceM(north, { latDeg: 44, lonDeg: -90 }))).toBeCloseTo(60, 6);
    expect(north.latDeg).toBeGreaterThan(44);
  });

  test('a circle and a wide line keep their measures in meters', () => {
    expect(geometry('WI 50NM OF N5030 W00200')).toEqual({
      kind: 'circle',
      center: { latDeg: 50.5, lonDeg: -2 },
      radiusM: 92_600,
    });
    expect(geometry('APRX 50KM WID LINE BTN N64 W017 - N60 W010')).toMatchObject({
      kind: 'line',
      halfWidthM: 25_000,
    });
  });

  test('sides keep their lines, and are no closed area', () => {
    expect(geometry('NW OF LINE N50 E042 - N51 E037 AND N OF N40')).toEqual({
      kind: 'sides',
      boundaries: [
        {
          kind: 'line',
          side: 'NW',
          points: [
            { latDeg: 50, lonDeg: 42 },
            { latDeg: 51, lonDeg: 37 },
          ],
        },
        { kind: 'parallel', side: 'N', latDeg: 40 },
      ],
    });
  });

  test('a whole region has the border that is given for it', () => {
    const found = readOne('ZZYY SIGMET 1 VALID 150600/151000 ZZYY- ZZYY EXAMPLE FIR SEV ICE FCST ENTIRE FIR');
    expect(found.areas[0]!.geometry).toMatchObject({ kind: 'polygon' });
    expect(reason(geometry('ENTIRE FIR'))).toBe(
      'area: found the whole of ZZZZ, whose border is not known, expected a known region',
    );
  });

  test.each([
    ['two points', () => geometry('WI S3259W05805 S3239W05310'), '2 different points'],
    ['a ring of two points', () => geometry('WI N43 W085 - N45 W086 - N43 W085'), '2 different points'],
    [
      'edges that cross',
      () => geometry('WI N40 W090 - N42 W088 - N40 W088 - N42 W090 - N40 W090'),
      'edges that cross',
    ],
    [
      'a ring about the pole',
      () => geometry('WI N80 E000 - N80 E120 - N80 W120 - N80 E000'),
      'a ring about a pole',
    ],
    ['an unknown fix', () => us('FROM AAA TO BBB TO XXX TO AAA'), 'fix: found XXX'],
    ['a tropical cyclone', () => geometry('WI 250NM OF TC CENTRE'), 'TC CENTRE'],
    ['a line of one point', () => geometry('APRX 50KM WID LINE BTN N50 E010 - N50 E010'), 'one point'],
  ])('%s gives no geometry, with the reason', (_, found, words) => {
    expect(found().kind).toBe('unknown');
    expect(reason(found())).toContain(words);
    expect(geoJsonOf(found())).toBeUndefined();
  });
});
