/** Every bulletin and row of real pilot reports is read or refused with a reason, and the icing is what a reader sees. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { csvParse } from 'd3-dsv';
import { describe, expect, test } from 'vitest';
import type { ReportContext } from '../../worker/formats/pilot-reports/pirep.ts';
import { readPilotReports } from '../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { isNullIcing, type PilotReport } from '../../worker/formats/pilot-reports/report.ts';
import { greatCircleDistanceM } from '../../worker/science/great-circle.ts';
import { nmFromM } from '../../worker/science/units.ts';
import { fixesOf, NORTH_AMERICA } from '../formats/pilot-reports/navaids.ts';
import { assertClose } from '../support/assert-close.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const FOLDER = join(directory, 'reports/pirep');
const fixes = fixesOf(join(directory, 'places'));

const contextAt = (referenceMs: number): ReportContext => ({ referenceMs, fixes, area: NORTH_AMERICA });

/** Icing on one line: lightest-heaviest, kind, altitudes in hundreds of feet; `*` where they are the report's own. */
function icingLine({ icing }: PilotReport): string {
  if (icing.kind !== 'reported') return icing.kind;
  return icing.layers
    .map(({ lightest, heaviest, what, band }) => {
      const altitudes =
        band.kind === 'layer'
          ? `${band.lowerFt / 100}-${band.upperFt / 100}${band.isStated ? '' : '*'}`
          : band.kind;
      return `${lightest === heaviest ? heaviest : `${lightest}-${heaviest}`} ${what} ${altitudes}`;
    })
    .join(', ');
}

/** What a person reads in each bulletin: station and icing, in order; `refused` for text outside reports. */
const BULLETINS: Readonly<Record<string, readonly string[]>> = {
  'bulletin-OVO.txt': ['AVK light rime 170-170*', 'ANC not-reported'],
  'bulletin-PIREP.txt': ['BIL light mixed 70-80', 'PIB not-reported', 'PUB not-reported', 'RIC not-reported'],
  'bulletin-badgeom.txt': [
    'ARG not-reported',
    'refused 280-330/RM ZME',
    'IJX not-reported',
    'OTG not-reported',
    'PGA not-reported',
    'CPR not-reported',
    'GGG not-reported',
    'SLC not-reported',
  ],
  'bulletin-fourchar.txt': ['FAR trace unstated unknown', 'CIC not-reported'],
  'bulletin-groupdict.txt': [
    'BHM moderate rime 30-50',
    'GCC light rime 120-120*',
    'MGM not-reported',
    'SDF none unstated 80-80*',
    'SEA not-reported',
    'SGJ moderate mixed 180-200',
  ],
  'bulletin-runway.txt': ['KATW unstated rime 32-32*', 'KIPT not-reported'],
  'bulletin-ubmd90.txt': ['BWI light rime 70-70*'],
};

