/** SIGMET and AIRMET of both kinds of text, with words, elements and figures exchanged. */
import { geoJsonOf } from '../../../worker/formats/warnings/geojson.ts';
import { inspectWarnings } from '../../../worker/formats/warnings/inspect.ts';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import type { Warning, WarningLevel } from '../../../worker/formats/warnings/warning.ts';
import { CONVECTIVE, SIGMET_CANCEL, SIGMET_ICE, TANGO, ZULU } from '../../formats/warnings/us-bulletins.ts';
import type { FuzzTarget } from '../fuzz-target.ts';
import { mutateWords } from '../mutate-words.ts';

const HEAD = 'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR';
const SEEDS = [
  `${HEAD} SEV ICE (FZRA) FCST WI N4400 W09000 - N4500 W08600 - N4300 W08500 - N4400 W09000 FL030/110 MOV E 20KT NC=`,
  `${HEAD} SEV ICE OBS AT 0550Z NW OF LINE N5017 E04200 - N5000 E03755 AND SE OF LINE N5330 E04228 - N5200 E03405 SFC/FL100 MOV NE 30KMH NC=`,
  `WSZZ31 ZZZZ 150545\n${HEAD} MOD ICE FCST APRX 50KM WID LINE BTN N5200 E00520 - N5400 E00540 - N5500 E00712 2000M/FL150 STNR INTSF FCST AT 1000Z S OF N54 AND E OF W010=`,
  `${HEAD} SEV ICE FCST WI 50NM OF N5030 E17930 TOP ABV FL100 STNR WKN=`,
  'ZZZZ AIRMET A2 VALID 150745/151000 ZZZZ-\nZZZZ EXAMPLE FIR CNL AIRMET A1 150600/151000=',
  `${HEAD} SEV ICE FCST ENTIRE FIR=`,
  `${HEAD} SEV ICE FCST WI N50 E179 - N50 W179 - N51 W179 - N51 E179 - N50 E179 FL100=`,
  ...[ZULU, TANGO, SIGMET_ICE, SIGMET_CANCEL, CONVECTIVE],
];
const PARTS = [
  ...[
    'WI ',
    'OF ',
    'LINE ',
    'BTN ',
    'AND ',
    'ENTIRE FIR ',
    'FROM ',
    'TO ',
    'BOUNDED BY ',
    'N OF ',
    'NE OF LINE ',
    '- ',
    '-',
  ],
  ...[
    'N5000 ',
    'E17930 ',
    'W180 ',
    'N90 ',
    'S8959 ',
    'N4400 W09000 ',
    '40ESE AAA ',
    'BBB ',
    '50NM ',
    'APRX 50KM WID LINE BTN ',
    'WTN 45 NM OF LINE ',
    '/4630N07300W/25 NE AAA - ',
    '14/1300 14/1700 ',
  ],
  ...['FL100 ', 'SFC/FL100 ', 'TOP ABV ', 'FRZLVL ', 'FRZLVL 020-060. ', '040 ', '3000M ', '9', '0', '999'],
  ...[
    'SEV ICE ',
    'MOD ICE ',
    '(FZRA) ',
    'IN FZDZ ',
    'RIME/MXD ICGICIP ',
    'MOD TURB AND ',
    'CIG BLW 010/VIS BLW 3SM ',
    'OBS ',
    'FCST AT 1000Z ',
    'MOV NE 20KT ',
    'STNR ',
    'NC ',
    'CNL SIGMET 1 ',
    'RMK ',
  ],
  ...[
    'VALID UNTIL 152100 ',
    'AIRMET ICE...',
    'OTLK VALID 2100-0300Z ',
    'AREA 1...',
    'MULT FRZLVL BLW 090 ',
    '040 ALG ',
    '=',
    '\n',
    '.',
  ],
  ...[`${HEAD} `, 'BOSZ WA 151445\n', 'WAUS41 KKCI 151445\n', '\u0001', 'é'],
];

