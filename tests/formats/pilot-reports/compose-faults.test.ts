/** Whatever the form cannot carry is a fault that names the member, what was found and what was expected. */
import { describe, expect, test } from 'vitest';
import type { ReportEntry } from '../../../worker/formats/pilot-reports/compose.ts';
import { readOne } from './report-context.ts';
import { composed, entryWith, faultsOf } from './report-entries.ts';

/** An entry as a page may send it whatever its type says. */
const loose = (changed: Readonly<Record<string, unknown>>) => entryWith(changed as Partial<ReportEntry>);
const radial = (radialDeg: unknown, distanceNm: unknown, identifier = 'ABC') => ({
  place: { kind: 'radial', identifier, radialDeg, distanceNm },
});
const fix = (identifier: string) => ({ place: { kind: 'fix', identifier } });
const sky = (...layers: readonly object[]) => ({
  sky: layers.map((layer) => ({ thinnest: 'broken', thickest: 'broken', ...layer })),
});
const icing = (changed: object) => ({
  icing: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'rime', ...changed },
});
const turbulence = (changed: object) => ({
  turbulence: { kind: 'met', lightest: 'light', heaviest: 'light', what: 'unstated', ...changed },
});

const STATION = 'three or four letters and figures';
const IDENTIFIER = 'two to five letters and figures';
const NO_WORD = 'no word of the location: give a radial and distance';
const DEGREES = 'a whole number from 1 to 360 degrees';
const NAUTICAL_MILES = 'a whole number from 1 to 999 NM';
const ALTITUDE = 'whole 100s from 100 to 60000 ft';
const HEIGHT = 'whole 100s from 0 to 60000 ft';
const TYPE = 'two to four letters and figures, a letter first';
const CELSIUS = 'a whole number from -99 to 60 degrees Celsius';
const GROUP = 'a group of present weather, as -FZRA';
const REMARKS = "letters, figures, blanks and . , : ? ( ) ' + - /";
const CLEAR = 'clear without heights, and last';
const AMOUNT = 'one of few, scattered, broken, overcast';
const ICE = 'one of trace, light, moderate, severe';

