import { describe, expect, test } from 'vitest';
import { assertClose } from '../../support/assert-close.ts';
import { body, textsOf } from './read-one.ts';

describe('wind', () => {
  // 1 m/s is 3600/1852 kt, 1 km/h 1/1.852 kt.
  test.each([
    ['02012KT', { directionDeg: 20, speedKt: 12, gustKt: null, isVariable: false, unit: 'KT' }],
    ['36005G15KT', { directionDeg: 360, speedKt: 5, gustKt: 15 }],
    ['00000KT', { directionDeg: 0, speedKt: 0 }],
    ['VRB03KT', { directionDeg: null, isVariable: true, speedKt: 3 }],
    ['120105G120KT', { directionDeg: 120, speedKt: 105, gustKt: 120, speedBound: 'exact' }],
    ['240P99KT', { speedKt: 99, speedBound: 'above' }],
    ['24080GP99KT', { speedKt: 80, speedBound: 'exact', gustKt: 99, gustBound: 'above' }],
    ['24004MPS', { speedKt: (4 * 3600) / 1852, unit: 'MPS' }],
    ['24018KMH', { speedKt: 18 / 1.852, unit: 'KMH' }],
    ['///25KT', { directionDeg: null, isVariable: false, speedKt: 25 }],
    ['080//KT', { directionDeg: 80, speedKt: null }],
  ])('%s', (group, expected) => {
    const { wind, unread } = body(group);
    const { speedKt, ...exact } = expected as { speedKt?: number | null };
    expect(wind).toMatchObject(exact);
    if (typeof speedKt === 'number') assertClose(wind!.speedKt!, speedKt, { rel: 1e-12, why: 'same factor' });
    else if (speedKt === null) expect(wind!.speedKt).toBeNull();
    expect(unread).toEqual([]);
  });

  test('extreme directions belong to the wind before them, and come once', () => {
    expect(body('09004KT 060V120 9999').wind).toMatchObject({ variableFromDeg: 60, variableToDeg: 120 });
    expect(body('060V120 09004KT 9999')).toMatchObject({
      unread: [{ text: '060V120' }],
      wind: { variableFromDeg: null },
    });
    expect(textsOf(body('09004KT 060V120 050V130').unread)).toEqual(['050V130']);
  });

  test.each([
    '37012KT',
    '361P99KT',
    '020251KT',
    '02099G251KT',
    '3.70833304KT',
    'E03010KT',
    '30004KI',
    '2012KT',
  ])('%s is no wind, and kept', (group) => {
    expect(body(`${group} 9999`)).toMatchObject({ unread: [{ text: group }], wind: null });
  });

  test('the fastest and the furthest that are read', () => {
    expect(body('360250KT').wind).toMatchObject({ directionDeg: 360, speedKt: 250 });
  });

  test.each(['060V361', '361V060', '060V12'])('%s are no directions, and kept', (group) => {
    expect(body(`02012KT ${group}`)).toMatchObject({
      unread: [{ text: group }],
      wind: { variableFromDeg: null },
    });
  });

  test('a second wind is kept apart', () => {
    expect(body('02012KT 03013KT')).toMatchObject({
      wind: { directionDeg: 20 },
      unread: [{ text: '03013KT' }],
    });
  });

  test.each(['/////KT', '/////'])('%s was not observed', (group) => {
    const { wind, notObserved, temperatureC } = body(`${group} 9999 OVC016 25/21 Q1014`);
    expect(wind).toMatchObject({ directionDeg: null, isVariable: false, speedKt: null });
    expect(notObserved).toEqual(['wind']);
    expect(temperatureC).toBe(25);
  });
});

