import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import { parseRouteText } from '../../worker/formats/route-text.ts';

function refusalOf(text: string): InvalidRequestError {
  try {
    parseRouteText(text);
  } catch (error) {
    expect(error).toBeInstanceOf(InvalidRequestError);
    return error as InvalidRequestError;
  }
  throw new Error(`"${text}" was read`);
}

describe('parseRouteText', () => {
  test('reads identifiers and leaves DCT out', () => {
    expect(parseRouteText('KBTV DCT MPV DCT KBGR').map((element) => element.text)).toEqual([
      'KBTV',
      'MPV',
      'KBGR',
    ]);
  });

  test('reads coordinates in degrees and in degrees and minutes, north and south, east and west', () => {
    const [first, second, third] = parseRouteText('44N073W 4420N07130W 4630S16545E');
    expect(first).toMatchObject({ kind: 'coordinates', latDeg: 44, lonDeg: -73 });
    expect(second).toMatchObject({ kind: 'coordinates', latDeg: 44 + 20 / 60, lonDeg: -71.5 });
    expect(third).toMatchObject({ kind: 'coordinates', latDeg: -46.5, lonDeg: 165.75 });
  });

  test('reads a bearing and distance from an identifier, the distance in m', () => {
    const [, element] = parseRouteText('KBTV KBTV090020 KBGR');
    expect(element).toEqual({
      kind: 'bearing-distance',
      text: 'KBTV090020',
      identifier: 'KBTV',
      bearingMagneticDeg: 90,
      distanceM: 37040,
      speedLevel: undefined,
    });
  });

  test('takes the last six digits as bearing and distance of an identifier with digits', () => {
    const [, element] = parseRouteText('KBTV 4B6090020 KBGR');
    expect(element).toMatchObject({ identifier: '4B6', bearingMagneticDeg: 90 });
  });

  test('keeps speed and level groups with their place, joined by a slash or alone', () => {
    const elements = parseRouteText('N0150F090 KBTV/N0160A110 DCT 44N072W N0165F130 KBGR');
    expect(elements.map((element) => [element.text, element.speedLevel])).toEqual([
      ['KBTV', 'N0160A110'],
      ['44N072W', 'N0165F130'],
      ['KBGR', undefined],
    ]);
  });

  test('a leading speed and level group stays with the first place', () => {
    expect(parseRouteText('N0150F090 KBTV KBGR')[0]).toMatchObject({
      text: 'KBTV',
      speedLevel: 'N0150F090',
    });
  });

  test.each(['kbtv kbgr', 'KBTV..KBGR', 'KBTV-KBGR', 'KBTV -> KBGR', '  KBTV\n\tKBGR ', 'KBTV>KBGR'])(
    'reads "%s" as the same two places',
    (text) => {
      expect(parseRouteText(text).map((element) => element.text)).toEqual(['KBTV', 'KBGR']);
    },
  );
});

