/** What is composed reads back as every value that was entered, and nothing of it stays unread. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  composePirep,
  type EntryLayer,
  type EntrySkyLayer,
  type ReportEntry,
} from '../../../worker/formats/pilot-reports/compose.ts';
import type {
  LayerElement,
  PilotReport,
  ReportedLayer,
} from '../../../worker/formats/pilot-reports/report.ts';
import { cFromK, ktFromMps, nmFromM } from '../../../worker/science/units.ts';
import { REFERENCE_MS, readOne } from './report-context.ts';
import { composed } from './report-entries.ts';

const MS_PER_MINUTE = 60_000;
const M_PER_STATUTE_MILE = 1609.344;
const RUNS = 1500;

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZ'];
const letters = (least: number, most: number) =>
  fc.string({ unit: fc.constantFrom(...LETTERS), minLength: least, maxLength: most });
const mixed = (least: number, most: number) =>
  fc.string({ unit: fc.constantFrom(...LETTERS, ...'0123456789'), minLength: least, maxLength: most });
const hundreds = (least: number, most: number) =>
  fc.integer({ min: least / 100, max: most / 100 }).map((steps) => steps * 100);
const maybe = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: undefined });
/** Words that stand for something else at the start of a report or alone as a location are faults of their own. */
const NO_NAMES = new Set([
  'ZCZC',
  'UNKN',
  'OVR',
  'OVER',
  'OVHD',
  'FINAL',
  'FNL',
  'ILS',
  'LOC',
  'RWY',
  'RY',
  'BASE',
  'APCH',
  'DEP',
  'ARPT',
  'FIELD',
]);
const named = (least: number, most: number) =>
  fc
    .oneof(letters(least, most), mixed(least, most), fc.constantFrom('N12E', 'UUA', 'ARP', 'FLA', 'IC1'))
    .filter((text) => /[A-Z]/.test(text) && !NO_NAMES.has(text));

/** Both ends in the order of a list. */
const ends = <Word>(words: readonly Word[]) =>
  fc
    .tuple(fc.nat(words.length - 1), fc.nat(words.length - 1))
    .map(([one, other]) => [words[Math.min(one, other)]!, words[Math.max(one, other)]!] as const);
const heights = fc
  .tuple(maybe(hundreds(0, 60_000)), maybe(hundreds(100, 60_000)))
  .map(([lower, upper]) =>
    lower !== undefined && upper !== undefined && lower > upper ? [upper, lower] : [lower, upper],
  );

const layer = fc
  .tuple(ends(['few', 'scattered', 'broken', 'overcast'] as const), heights)
  .chain(([[thinnest, thickest], [lower, upper]]) =>
    fc.record({
      thinnest: fc.constant(thinnest),
      thickest: fc.constant(thickest),
      baseFt: lower === undefined ? fc.constantFrom(undefined, 'unknown' as const) : fc.constant(lower),
      topFt: upper === undefined ? fc.constantFrom(undefined, 'unknown' as const) : fc.constant(upper),
    }),
  );
const topAlone = hundreds(100, 60_000).map(
  (topFt): EntrySkyLayer => ({ thinnest: 'unstated', thickest: 'unstated', topFt }),
);
const CLEAR: EntrySkyLayer = { thinnest: 'clear', thickest: 'clear' };
const sky = fc
  .tuple(fc.array(fc.oneof({ weight: 4, arbitrary: layer }, topAlone), { maxLength: 4 }), fc.boolean())
  .map(([layers, isClearAbove]): EntrySkyLayer[] => (isClearAbove ? [...layers, CLEAR] : layers));

const met = <Intensity, Kind>(intensities: readonly Intensity[], kinds: readonly Kind[]) =>
  fc
    .tuple(ends(intensities), fc.constantFrom(...kinds), heights)
    .map(([[lightest, heaviest], what, [lowerFt, upperFt]]) => ({
      kind: 'met' as const,
      ...{ lightest, heaviest, what, lowerFt, upperFt },
    }));
const unmet = fc.constantFrom({ kind: 'none' as const }, { kind: 'not-reported' as const });
const group = fc
  .tuple(
    fc.constantFrom('', '-', '+', 'VC'),
    fc.constantFrom('', 'MI', 'SH', 'TS', 'FZ', 'BL'),
    fc.constantFrom(
      'DZ',
      'RA',
      'SN',
      'SG',
      'IC',
      'PL',
      'GR',
      'GS',
      'UP',
      'BR',
      'FG',
      'HZ',
      'FU',
      'VA',
      'FC',
      'RASN',
      'FZRAPL',
    ),
  )
  .map((parts) => parts.join(''))
  .filter((each) => !/FZFZ|(?:MI|SH|TS|BL)FZ/.test(each));