test.each<[changed: Readonly<Record<string, unknown>>, field: string, found: string, expected: string]>([
  [{ station: '' }, 'station', '""', STATION],
  [{ station: 'AB' }, 'station', '"AB"', STATION],
  [{ station: 'KABCD' }, 'station', '"KABCD"', STATION],
  [{ station: '1234' }, 'station', '"1234"', STATION],
  [{ station: 'A/C' }, 'station', '"A/C"', STATION],
  [{ station: 'ZCZC' }, 'station', '"ZCZC"', STATION],
  [{ station: 'X'.repeat(10_000) }, 'station', `"${'X'.repeat(40)}…"`, STATION],
  [fix('A'), 'place.identifier', '"A"', IDENTIFIER],
  [fix('ABC/IC NEG'), 'place.identifier', '"ABC/IC NEG"', IDENTIFIER],
  [fix('12345'), 'place.identifier', '"12345"', IDENTIFIER],
  [fix('UNKN'), 'place.identifier', '"UNKN"', IDENTIFIER],
  [fix('FINAL'), 'place.identifier', '"FINAL"', NO_WORD],
  [fix('ovr'), 'place.identifier', '"OVR"', NO_WORD],
  [radial(1, 1, 'ÅBC'), 'place.identifier', '"ÅBC"', IDENTIFIER],
  [radial(0, 10), 'place.radialDeg', '0', DEGREES],
  [radial(361, 10), 'place.radialDeg', '361', DEGREES],
  [radial(12.5, 10), 'place.radialDeg', '12.5', DEGREES],
  [radial('090', 10), 'place.radialDeg', '"090"', DEGREES],
  [radial(90, 0), 'place.distanceNm', '0', NAUTICAL_MILES],
  [radial(90, 1000), 'place.distanceNm', '1000', NAUTICAL_MILES],
  [radial(90, Number.NaN), 'place.distanceNm', 'no number', NAUTICAL_MILES],
  [{ place: { kind: 'leg', identifier: 'ABC' } }, 'place.kind', '"leg"', 'fix or radial'],
  [{ timeMs: Number.NaN }, 'timeMs', 'no number', 'an instant, ms UTC'],
  [{ timeMs: Number.POSITIVE_INFINITY }, 'timeMs', 'Infinity', 'an instant, ms UTC'],
  [{ timeMs: 1e17 }, 'timeMs', '100000000000000000', 'an instant, ms UTC'],
  [{ altitudeFt: 0 }, 'altitudeFt', '0', ALTITUDE],
  [{ altitudeFt: 9050 }, 'altitudeFt', '9050', ALTITUDE],
  [{ altitudeFt: 60_100 }, 'altitudeFt', '60100', ALTITUDE],
  [{ altitudeFt: null }, 'altitudeFt', 'null', ALTITUDE],
  [{ phase: 'cruise' }, 'phase', '"cruise"', 'one of climb, descent'],
  [{ aircraftType: 'ZZZZZ' }, 'aircraftType', '"ZZZZZ"', TYPE],
  [{ aircraftType: '' }, 'aircraftType', '""', TYPE],
  [{ aircraftType: 'Z/IC' }, 'aircraftType', '"Z/IC"', TYPE],
  [sky(...Array(7).fill({})), 'sky', '"7 layers"', 'at most 6'],
  [sky({ thinnest: 'clear', thickest: 'clear' }, {}), 'sky.0', '"clear"', CLEAR],
  [sky({ thinnest: 'clear', thickest: 'clear', topFt: 900 }), 'sky.0', '"clear"', CLEAR],
  [sky({ thinnest: 'clear' }), 'sky.0.thinnest', '"clear"', AMOUNT],
  [sky({}, { thickest: 'full' }), 'sky.1.thickest', '"full"', AMOUNT],
  [sky({ thinnest: 'overcast' }), 'sky.0.thickest', '"broken"', 'overcast or more'],
  [sky({ thinnest: 'unstated', thickest: 'unstated' }), 'sky.0', '"no amount"', 'an amount, or a top alone'],
  [
    sky({ thinnest: 'unstated', thickest: 'unstated', baseFt: 100, topFt: 900 }),
    'sky.0',
    '"no amount"',
    'an amount, or a top alone',
  ],
  [sky({ baseFt: 3050 }), 'sky.0.baseFt', '3050', HEIGHT],
  [sky({ baseFt: -100 }), 'sky.0.baseFt', '-100', HEIGHT],
  [sky({ topFt: 0 }), 'sky.0.topFt', '0', ALTITUDE],
  [sky({ baseFt: 5000, topFt: 4000 }), 'sky.0.topFt', '4000', 'the base, 5000 ft, or higher'],
  [{ visibilitySm: 1.5 }, 'visibilitySm', '1.5', 'a whole number from 0 to 98 SM'],
  [{ visibilitySm: 99 }, 'visibilitySm', '99', 'a whole number from 0 to 98 SM'],
  [{ weather: Array(7).fill('SN') }, 'weather', '"7 groups"', 'at most 6'],
  [{ weather: ['SN', 'SNOW'] }, 'weather.1', '"SNOW"', GROUP],
  [{ weather: ['SN/IC NEG'] }, 'weather.0', '"SN/IC NEG"', GROUP],
  [{ temperatureC: -100 }, 'temperatureC', '-100', CELSIUS],
  [{ temperatureC: 61 }, 'temperatureC', '61', CELSIUS],
  [{ temperatureC: -7.5 }, 'temperatureC', '-7.5', CELSIUS],
  [{ wind: { directionDeg: 0, speedKt: 9 } }, 'wind.directionDeg', '0', DEGREES],
  [{ wind: { directionDeg: 9, speedKt: 301 } }, 'wind.speedKt', '301', 'a whole number from 0 to 300 kt'],
  [{ wind: { directionDeg: 9, speedKt: -1 } }, 'wind.speedKt', '-1', 'a whole number from 0 to 300 kt'],
  [{ turbulence: { kind: 'smooth' } }, 'turbulence.kind', '"smooth"', 'not-reported, none or met'],
  [
    turbulence({ heaviest: 'none' }),
    'turbulence.heaviest',
    '"none"',
    'one of light, moderate, severe, extreme',
  ],
  [turbulence({ lightest: 'severe' }), 'turbulence.heaviest', '"light"', 'severe or more'],
  [turbulence({ what: 'waves' }), 'turbulence.what', '"waves"', 'one of unstated, clear-air, chop'],
  [turbulence({ lowerFt: 50 }), 'turbulence.lowerFt', '50', HEIGHT],
  [icing({ lightest: 'none' }), 'icing.lightest', '"none"', ICE],
  [icing({ heaviest: 'constructor' }), 'icing.heaviest', '"constructor"', ICE],
  [icing({ lightest: 'moderate' }), 'icing.heaviest', '"light"', 'moderate or more'],
  [icing({ what: 'none' }), 'icing.what', '"none"', 'one of unstated, rime, clear, mixed'],
  [icing({ lowerFt: 6000, upperFt: 5000 }), 'icing.upperFt', '5000', 'the lower end, 6000 ft, or higher'],
  [icing({ upperFt: 0 }), 'icing.upperFt', '0', ALTITUDE],
  [icing({ upperFt: Number.NaN }), 'icing.upperFt', 'no number', ALTITUDE],
  [{ remarks: 'A'.repeat(201) }, 'remarks', '"201 characters"', 'at most 200'],
  [{ remarks: 'ß'.repeat(101) }, 'remarks', '"202 characters"', 'at most 200'],
  [{ remarks: 'VIS=2' }, 'remarks', '"="', REMARKS],
  [{ remarks: 'лед' }, 'remarks', '"Л"', REMARKS],
  [{ remarks: 'ice ❄️ here' }, 'remarks', '"❄"', REMARKS],
  [{ remarks: '½ inch' }, 'remarks', '"½"', REMARKS],
  [{ remarks: 'DURCFL120' }, 'remarks', '"DURC"', 'climb or descent as the phase'],
  [{ remarks: 'UNKNDURGDUNKN' }, 'remarks', '"DURGD"', 'climb or descent as the phase'],
  [{ remarks: 'ICE DURC' }, 'remarks', '"DURC"', 'climb or descent as the phase'],
])('%j: fault of %s, found %s, expected %s', (changed, field, found, expected) => {
  expect(faultsOf(loose(changed))).toEqual([{ field, found, expected }]);
});

