/** Pilot reports: bulletins as received, with words, elements and figures exchanged. */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { inspectPilotReports } from '../../../worker/formats/pilot-reports/inspect.ts';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import type { AltitudeBand, PilotReport } from '../../../worker/formats/pilot-reports/report.ts';
import type { FuzzTarget } from '../fuzz-target.ts';
import { mutateWords } from '../mutate-words.ts';

const OWN = [
  'ABC UA /OV ABC120025/TM 1412/FL090/TP ZZZZ/SK OVC045-TOP110/TA M07/WV 28035KT/IC LGT RIME 060-090=',
  'QQQ UUA /OV QQQ270010-QQQ270040/TM 1800/FLDURD/TP UNKN/SK BKN-OVC030-TOPUNKN/TB CONT MOD CHOP/IC TRACE-LGT MX 100-070/RM DURD=',
  'UAUS31 KWBC 151405\nARP TST1738 3816N 09429W 1400 F390 MS55 292/049KT TB LGT IC MOD RIME=\nARS TST12 SEV ICE OBS AT 1210Z N2020W07005 FL180/210=',
];
const PARTS = [
  ...[
    '/OV ',
    '/TM ',
    '/FL',
    '/TP ',
    '/SK ',
    '/WX ',
    '/TA ',
    '/WV ',
    '/TB ',
    '/IC',
    '/RM ',
    '/',
    '//',
    '=',
    '\n',
    ' ',
  ],
  ...[
    'NEG',
    'LGT',
    'MOD',
    'SEV',
    'TRACE',
    'RIME',
    'CLR',
    'MX',
    'UNKN',
    'DURC',
    'BLO ',
    'ABV ',
    'BTN ',
    ' TO ',
    '-',
    'NO ',
  ],
  ...[
    'OVC',
    'TOP',
    'BKN',
    'SKC',
    'FV03SM',
    'FZRA',
    'M08',
    '28035KT',
    '060-090',
    '999',
    'FL180',
    'SFC',
    '12000FT',
    '6,000',
    '50-70',
    '5K-7K',
    ' 6 000 ',
    'NEG ABV AND BLO',
    'FREEZING RAIN ',
    'FZ RA ',
  ],
  ...[
    'ABC UA ',
    'UUA ',
    'ARP ',
    'ARS TST1 ',
    'N2020 W07005',
    '3816N 09429W',
    '5N OMN',
    'ABC120025',
    'RWY 3',
    'OVR ',
  ],
  ...[
    'UBUS31 KWBC 201705\n',
    'UACN10 ZZZZ 151332 / ZZ / ',
    'OVER ',
    ' VOR ',
    '\u00a0',
    '\u0001\r\r\n',
    '9',
    '0',
    'Z',
    '+',
    '(',
    ')',
    '\u00e9',
  ],
];

/** Any identifier of an even count of letters is somewhere, every third one twice. */
const fixes = (identifier: string) => {
  const code = [...identifier].reduce((sum, letter) => sum * 31 + letter.charCodeAt(0), 7) % 1000;
  const place = { latDeg: (code % 180) - 90, lonDeg: (code % 360) - 180, variationEastDeg: code % 20 };
  if (code % 2 === 1) return [];
  return code % 3 === 0 ? [place, { latDeg: 0, lonDeg: 0 }] : [place];
};
const context = { referenceMs: Date.UTC(2026, 0, 15, 14), fixes };

function read(bytes: Uint8Array): void {
  const text = Buffer.from(bytes).toString('latin1');
  for (const item of readPilotReports(text, context)) {
    if (item.kind === 'refused') {
      if (item.reason === '' || item.text === '') throw new Error('refused without reason or text');
    } else check(item);
  }
  for (const item of inspectPilotReports(text, context)) JSON.stringify(item);
}

function check(report: PilotReport): void {
  const { timeMs, place, temperatureK, wind, icing, turbulence, sky } = report;
  const bands = [icing, turbulence].flatMap((each) =>
    each.kind === 'reported' ? each.layers.map(({ band }) => band) : [],
  );
  const heights = sky.kind === 'reported' ? sky.layers.flatMap(({ base, top }) => [base, top]) : [];
  const points = place.kind === 'unknown' ? [] : place.points;
  const facts: readonly (readonly [string, boolean])[] = [
    ['time', timeMs === undefined || Math.abs(timeMs - context.referenceMs) < 40 * 86_400_000],
    ['temperature', temperatureK === undefined || (temperatureK > 170 && temperatureK < 335)],
    [
      'wind',
      wind === undefined || (wind.directionDeg >= 0 && wind.directionDeg < 360 && wind.speedMps < 155),
    ],
    ['place', points.every(({ latDeg, lonDeg }) => Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180)],
    ['altitudes', bands.every(isSane)],
    ['heights', heights.every((range) => range === undefined || isOrdered(range.lowerFt, range.upperFt))],
    ['layers', [icing, turbulence, sky].every((each) => each.kind !== 'reported' || each.layers.length > 0)],
    ['unread', report.unread.every(({ text, reason }) => text !== '' && reason.includes('found'))],
  ];
  const wrong = facts.filter(([, holds]) => !holds).map(([name]) => name);
  if (wrong.length > 0) throw new Error(`${wrong.join(', ')} of ${report.text}`);
}

function isSane(band: AltitudeBand): boolean {
  if (band.kind === 'layer') return isOrdered(band.lowerFt, band.upperFt);
  return band.kind === 'below'
    ? isOrdered(0, band.upperFt)
    : band.kind !== 'above' || isOrdered(band.lowerFt, 60_000);
}

const isOrdered = (lowerFt: number, upperFt: number) =>
  lowerFt >= 0 && lowerFt <= upperFt && upperFt <= 60_000;

const latin1 = (text: string) => Buffer.from(text, 'latin1');

export const target: FuzzTarget = {
  name: 'pirep',
  async seeds(dataFolder) {
    const own = OWN.map(latin1);
    if (dataFolder === undefined) return own;
    const folder = join(dataFolder, 'reports/pirep');
    const names = (await readdir(folder)).filter((name) => name.endsWith('.txt'));
    const files = await Promise.all(names.map((name) => readFile(join(folder, name), 'latin1')));
    const rows = (await readFile(join(folder, 'pireps-icing-200812.csv'), 'latin1')).split('\n').slice(1);
    const reports = rows.filter((row) => row !== '').map((row) => row.split(',')[3]!);
    return [...own, ...[...files, ...reports].map(latin1)];
  },
  mutate: (seed, random) => mutateWords(seed, random, { parts: PARTS, end: /(?<=[ /\n=])/ }),
  read,
  mostMsPerByte: 0.05,
  mostBytesPerByte: 4000,
};