describe('visibility', () => {
  const MILE = 1609.344;
  test.each([
    ['9999', 10_000, 'above'],
    ['CAVOK', 10_000, 'above'],
    ['0800', 800, 'exact'],
    ['0000', 50, 'below'],
    ['M0300', 300, 'below'],
    ['0200M', 200, 'exact'],
    ['10KM', 10_000, 'above'],
    ['7KM', 7000, 'exact'],
    ['10SM', 10 * MILE, 'exact'],
    ['P6SM', 6 * MILE, 'above'],
    ['3/4SM', 0.75 * MILE, 'exact'],
    ['1/16SM', MILE / 16, 'exact'],
    ['M1/4SM', MILE / 4, 'below'],
    ['1 1/2SM', 1.5 * MILE, 'exact'],
    ['2 3/4SM', 2.75 * MILE, 'exact'],
  ])('%s', (groups, meters, bound) => {
    const { visibility, unread } = body(`02012KT ${groups} -SN`);
    assertClose(visibility!.visibilityM!, meters, { rel: 1e-12, why: 'exact factor' });
    expect(visibility!.bound).toBe(bound);
    expect(unread).toEqual([]);
  });

  test('directions, no directions, and a lowest value without one', () => {
    expect(body('0650 0500NE 1200S').visibility).toMatchObject({
      visibilityM: 650,
      directions: [
        { visibilityM: 500, direction: 'NE' },
        { visibilityM: 1200, direction: 'S' },
      ],
    });
    expect(body('8000NW').visibility).toMatchObject({
      visibilityM: null,
      directions: [{ visibilityM: 8000, direction: 'NW' }],
    });
    expect(body('6000NDV').visibility).toMatchObject({ visibilityM: 6000, isWithoutDirections: true });
    expect(body('6000 1500').visibility).toMatchObject({ visibilityM: 6000, minimumM: 1500 });
    expect(textsOf(body('6000 1500 1400').unread)).toEqual(['1400']);
    // Further on it is no visibility: a trend whose word is misspelled.
    expect(body('5000 HZ 15/09 Q1014 TEMP 3000')).toMatchObject({
      visibility: { visibilityM: 5000, minimumM: null },
      unread: [{ element: 'change', text: 'TEMP 3000' }],
    });
  });

  test.each(['1/0SM', '3/0SM', 'SM', '12345', '400', '9999NNE'])('%s is no visibility, and kept', (group) => {
    expect(body(`00000KT ${group}`)).toMatchObject({ visibility: null, unread: [{ text: group }] });
  });

  test.each(['////', '////SM'])('%s was not observed', (group) => {
    const { visibility, notObserved } = body(`00000KT ${group} OVC010`);
    expect(visibility).toMatchObject({ visibilityM: null });
    expect(notObserved).toEqual(['visibility']);
  });

  test('a direction alone is an observation', () => {
    expect(body('8000NW').notObserved).toEqual([]);
  });
});

describe('runway visual range', () => {
  test.each([
    ['R24/1100U', { runway: '24', visualRangeM: 1100, bound: 'exact', highestM: null, tendency: 'up' }],
    ['R12L/P1500N', { runway: '12L', visualRangeM: 1500, bound: 'above', tendency: 'none' }],
    ['R30/M0200', { visualRangeM: 200, bound: 'below', tendency: null }],
    ['R27/0600V0800D', { visualRangeM: 600, highestM: 800, tendency: 'down' }],
    ['R06/6000FT', { visualRangeM: 1828.8 }],
    ['R07R/3000VP6000FT', { visualRangeM: 914.4, highestM: 1828.8, bound: 'exact', highestBound: 'above' }],
    ['R11/3000V4500FT/U', { visualRangeM: 914.4, highestM: 1371.6, tendency: 'up' }],
    ['R35/M0600V1000FT/D', { bound: 'below', highestBound: 'exact', tendency: 'down' }],
    ['R20/////', { runway: '20', visualRangeM: null }],
  ])('%s', (group, expected) => {
    const { runwayVisualRanges, unread } = body(`0450 ${group} FG`);
    const { visualRangeM, highestM, ...exact } = expected as { visualRangeM?: number; highestM?: number };
    const range = runwayVisualRanges[0]!;
    expect(range).toMatchObject(exact);
    const why = '0.3048 m a foot';
    if (typeof visualRangeM === 'number') assertClose(range.visualRangeM!, visualRangeM, { abs: 1e-9, why });
    if (typeof highestM === 'number') assertClose(range.highestM!, highestM, { abs: 1e-9, why });
    expect(unread).toEqual([]);
  });

  test('a range that was not observed is said to be so', () => {
    expect(body('0450 R20///// FG').notObserved).toEqual(['runway-visual-range']);
    expect(body('0450 R20/0500 FG').notObserved).toEqual([]);
  });

  test.each(['RMID/0300', 'R33/800V100N', 'R//////', 'R24/'])('%s is kept', (group) => {
    expect(body(`0450 ${group}`)).toMatchObject({ runwayVisualRanges: [], unread: [{ text: group }] });
  });
});