describe('parseRouteText refuses', () => {
  test.each([
    ['KBTV V3 KBGR', 'V3', 'airway'],
    ['KBTV J95 KBGR', 'J95', 'airway'],
    ['KBTV Q935 KBGR', 'Q935', 'airway'],
    ['KBTV UL607 KBGR', 'UL607', 'airway'],
    ['KBTV 91N073W KBGR', '91N073W', 'latitude'],
    ['KBTV 9001N07300W KBGR', '9001N07300W', 'latitude'],
    ['KBTV 44N181W KBGR', '44N181W', 'longitude'],
    ['KBTV 4460N07130W KBGR', '4460N07130W', 'minutes'],
    ['KBTV 4420N07160W KBGR', '4420N07160W', 'minutes'],
    ['KBTV 4420N073W KBGR', '4420N073W', 'both'],
    ['KBTV KBTV361020 KBGR', 'KBTV361020', 'bearing'],
    ['KBTV KBTV090000 KBGR', 'KBTV090000', 'distance'],
    ['KBTV GAT KBGR', 'GAT', 'flight rules'],
    ['VFR KBTV KBGR', 'VFR', 'after a place'],
    ['KBTV DCT IFR KBGR', 'IFR', 'after a place'],
    ['KBTV VFR IFR KBGR', 'IFR', 'one change'],
    ['KBTV SSOXS5 KBGR', 'SSOXS5', 'departure and arrival designators'],
    ['KBTV KODAP2A KBGR', 'KODAP2A', 'departure and arrival designators'],
    ['KBTV MPV T', 'T', 'the whole route'],
    ['KBTV T KBGR', 'KBGR', 'nothing after T'],
    ['T', 'T', 'after a place'],
    ['KBTV/N0160A110 N0150F090 KBGR', 'N0150F090', 'one speed and level'],
    ['KBTV N0000F090 KBGR', 'N0000F090', 'speed above 0'],
    ['KBTV 442060N0713000W KBGR', '442060N0713000W', 'seconds'],
    ['KBTV 4420N0713000W KBGR', '4420N0713000W', 'both'],
    ['KBTV C/48N050W KBGR', 'C/48N050W', 'cruise climb'],
    ['KBTV C/48N050W/M082F290 KBGR', 'C/48N050W', 'cruise climb'],
    ['KBTV C/48N050W/M082F350F290 KBGR', 'C/48N050W', 'above the first'],
    ['KBTV C/48N050W/M082F290A350 KBGR', 'C/48N050W', 'same surface'],
    ['KBTV TOOLONG KBGR', 'TOOLONG', 'identifier'],
    ['KBTV 12345 KBGR', '12345', 'identifier'],
    ['KBTV K KBGR', 'K', 'identifier'],
    ['KBTV K.GR KBGR', 'K.GR', 'identifier'],
    ['KBTV/FAST KBGR', 'KBTV/FAST', 'speed and level'],
    ['KBTV/N0160A110/N0160A110 KBGR', 'KBTV/N0160A110', 'speed and level'],
    ['DCT KBTV KBGR', 'DCT', 'between'],
    ['KBTV DCT DCT KBGR', 'DCT', 'between'],
    ['KBTV KBGR DCT', 'after DCT', 'place'],
    ['KBTV', 'one place', 'two places'],
    ['', 'no place', 'two places'],
  ])('refuses "%s", naming %s and what is expected', (text, found, expected) => {
    const error = refusalOf(text);
    expect(error.field).toBe('route');
    expect(error.found).toContain(found);
    expect(error.expected).toContain(expected);
  });

  test('says which word is wrong', () => {
    expect(refusalOf('KBTV DCT V3 KBGR').found).toBe('"V3" (word 3)');
  });

  test('accepts 100 places and refuses 101', () => {
    const places = (count: number) =>
      Array.from({ length: count }, (_, index) => `AA${index % 10}A`).join(' ');
    expect(parseRouteText(places(100))).toHaveLength(100);
    expect(refusalOf(places(101)).expected).toContain('100 places');
  });

  test('refuses text longer than 2,000 characters before reading it', () => {
    expect(refusalOf(`KBTV KBGR ${' '.repeat(2000)}`).found).toContain('2010 characters');
  });
});

describe('parseRouteText, properties', () => {
  test('reads back every position written in degrees and minutes', () => {
    const minutes = fc.integer({ min: 0, max: 59 });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 89 }),
        minutes,
        fc.integer({ min: 0, max: 179 }),
        minutes,
        (lat, latMinutes, lon, lonMinutes) => {
          const two = (value: number) => String(value).padStart(2, '0');
          const text = `${two(lat)}${two(latMinutes)}S${String(lon).padStart(3, '0')}${two(lonMinutes)}E`;
          expect(parseRouteText(`KBTV ${text}`)[1]).toMatchObject({
            latDeg: 0 - (lat + latMinutes / 60),
            lonDeg: lon + lonMinutes / 60,
          });
        },
      ),
      { seed: 20260114 },
    );
  });

  test('answers any text with places or an InvalidRequestError of field route', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (text) => {
        try {
          expect(parseRouteText(text).length).toBeGreaterThanOrEqual(2);
        } catch (error) {
          expect(error).toMatchObject({ kind: 'invalid-request', field: 'route' });
        }
      }),
      { seed: 20260114, numRuns: 200 },
    );
  });
});