test('all faults of an entry are told at once', () => {
  const entry = loose({ station: '', altitudeFt: 1, ...icing({ what: '' }), remarks: '=' });
  expect(
    faultsOf(entry)
      .map(({ field }) => field)
      .sort(),
  ).toEqual(['altitudeFt', 'icing.what', 'remarks', 'station']);
});

test.each('OVR OVER OVHD FINAL FNL ILS LOC RWY RY BASE APCH DEP ARPT FIELD'.split(' '))(
  '%s alone would read as no fix: it is a fault, and none with a radial',
  (identifier) => {
    expect(readOne(`ABC UA /OV ${identifier}/TM 1400`).location.kind).toBe('at-station');
    expect(faultsOf(loose(fix(identifier)))).toMatchObject([
      { field: 'place.identifier', expected: NO_WORD },
    ]);
    expect(readOne(composed(loose(radial(120, 25, identifier)))).location).toMatchObject({
      points: [{ kind: 'radial', identifier, radialDeg: 120 }],
    });
  },
);

test.each([100, 60_000])('the ends of the range, %d ft, are no fault and read back', (altitudeFt) => {
  expect(readOne(composed(entryWith({ altitudeFt }))).level).toEqual({ kind: 'altitude', altitudeFt });
});

test('words that only hold those of the phase are remarks', () => {
  expect(readOne(composed(entryWith({ remarks: 'DURCX XDURD' })))).toMatchObject({ phase: undefined });
});

