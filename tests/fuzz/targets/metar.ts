/** METAR, SPECI and TAF: bulletins of the collective, forecasts of our own, mutated by bytes and by groups. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  type AerodromeItem,
  createAerodromeReader,
} from '../../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { FuzzTarget, Random } from '../fuzz-target.ts';

const NEAR_MS = Date.UTC(2020, 0, 6);
const START_OF_HEADING = 1;
/** Some of the collective's bulletins, spread over it. */
const MOST_SEEDS = 400;
const LONGEST_SEED_BYTES = 6000;

const OWN = [
  'METAR KZZZ 051453Z 02012G20KT 350V060 1 1/2SM R24/1100U -FZDZ OVC008 M02/M03 A2990 RMK AO2 PK WND 02030/1432 FZDZB05E20SNB20 SLP132 P0001 60003 4/012 T10221028 I1001 FZRANO $=\n',
  'FTUS41 KZZZ 051130 AAA\nTAF AMD\nKZZZ 051130Z 0512/0618 02012KT P6SM -FZRA OVC008 620304 520303 WS020/24045KT\n     FM051800 VRB03KT 1/2SM FZFG VV002\n     PROB30 TEMPO 0600/0604 1/4SM +SN QNH2960INS TXM05/0512Z TNM12/0605Z=\n',
  'TAF EFZZ 051909Z 051918 01006KT 9999 SCT020 TEMPO 1904 5000 -SHSN FM0400 VRB03KT BECMG 0608 01012KT PROB30 0616 FZDZ=\n',
  'METAR UZZZ 050030Z 00000MPS 0250 0150SE R30/0500D FZFG VV001 M16/M17 Q1027 R30/390040 R88/CLRD70 TEMPO FM0100 TL0200 0100 FZDZ RMK QFE725/0967 MOD ICE INC 1200M-1800M=\n',
];

/** Groups, and parts of them, that take a reader down another path. */
const PIECES =
  '= METAR SPECI TAF COR AMD AUTO NIL CNL NOSIG TEMPO BECMG INTER PROB30 PROB40 FM0100 FM060100 TL0200 AT0130 RMK RMKS: SA WS RWY ALL PK WND WSHFT VIS SFC TWR CIG SNINCR SOG PCPN MISG ICE INC MOD // /// //// ///// ////// ///////// /////KT M NSW CAVOK NSC VV/// VRB99KT 36005G99MPS 060V120 9999 0000 M1/4SM 1 1/2SM P6SM 1/0SM FZRA +FZDZ VCFG REFZRA RE// OVC000 M00/M00 M99/99 Q1013 A2992 Q//// R24/P2000FT/U R24/590230 R/SNOCLO W15/S4 T10221028 I1000 I6/// P0000 6//// SLP132 RAB05E20 1512/1612 0512/0618 051118 TX05/0512Z 620304 QNH2992INS WS020/24045KT 061200Z KZZZ constructor FM FM0503 FM0512 051800 FROM TEMPO0512/0514 TEMP SKC -FZ RA FZRA- -ZR FRZA'.split(
    ' ',
  );

export const target: FuzzTarget = {
  name: 'metar',
  mostMsPerByte: 0.02,
  mostBytesPerByte: 400,
  async seeds(dataFolder) {
    const own = OWN.map((text) => new TextEncoder().encode(text));
    if (dataFolder === undefined) return own;
    const file = new Uint8Array(await readFile(join(dataFolder, 'reports/metar/collective-2020010600.wmo')));
    const bulletins = splitAt(file, START_OF_HEADING).filter(({ length }) => length <= LONGEST_SEED_BYTES);
    const step = Math.max(1, Math.floor(bulletins.length / MOST_SEEDS));
    return [...own, ...bulletins.filter((_, index) => index % step === 0)];
  },
  mutate(seed, random) {
    let words = new TextDecoder('latin1').decode(seed).split(/(?<=[ \n=])/);
    for (let count = 1 + random.below(6); count > 0; count -= 1) words = mutateWords(words, random);
    return Uint8Array.from(words.join(''), (character) => character.charCodeAt(0) & 0xff);
  },
  /** Read whole and in two stretches: both must cut the same; the places must lie one behind the other. */
  read(bytes) {
    const items = readStretches([bytes]);
    const middle = bytes.length >> 1;
    const again = readStretches([bytes.subarray(0, middle), bytes.subarray(middle)]);
    if (cutsOf(items) !== cutsOf(again)) throw new Error('two stretches are cut unlike one');
    checkPlaces(bytes, items);
    items.forEach(checkReport);
    return items;
  },
};