/** Words that stand as they are typed; the phase, which is read out of remarks, is no such word. */
const words = fc
  .array(
    fc.constantFrom(
      'ICE',
      'AFT',
      'OF',
      'BOOTS',
      'NEG',
      'SEV',
      '1/2SM',
      '060-090',
      'UNKN',
      'IC',
      'UA',
      'FL120',
      'TOPS',
      'RM',
      '(EST)',
    ),
    {
      maxLength: 12,
    },
  )
  .map((each) => each.join(' '));

const entries: fc.Arbitrary<ReportEntry> = fc.record({
  station: named(3, 4),
  place: fc.oneof(
    named(2, 5).map((identifier) => ({ kind: 'fix' as const, identifier })),
    fc.record({
      kind: fc.constant('radial' as const),
      identifier: named(2, 5),
      radialDeg: fc.integer({ min: 1, max: 360 }),
      distanceNm: fc.integer({ min: 1, max: 999 }),
    }),
  ),
  // A day that ends half an hour after the reference: that is what a time of day alone can tell.
  timeMs: fc
    .integer({ min: -23.4 * 60 * MS_PER_MINUTE, max: 30 * MS_PER_MINUTE })
    .map((ms) => REFERENCE_MS + ms),
  altitudeFt: maybe(hundreds(100, 60_000)),
  phase: maybe(fc.constantFrom('climb', 'descent')),
  aircraftType: maybe(
    fc
      .tuple(letters(1, 1), mixed(1, 3))
      .map((parts) => parts.join(''))
      .filter((type) => type !== 'UNKN'),
  ),
  sky,
  visibilitySm: maybe(fc.oneof(fc.integer({ min: 0, max: 98 }), fc.constant('unrestricted' as const))),
  weather: fc.array(group, { maxLength: 4 }),
  temperatureC: maybe(fc.integer({ min: -99, max: 60 })),
  wind: maybe(
    fc.record({ directionDeg: fc.integer({ min: 1, max: 360 }), speedKt: fc.integer({ min: 0, max: 300 }) }),
  ),
  turbulence: fc.oneof(
    unmet,
    met(['light', 'moderate', 'severe', 'extreme'] as const, ['unstated', 'clear-air', 'chop'] as const),
  ),
  icing: fc.oneof(
    unmet,
    met(['trace', 'light', 'moderate', 'severe'] as const, ['unstated', 'rime', 'clear', 'mixed'] as const),
  ),
  remarks: words,
  isJudgedHazardous: fc.boolean(),
});

const whole = (value: number | undefined) => (value === undefined ? undefined : Math.round(value));

/** What was read, in the members and units of an entry. */
function entryOf(read: PilotReport) {
  const point = read.location.kind === 'points' ? read.location.points[0] : undefined;
  const { visibilityM } = read.weather;
  return {
    station: read.station,
    place: point?.kind === 'radial' ? { ...point, distanceM: whole(nmFromM(point.distanceM)) } : point,
    minute: read.timeMs! / MS_PER_MINUTE,
    altitudeFt: read.level.kind === 'altitude' ? read.level.altitudeFt : undefined,
    phase: read.phase,
    aircraftType: read.aircraftType,
    sky: read.sky,
    visibilitySm: visibilityM === undefined ? undefined : whole(visibilityM / M_PER_STATUTE_MILE),
    weather: read.weather.phenomena,
    temperatureC: read.temperatureK === undefined ? undefined : whole(cFromK(read.temperatureK))! + 0,
    wind: read.wind && [read.wind.directionDeg, read.wind.north, whole(ktFromMps(read.wind.speedMps))],
    turbulence: read.turbulence,
    icing: read.icing,
    unread: read.unread,
  };
}

