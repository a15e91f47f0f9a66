/** The examples that stand beside the template of SIGMET and AIRMET, column by column. */
import { describe } from 'vitest';
import type { LevelBand, WarningLevel } from '../../../worker/formats/warnings/warning.ts';
import { ktFromMps } from '../../../worker/science/units.ts';
import { testPublished } from '../../support/published-values.ts';
import { icao, readOne, statedIn } from './warning-context.ts';

const SOURCE = 'ICAO Annex 3 table A6-1A, examples, as in appendix 8 of the rules of Kazakhstan that copy it';

/** Element as printed, and what it says, worked out by hand. */
const LOCATIONS = [
  ['N4320 W07005', 'point 43.33 -70.08'],
  ['N48 E071', 'point 48.00 71.00'],
  ['S54 W060', 'point -54.00 -60.00'],
  ['S5330 E06530', 'point -53.50 65.50'],
  ['N OF N50', 'N of 50.00'],
  ['S OF N5430', 'S of 54.50'],
  ['N OF S10', 'N of -10.00'],
  ['S OF S4530', 'S of -45.50'],
  ['W OF W155', 'W of -155.00'],
  ['W OF E15540', 'W of 155.67'],
  ['E OF W45', 'E of -45.00'],
  ['E OF E09015', 'E of 90.25'],
  ['N OF N42 W OF E070', 'N of 42.00 and W of 70.00'],
  ['N OF N1515 AND W OF E13530', 'N of 15.25 and W of 135.50'],
  ['S OF N45 AND N OF N40', 'S of 45.00 and N of 40.00'],
  ['E OF LINE N4255 E07030-N4500 E07800', 'E of line 42.92 70.50, 45.00 78.00'],
  ['N OF LINE S2520 W11510 – S2520 W12010', 'N of line -25.33 -115.17, -25.33 -120.17'],
  ['SW OF LINE N50 W005 – N60 W020', 'SW of line 50.00 -5.00, 60.00 -20.00'],
  [
    'SW OF LINE N50 W020 – N45 E010 AND NE OF LINE N45 W020 – N40 E010',
    'SW of line 50.00 -20.00, 45.00 10.00 and NE of line 45.00 -20.00, 40.00 10.00',
  ],
  [
    'WI N6030 E02550 – N6055 E02500 – N6050 E02630 – N6030 E02550',
    'polygon 60.50 25.83, 60.92 25.00, 60.83 26.50, 60.50 25.83',
  ],
  [
    'APRX 50KM WID LINE BTN N64 W017 – N60 W010 – N57 E010',
    'line 25.00 km 64.00 -17.00, 60.00 -10.00, 57.00 10.00',
  ],
  ['ENTIRE FIR', 'whole region'],
  ['ENTIRE CTA', 'whole region'],
  ['WI 400KM OF TC CENTRE', 'unreadable WI 400KM OF TC CENTRE'],
  ['WI 250NM OF TC CENTRE', 'unreadable WI 250NM OF TC CENTRE'],
] as const;

function levelIn(level: WarningLevel): string {
  if (level.kind === 'freezing-level') return 'freezing level';
  return level.kind === 'surface' ? 'surface' : `${level.kind} ${level.altitudeFt}`;
}

function bandIn(band: LevelBand | undefined): string {
  switch (band?.kind) {
    case 'at':
      return levelIn(band.level);
    case 'layer':
      return `${levelIn(band.lower)} to ${levelIn(band.upper)}`;
    case 'above':
      return `above ${levelIn(band.lower)}`;
    case 'below':
      return `below ${levelIn(band.upper)}`;
    case 'top':
      return `top ${band.top} ${levelIn(band.upper)}`;
    default:
      return 'none';
  }
}

/** 1 m = 3.28084 ft: 2000 m = 6562 ft, 3000 m = 9843 ft. */
const LEVELS = [
  ['FL180', 'flight-level 18000'],
  ['SFC/FL070', 'surface to flight-level 7000'],
  ['SFC/3000M', 'surface to altitude 9843'],
  ['SFC/10000FT', 'surface to altitude 10000'],
  ['FL050/080', 'flight-level 5000 to flight-level 8000'],
  ['TOP FL390', 'top at flight-level 39000'],
  ['ABV FL250', 'above flight-level 25000'],
  ['TOP ABV FL100', 'top above flight-level 10000'],
  ['3000M', 'altitude 9843'],
  ['2000/3000M', 'altitude 6562 to altitude 9843'],
  ['8000FT', 'altitude 8000'],
  ['6000/12000FT', 'altitude 6000 to altitude 12000'],
  ['2000M/FL150', 'altitude 6562 to flight-level 15000'],
  ['10000FT/FL250', 'altitude 10000 to flight-level 25000'],
  ['TOP FL500', 'top at flight-level 50000'],
  ['TOP ABV FL500', 'top above flight-level 50000'],
  ['TOP BLW FL450', 'top below flight-level 45000'],
] as const;

const MOVEMENTS = [
  ['MOV SE', '135 ?'],
  ['MOV NNW', '337.5 ?'],
  ['MOV E 40KMH', '90 21.6'],
  ['MOV E 20KT', '90 20.0'],
  ['MOV WSW 20KT', '247.5 20.0'],
  ['STNR', 'stationary'],
] as const;