function readStretches(stretches: readonly Uint8Array[]): AerodromeItem[] {
  const reader = createAerodromeReader({ nearMs: NEAR_MS });
  return [...stretches.flatMap((each) => reader.push(each)), ...reader.end()];
}

function cutsOf(items: readonly AerodromeItem[]): string {
  return items.map(({ kind, place }) => `${kind} ${place.line} ${place.offset} ${place.length}`).join('\n');
}

function mutateWords(words: string[], random: Random): string[] {
  const at = random.below(words.length + 1);
  const piece = PIECES[random.below(PIECES.length)]!;
  switch (random.below(6)) {
    case 0:
      return words.toSpliced(at, 0, `${piece} `);
    case 1:
      return words.toSpliced(at, 1, `${piece} `);
    case 2:
      return words.toSpliced(at, 1 + random.below(4));
    case 3:
      return words.toSpliced(at, 0, ...words.slice(random.below(words.length), random.below(words.length)));
    case 4:
      return words.map((word, index) => (index === at ? word.trimEnd() + piece : word));
    default:
      return words.map((word, index) => (index === at ? word.replace(/\d/, String(random.below(10))) : word));
  }
}

function checkPlaces(bytes: Uint8Array, items: readonly AerodromeItem[]): void {
  let at = 0;
  for (const { place } of items) {
    if (place.offset < at) throw new Error(`place ${place.offset} lies before ${at}`);
    at = place.offset + place.length;
  }
  if (at > bytes.length) throw new Error(`places reach to ${at} of ${bytes.length} bytes`);
}

/** Values that no report can have, and numbers that are none. */
function checkReport(item: AerodromeItem): void {
  if (item.kind !== 'report') return;
  const { report } = item;
  const check = (
    name: string,
    value: number | null | undefined,
    [least, most]: readonly [number, number],
  ) => {
    if (value === null || value === undefined) return;
    if (!(value >= least && value <= most))
      throw new Error(`${name}: ${value} of ${report.text.slice(0, 200)}`);
  };
  if (report.kind === 'taf') {
    const { validFromMs, validUntilMs } = report;
    if (validFromMs !== null)
      check('validity', validUntilMs, [validFromMs + 1, validFromMs + 2 * 86_400_000]);
    for (const each of report.changes) check('change', each.untilMs, [-Infinity, Infinity]);
    return;
  }
  check('time', report.timeMs, [NEAR_MS - 62 * 86_400_000, NEAR_MS + 62 * 86_400_000]);
  check('temperature', report.temperatureC, [-90, 65]);
  check('dew point', report.dewPointC, [-90, 65]);
  check('altimeter', report.altimeterHPa, [850, 1100]);
  check('direction', report.wind?.directionDeg, [0, 360]);
  check('speed', report.wind?.speedKt, [0, 250]);
  check('visibility', report.visibility?.visibilityM, [0, 2_000_000]);
  check('sea level pressure', report.remarks?.seaLevelPressureHPa, [820, 1130]);
  check('tenths', report.remarks?.temperatureC, [-99.9, 99.9]);
}

function splitAt(bytes: Uint8Array, mark: number): Uint8Array[] {
  const parts: Uint8Array[] = [];
  let from = 0;
  for (let at = bytes.indexOf(mark, 1); at >= 0; at = bytes.indexOf(mark, from + 1)) {
    parts.push(bytes.slice(from, at));
    from = at;
  }
  return [...parts, bytes.slice(from)];
}