/** What an entry must read as. */
function expectedOf(entry: ReportEntry): ReturnType<typeof entryOf> {
  const { place, visibilitySm, wind } = entry;
  const range = (ft: EntrySkyLayer['baseFt']) =>
    typeof ft === 'number' ? { lowerFt: ft, upperFt: ft } : undefined;
  const layers = entry.sky.map(({ thinnest, thickest, baseFt, topFt }) => ({
    ...{ thinnest, thickest, base: range(baseFt), top: range(topFt) },
  }));
  return {
    station: entry.station,
    place:
      place.kind === 'fix'
        ? place
        : {
            kind: 'radial',
            identifier: place.identifier,
            radialDeg: place.radialDeg,
            distanceM: place.distanceNm,
          },
    minute: Math.floor(entry.timeMs / MS_PER_MINUTE),
    altitudeFt: entry.altitudeFt,
    phase: entry.phase,
    aircraftType: entry.aircraftType,
    sky: layers.length > 0 ? { kind: 'reported', element: 'SK', layers } : { kind: 'not-reported' },
    visibilitySm: visibilitySm === 'unrestricted' ? Number.POSITIVE_INFINITY : visibilitySm,
    weather: entry.weather,
    temperatureC: entry.temperatureC,
    wind: wind && [wind.directionDeg % 360, 'magnetic', wind.speedKt],
    turbulence: elementOf('TB', entry.turbulence, entry.altitudeFt),
    icing: elementOf('IC', entry.icing, entry.altitudeFt),
    unread: [],
  };
}

type Unmet<Intensity> = ReportedLayer<Intensity | 'none', never>;

function elementOf<Intensity, Kind>(
  element: string,
  told: { readonly kind: 'not-reported' | 'none' } | ({ readonly kind: 'met' } & EntryLayer<Intensity, Kind>),
  reportFt: number | undefined,
): LayerElement<ReportedLayer<Intensity | 'none', Kind | 'unstated'> | Unmet<Intensity>> {
  if (told.kind === 'not-reported') return { kind: 'not-reported' };
  const own =
    reportFt === undefined
      ? ({ kind: 'unknown' } as const)
      : ({ kind: 'layer', lowerFt: reportFt, upperFt: reportFt, isStated: false } as const);
  if (told.kind !== 'met') {
    const layer = {
      lightest: 'none',
      heaviest: 'none',
      what: 'unstated',
      frequency: 'unstated',
      band: own,
    } as const;
    return { kind: 'reported', element, layers: [layer] };
  }
  const { lightest, heaviest, what, lowerFt, upperFt } = told;
  const isOwn = lowerFt === upperFt && (lowerFt === undefined || lowerFt === reportFt);
  const stated =
    lowerFt === undefined
      ? ({ kind: 'below', upperFt: upperFt! } as const)
      : upperFt === undefined
        ? ({ kind: 'above', lowerFt } as const)
        : ({ kind: 'layer', lowerFt, upperFt, isStated: true } as const);
  const band = isOwn ? own : stated;
  return { kind: 'reported', element, layers: [{ lightest, heaviest, what, frequency: 'unstated', band }] };
}

test('every value of an entry is read back from what it composes, and no word is left', () => {
  fc.assert(
    fc.property(entries, (entry) => {
      const read = readOne(composed(entry));
      expect(entryOf(read)).toEqual(expectedOf(entry));
      const isUrgent = read.urgency === 'urgent';
      expect(composePirep(entry)).toEqual({ kind: 'composed', text: read.text, isUrgent });
      const phase = entry.phase && (entry.phase === 'climb' ? 'DURC' : 'DURD');
      const remarks = [phase, entry.remarks].filter((each) => each !== undefined && each !== '').join(' ');
      expect(read.remarks).toBe(remarks === '' ? undefined : remarks);
    }),
    { numRuns: RUNS },
  );
});

/** Pieces that a reader may see something in, in any order, with blanks or without. */
const hostile = fc
  .array(
    fc.constantFrom(
      '/',
      '//',
      '/ ',
      'IC',
      'NEG',
      'TB',
      'RM',
      'SK',
      'FL',
      '120',
      'UNKN',
      'DURC',
      'DURGD',
      'K',
      ' ',
      '\n',
      '\r',
      '\u2028',
      '\u200B',
      '\u0000',
      'UA',
      'UUA',
      'ARS',
      'ABC',
      'OV',
      'é',
      '–',
      '1',
      'SAUS70 KWBC 151412',
      'NNNN',
      "'",
      '.',
    ),
    { maxLength: 24 },
  )
  .map((pieces) => pieces.join(''));

test('remarks of any making change nothing but themselves and what they mention', () => {
  let carried = 0;
  fc.assert(
    fc.property(entries, hostile, (entry, remarks) => {
      if (composePirep({ ...entry, remarks }).kind === 'faults') return;
      carried += 1;
      const without = readOne(composed({ ...entry, remarks: '' }));
      const { remarks: _, text, icingMentions, ...read } = readOne(composed({ ...entry, remarks }));
      expect(without).toMatchObject(read);
      expect(icingMentions).toEqual(expect.arrayContaining([...without.icingMentions]));
      expect(text.length).toBeLessThan(500);
    }),
    { numRuns: RUNS },
  );
  expect(carried).toBeGreaterThan(0.6 * RUNS);
});