const PLACES = ['AAA', 'BBB', 'CCC', 'DDD'];
const context = {
  referenceMs: Date.UTC(2026, 0, 15, 6),
  fixes: (identifier: string) => {
    const index = PLACES.indexOf(identifier);
    return index === -1 ? [] : [{ latDeg: 44 - 3 * (index % 2), lonDeg: -90 + 2 * index }];
  },
  regions: (indicator: string) =>
    indicator === 'ZZZZ'
      ? [170, -170, -175].map((lonDeg, index) => ({ latDeg: 50 + 5 * index, lonDeg }))
      : undefined,
};

function read(bytes: Uint8Array): void {
  const text = Buffer.from(bytes).toString('latin1');
  for (const item of readWarnings(text, context)) {
    if (item.kind === 'warning') check(item);
    else if (item.reason === '' || item.text === '') throw new Error('refused without reason or text');
  }
  for (const item of inspectWarnings(text, context)) JSON.stringify(item);
}

function check(warning: Warning): void {
  const { validFromMs, validToMs, levels, movement } = warning;
  const isOrdered =
    validFromMs === undefined || validToMs === undefined || warning.isOutlook || validToMs > validFromMs;
  const facts: readonly (readonly [string, boolean])[] = [
    ['validity', isOrdered],
    ['levels', levels === undefined || levelsOf(levels).every(isSane)],
    ['movement', movement?.kind !== 'moving' || (movement.towardDeg >= 0 && movement.towardDeg < 360)],
    ['unread', warning.unread.every(({ text, reason }) => text !== '' && reason.includes('found'))],
    [
      'areas',
      [...warning.areas, ...(warning.later?.areas ?? [])].every(({ geometry }) =>
        isDrawable(geoJsonOf(geometry)),
      ),
    ],
  ];
  const wrong = facts.filter(([, holds]) => !holds).map(([name]) => name);
  if (wrong.length > 0) throw new Error(`${wrong.join(', ')} of ${warning.text}`);
}

function levelsOf(band: NonNullable<Warning['levels']>): WarningLevel[] {
  if (band.kind === 'layer') return [band.lower, band.upper];
  if (band.kind === 'at') return [band.level];
  return [band.kind === 'above' ? band.lower : band.upper];
}

function isSane(level: WarningLevel): boolean {
  if (level.kind === 'freezing-level') return (level.lowestFt ?? 0) <= (level.highestFt ?? 0);
  return level.altitudeFt >= 0 && level.altitudeFt <= 80_000;
}

/** Positions on the globe, and rings of at least four that end where they begin. */
function isDrawable(geometry: ReturnType<typeof geoJsonOf>): boolean {
  if (geometry === undefined) return true;
  const isPlace = ([lonDeg, latDeg]: readonly number[]) =>
    Math.abs(lonDeg!) <= 180 && Math.abs(latDeg!) <= 90;
  if (geometry.type === 'Point') return isPlace(geometry.coordinates);
  if (geometry.type === 'LineString')
    return geometry.coordinates.length > 1 && geometry.coordinates.every(isPlace);
  if (geometry.type === 'MultiLineString')
    return geometry.coordinates.every((line) => line.length > 1 && line.every(isPlace));
  const rings = geometry.type === 'Polygon' ? geometry.coordinates : geometry.coordinates.flat();
  return (
    rings.length > 0 &&
    rings.every((ring) => ring.length > 3 && isSame(ring[0]!, ring.at(-1)!) && ring.every(isPlace))
  );
}

const isSame = (a: readonly number[], b: readonly number[]) => a[0] === b[0] && a[1] === b[1];

export const target: FuzzTarget = {
  name: 'sigmet',
  seeds: async () => SEEDS.map((text) => Buffer.from(text, 'latin1')),
  mutate: (seed, random) => mutateWords(seed, random, { parts: PARTS, end: /(?<=[ /\n=-])/ }),
  read,
  mostMsPerByte: 0.05,
  mostBytesPerByte: 8000,
};