describe('bulletins as received', () => {
  test('are the ones that these tests know', () => {
    const names = readdirSync(FOLDER).filter((name) => name.startsWith('bulletin-'));
    expect(names.sort()).toEqual(Object.keys(BULLETINS).sort());
  });

  test.each(Object.entries(BULLETINS))('%s', (name, expected) => {
    const items = [
      ...readPilotReports(readFileSync(join(FOLDER, name), 'latin1'), contextAt(Date.UTC(2015, 0, 15))),
    ];
    expect(
      items.map((item) =>
        item.kind === 'refused' ? `refused ${item.text}` : `${item.station} ${icingLine(item)}`,
      ),
    ).toEqual(expected);
  });

  test('no word is lost: each stands in a report or refusal, headings apart', () => {
    const counts = { reports: 0, refused: 0, placed: 0, timed: 0, unread: 0 };
    for (const name of Object.keys(BULLETINS)) {
      const text = readFileSync(join(FOLDER, name), 'latin1');
      const items = [...readPilotReports(text, contextAt(Date.UTC(2015, 0, 15)))];
      const body = text.replaceAll(/\p{Cc}/gu, (control) => (/\s/.test(control) ? '\n' : ''));
      const words = body
        .split('\n')
        .filter((line) => !/^(?:\d{3} ?|[A-Z]{4}\d\d \w{4} \d{6}|PRCUS|MD \d{6})$/.test(line))
        .flatMap((line) => line.split(/[\s=]+/))
        .filter((word) => word !== '');
      expect(items.flatMap((item) => item.text.split(' '))).toEqual(words);
      for (const item of items) {
        if (item.kind === 'refused') counts.refused += 1;
        else {
          counts.reports += 1;
          counts.placed += item.place.kind === 'unknown' ? 0 : 1;
          counts.timed += item.timeMs === undefined ? 0 : 1;
          counts.unread += item.unread.length;
        }
      }
    }
    process.stdout.write(`pilot-report bulletins: ${JSON.stringify(counts)}\n`);
    // By eye: 24 reports and one stray line; 2IE7 is no time; TED, MBO, AMW (twice) and KATW are in no list of the folder.
    expect(counts).toEqual({ reports: 24, refused: 1, timed: 23, placed: 19, unread: 2 });
  });
});

interface Row {
  readonly valid_utc: string;
  readonly urgency: string;
  readonly report: string;
  readonly altitude_ft: string;
  readonly lat: string;
  readonly lon: string;
}

const rows = csvParse(readFileSync(join(FOLDER, 'pireps-icing-200812.csv'), 'utf8')) as unknown as Row[];

/** Icing as a person reads it in the text of each row, in the order of the file. */
const ICING = [
  'none unstated 90-90*',
  'severe rime 190-190*',
  'none unstated 51-100',
  'none unstated 260-260*',
  'none unstated 70-70*',
  'light rime 120-120*',
  'none unstated 60-60*',
  'none unstated 220-220*',
  'moderate mixed 110-110*',
  'moderate rime 17-40',
  'unreadable',
  'not-reported',
  'light rime 7-55',
  'light rime 50-50*',
  'none unstated 60-60*',
  'light rime 140-200',
  'none unstated 92-92*',
  'none unstated 340-340*',
  'severe mixed 140-140*',
  'moderate rime 130-130*',
  'trace clear 130-150',
  'light rime 230-250',
  'none unstated 80-80*',
  'none unstated 40-40*',
  'light rime 50-140',
  'light rime 50-150',
  'moderate unstated 130-130*',
];

/** One report of each row; throws on a refusal. */
function readRow(
  { report, valid_utc: validUtc }: Row,
  context = contextAt(Date.parse(validUtc)),
): PilotReport {
  const [item, ...more] = readPilotReports(report, context);
  if (item?.kind !== 'pilot-report' || more.length > 0) throw new Error(`not one report: ${report}`);
  return item;
}

describe('reports of December 2008 that mention ice', () => {
  test('icing, urgency, time and altitude of every row are those of the text and the archive', () => {
    expect(rows).toHaveLength(ICING.length);
    const counts = { null: 0, met: 0, unreadable: 0, absent: 0 };
    rows.forEach((row, index) => {
      const report = readRow(row);
      expect(icingLine(report), row.report).toBe(ICING[index]);
      expect(report.urgency).toBe(row.urgency === 'UUA' ? 'urgent' : 'routine');
      expect(report.timeMs, row.report).toBe(Date.parse(`${row.valid_utc.replace('Z', '')}:00Z`));
      expect(report.level, row.report).toEqual({ kind: 'altitude', altitudeFt: Number(row.altitude_ft) });
      if (report.icing.kind === 'unreadable') counts.unreadable += 1;
      else if (report.icing.kind === 'not-reported') counts.absent += 1;
      else counts[isNullIcing(report) ? 'null' : 'met'] += 1;
    });
    process.stdout.write(`pilot reports of 2008-12: ${rows.length} rows, ${JSON.stringify(counts)}\n`);
    // Counted by eye in the list above.
    expect(counts).toEqual({ null: 11, met: 14, unreadable: 1, absent: 1 });
  });

  test('the reference time may be hours later, over midnight, without moving a report', () => {
    for (const row of rows) {
      const validMs = Date.parse(row.valid_utc);
      for (const hours of [0, 1, 6, 23]) {
        expect(readRow(row, contextAt(validMs + hours * 3_600_000)).timeMs).toBe(validMs);
      }
    }
  });

  test('words left unread are the typing faults, and nothing else', () => {
    const unread = rows.flatMap((row) =>
      readRow(row).unread.map(({ element, text }) => `${element} ${text}`),
    );
    expect(unread).toEqual(['IC FM ZKC', 'TB LGT RIME200-140']);
  });
});