describe('remarks', () => {
  const NEGATIVE = { icing: { kind: 'none' } } as const;
  const remarksOf = (remarks: string) => readOne(composed(entryWith({ ...NEGATIVE, remarks }))).remarks;

  test.each([
    ['ice aft of boots', 'ICE AFT OF BOOTS'],
    ['  two\tblanks \n and a line ', 'TWO BLANKS AND A LINE'],
    ['VIS 1/2SM', 'VIS 1/2SM'],
    ['LGT/MOD RIME', 'LGT-MOD RIME'],
    ['/IC NEG', 'IC NEG'],
    ['//IC/SEV //', 'IC-SEV'],
    ['temp −5 to 3–4', 'TEMP -5 TO 3-4'],
    ['pilot’s séance', "PILOT'S SEANCE"],
    ['BASES (EST) 3,000: OK? +1.5', 'BASES (EST) 3,000: OK? +1.5'],
  ])('%j are written %s', (typed, written) => {
    expect(remarksOf(typed)).toBe(written);
  });

  test.each([
    'OK /IC NEG',
    'OK\n/IC NEG',
    'OK/ IC NEG /TB NEG /SK SKC /FL120',
    '1/ /IC NEG',
    '/\u200B/IC NEG',
    'OK\nDEF UA /OV DEF/TM 1400/FL200/TP ZZZZ/IC NEG',
    'OK\u2028DEF UA /OV DEF/TM 1400/FL200',
    'OK\r\rDEF UA /OV DEF/TM 1400/FL200',
    'OK\u0000/IC NEG',
    '/IC NEG'.repeat(28),
  ])('%j add no element and no report', (remarks) => {
    const entry = entryWith({
      icing: {
        kind: 'met',
        lightest: 'severe',
        heaviest: 'severe',
        what: 'clear',
        lowerFt: 6000,
        upperFt: 7000,
      },
    });
    const plain = readOne(composed(entry));
    const read = readOne(composed({ ...entry, remarks }));
    const { text, remarks: words, icingMentions } = read;
    expect(words).not.toMatch(/\/(?!\d)|=/);
    expect({ ...read, text: plain.text, remarks: undefined, icingMentions: [] }).toEqual(plain);
    expect(text.length).toBeLessThan(400);
    expect(icingMentions.length).toBeLessThanOrEqual(1);
  });

  test('elements are not made of a fullwidth solidus either: it is a fault', () => {
    expect(faultsOf(entryWith({ remarks: '／IC NEG' }))).toMatchObject([{ field: 'remarks', found: '"／"' }]);
  });

  test('10 kB are a fault of a few words', () => {
    const faults = faultsOf(entryWith({ remarks: '/IC NEG '.repeat(1250) }));
    expect(faults).toEqual([{ field: 'remarks', found: '"10000 characters"', expected: 'at most 200' }]);
  });

  test('of ice take its null from a report, and give it no other', () => {
    expect(readOne(composed(entryWith({ ...NEGATIVE, remarks: 'RIME ON STRUTS' })))).toMatchObject({
      icing: { layers: [{ heaviest: 'none' }] },
      icingMentions: [{ element: 'RM', text: 'RIME ON STRUTS' }],
    });
    expect(readOne(composed(entryWith({ remarks: 'NEG ICE' }))).icing).toEqual({ kind: 'not-reported' });
  });

  test('beside a phase may name the other: the first counts', () => {
    const read = readOne(composed(entryWith({ phase: 'climb', remarks: 'ICE DURD' })));
    expect(read).toMatchObject({ phase: 'climb', remarks: 'DURC ICE DURD' });
  });
});