describe('each element of the template, in a warning of severe icing', () => {
  testPublished('location', { source: SOURCE, tag: 'L', values: LOCATIONS.length }, (published) => {
    for (const [printed, said] of LOCATIONS) {
      const { areas, unread } = icao(`${printed} FL100/200 STNR NC`);
      published.same(
        `${areas.map(({ statement }) => statedIn(statement)).join('; ')}${unread.length || ''}`,
        said,
        printed,
      );
    }
  });

  testPublished('level', { source: SOURCE, tag: 'L', values: LEVELS.length }, (published) => {
    for (const [printed, said] of LEVELS) {
      const { levels, unread } = icao(`N OF N50 ${printed} STNR NC`);
      published.same(`${bandIn(levels)}${unread.length || ''}`, said, printed);
    }
  });

  testPublished('movement', { source: SOURCE, tag: 'L', values: MOVEMENTS.length }, (published) => {
    for (const [printed, said] of MOVEMENTS) {
      const { movement, unread } = icao(`N OF N50 FL180 ${printed} NC`);
      const found =
        movement?.kind === 'moving'
          ? `${movement.towardDeg} ${movement.speedMps === undefined ? '?' : ktFromMps(movement.speedMps).toFixed(1)}`
          : movement?.kind;
      published.same(`${found}${unread.length || ''}`, said, printed);
    }
  });

  testPublished('change of intensity', { source: SOURCE, tag: 'L', values: 3 }, (published) => {
    const change = (word: string) => icao(`N OF N50 FL180 STNR ${word}`).change;
    published.same(change('INTSF'), 'intensifying', 'INTSF');
    published.same(change('WKN'), 'weakening', 'WKN');
    published.same(change('NC'), 'none', 'NC');
  });

  testPublished('phenomena of ice', { source: SOURCE, tag: 'L', values: 4 }, (published) => {
    const phenomenon = (words: string) => {
      const found = readOne(
        `YUDD SIGMET 1 VALID 150600/151000 YUSO- YUDD SHANLON FIR ${words} OBS N OF N50`,
      ).phenomenon;
      return found.kind === 'icing' ? `${found.intensity} ${found.cause}` : found.kind;
    };
    published.same(phenomenon('SEV ICE'), 'severe unstated', 'SEV ICE');
    published.same(phenomenon('SEV ICE (FZRA)'), 'severe freezing-rain', 'SEV ICE (FZRA)');
    published.same(phenomenon('MOD ICE'), 'moderate unstated', 'MOD ICE');
    published.same(phenomenon('SEV TURB'), 'other', 'SEV TURB');
  });

  testPublished('observed or forecast', { source: SOURCE, tag: 'L', values: 8 }, (published) => {
    const basis = (words: string) =>
      readOne(`YUDD SIGMET 1 VALID 151200/151600 YUSO- YUDD SHANLON FIR SEV ICE ${words} N OF N50`).basis;
    for (const [words, kind, atMs] of [
      ['OBS', 'observed', undefined],
      ['OBS AT 1210Z', 'observed', Date.UTC(2026, 0, 15, 12, 10)],
      ['FCST', 'forecast', undefined],
      ['FCST AT 1815Z', 'forecast', Date.UTC(2026, 0, 15, 18, 15)],
    ] as const) {
      published.same(basis(words).kind, kind, words);
      published.same(basis(words).atMs, atMs, words);
    }
  });
});

testPublished(
  'the warning of thunderstorms that is the first example, and its cancellation',
  { source: 'ICAO Annex 3, examples A6-1, as copied in the examples of IWXXM', tag: 'L', values: 12 },
  (published) => {
    const warning = readOne(
      'YUDD SIGMET 2 VALID 101200/101600 YUSO –\nYUDD SHANLON FIR/UIR OBSC TS FCST S OF N54 AND E OF W012 TOP FL390 MOV E WKN FCST 1600Z S OF N54 AND E OF W010',
    );
    published.same(warning.region?.name, 'SHANLON', 'name');
    published.same(warning.region?.type, 'FIR/UIR', 'type');
    published.same(warning.office, 'YUSO', 'office');
    published.same(warning.validFromMs, Date.UTC(2026, 0, 10, 12), 'from');
    published.same(warning.validToMs, Date.UTC(2026, 0, 10, 16), 'to');
    published.same(statedIn(warning.areas[0]!.statement), 'S of 54.00 and E of -12.00', 'area');
    published.same(warning.later?.atMs, Date.UTC(2026, 0, 10, 16), 'later');
    published.same(statedIn(warning.later!.areas[0]!.statement), 'S of 54.00 and E of -10.00', 'area later');
    const cancel = readOne(
      'YUDD SIGMET 3 VALID 101345/101600 YUSO–\nYUDD SHANLON FIR/UIR CNL SIGMET 2 101200/101600',
    );
    published.same(cancel.action.kind, 'cancel', 'action');
    published.same(cancel.action.kind === 'cancel' && cancel.action.identification, '2', 'of');
    published.same(
      cancel.action.kind === 'cancel' && cancel.action.validFromMs,
      Date.UTC(2026, 0, 10, 12),
      'its start',
    );
    published.same(cancel.unread.length + warning.unread.length, 0, 'unread');
  },
);