/**
 * The archive gives a place to every row. It starts radials at the aerodrome of the name where there is one, else at the
 * radio aid, and takes them as true; ours start at the radio aid and are turned by its variation.
 */
describe('places against the archive of the rows', () => {
  const withoutVariation = (identifier: string) =>
    fixes(identifier).map(({ latDeg, lonDeg }) => ({ latDeg, lonDeg }));
  const aerodromeFirst = (identifier: string) => {
    const aerodromes = identifier.length === 3 ? withoutVariation(`K${identifier}`) : [];
    return aerodromes.length > 0 ? aerodromes : withoutVariation(identifier);
  };

  /** NM between the archive's point and ours; undefined for legs and reports without place. */
  function awayNm(row: Row, lookup: ReportContext['fixes']): number | undefined {
    const { place } = readRow(row, { ...contextAt(Date.parse(row.valid_utc)), fixes: lookup });
    if (place.kind !== 'point') return undefined;
    return nmFromM(
      greatCircleDistanceM(place.points[0]!, { latDeg: Number(row.lat), lonDeg: Number(row.lon) }),
    );
  }

  test('from the same start, with radials taken as true, they are the same within 1 NM', () => {
    const away = rows.map((row) => {
      const [aid, aerodrome] = [awayNm(row, withoutVariation), awayNm(row, aerodromeFirst)];
      return { station: row.report.slice(0, 3), nm: Math.min(aid ?? Infinity, aerodrome ?? Infinity) };
    });
    process.stdout.write(
      `NM from the archive: ${away.map(({ station, nm }) => `${station} ${nm.toFixed(2)}`).join(', ')}\n`,
    );
    expect(away.filter(({ nm }) => nm < 1)).toHaveLength(23);
    // CPR has legs. The aerodromes of VIH, EMP and SEG are too small for the list, so ours start at the aid, 2-4 NM off.
    const others = away.filter(({ nm }) => !(nm < 1));
    expect(others.map(({ station }) => station)).toEqual(['CPR', 'VIH', 'EMP', 'SEG']);
    expect(others.slice(1).every(({ nm }) => nm < 3.5)).toBe(true);
  });

  test('of all rows one has no place: its radio aid is not in the list, and a namesake abroad is not taken', () => {
    const unplaced = rows.map((row) => readRow(row)).filter(({ place }) => place.kind === 'unknown');
    expect(unplaced.map(({ place }) => place)).toEqual([
      {
        kind: 'unknown',
        reason: 'fix: found TUP, which is known outside the area only, expected a known fix',
      },
    ]);
  });

  test('turned by the variation of its aid, a radial lands away by twice the sine of half of it', () => {
    const seattle = rows.find(({ report }) => report.startsWith('SEA UA'))!;
    const { place } = readRow(seattle);
    expect(place).toMatchObject({ kind: 'point', points: [{ radialNorth: 'variation-of-fix' }] });
    // 25 NM on the 072 radial; the aid is set to 19 degrees east: 2 x 25 x sin 9.5 = 8.25 NM.
    assertClose(awayNm(seattle, fixes)!, 8.25, { abs: 0.7, why: 'the aid is 0.7 NM from the aerodrome' });
  });
});
