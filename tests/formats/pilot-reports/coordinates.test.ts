import { describe, expect, test } from 'vitest';
import {
  coordinatesAt,
  readCoordinates,
  readHalf,
} from '../../../worker/formats/pilot-reports/coordinates.ts';

describe('readCoordinates', () => {
  test.each([
    ['N4320 W07005', 43 + 20 / 60, -(70 + 5 / 60)],
    ['N48 E071', 48, 71],
    ['S5330 E06530', -53.5, 65.5],
    ['N2020W07005', 20 + 20 / 60, -(70 + 5 / 60)],
    ['S4812E01036', -48.2, 10.6],
    ['5230N02015W', 52.5, -20.25],
    ['3816N 09429W', 38 + 16 / 60, -(94 + 29 / 60)],
    ['3336N 165E', 33.6, 165],
    ['12N 130E', 12, 130],
    ['42N 89W', 42, -89],
    ['35.5N 90.25W', 35.5, -90.25],
    ['N433015 W0700545', 43 + 30 / 60 + 15 / 3600, -(70 + 5 / 60 + 45 / 3600)],
    ['N90 E180', 90, 180],
    ['S00 W000', 0, 0],
  ])('%s', (text, latDeg, lonDeg) => {
    const found = readCoordinates(text);
    expect(found?.latDeg).toBeCloseTo(latDeg, 10);
    expect(found?.lonDeg).toBeCloseTo(lonDeg, 10);
  });

  test.each([
    ['minutes of latitude beyond 59', 'N4360 W07005'],
    ['minutes of longitude beyond 59', 'N4320 W07060'],
    ['seconds beyond 59', 'N432060 W0700500'],
    ['latitude beyond 90', 'N91 W070'],
    ['minutes beyond the pole', 'N9001 W070'],
    ['longitude beyond 180', 'N43 W181'],
    ['minutes beyond the antimeridian', 'N43 W18001'],
    ['odd figures of latitude', 'N432 W07005'],
    ['no side', '4320 07005'],
    ['sides swapped', 'W07005 N4320'],
    ['more text', 'N4320 W07005 X'],
    ['nothing', ''],
  ])('refuses %s', (_, text) => {
    expect(readCoordinates(text)).toBeUndefined();
  });

  test('coordinatesAt starts at an offset and says where the text goes on', () => {
    const text = 'WI N4400 W09000 - N4500 W08600';
    expect(coordinatesAt(text, 3)).toEqual({ latDeg: 44, lonDeg: -90, end: 15 });
    expect(coordinatesAt(text, 4)).toBeUndefined();
  });
});

describe('readHalf', () => {
  test.each([
    ['N54', 'lat', 54],
    ['S4530', 'lat', -45.5],
    ['W012', 'lon', -12],
    ['E15540', 'lon', 155 + 40 / 60],
    ['4100N', 'lat', 41],
    ['01530E', 'lon', 15.5],
  ])('%s', (text, axis, deg) => {
    expect(readHalf(text)).toMatchObject({ axis });
    expect(readHalf(text)!.deg).toBeCloseTo(deg, 10);
  });

  test.each(['N91', 'E181', 'N4560', 'N', '54', 'N54E'])('refuses %s', (text) => {
    expect(readHalf(text)).toBeUndefined();
  });
});
