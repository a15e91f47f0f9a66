/** FM 35 TEMP: real messages and one of every family, groups exchanged, lost and doubled. */
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { joinedSounding, readTemp, type TempContext } from '../../../worker/formats/temp/read-temp.ts';
import { checkSounding } from '../check-sounding.ts';
import type { FuzzTarget } from '../fuzz-target.ts';
import { mutateWords } from '../mutate-words.ts';

const NEAR_MS = Date.UTC(2026, 0, 15, 18);
const CONTEXT: TempContext = {
  nearMs: NEAR_MS,
  stations: (number) =>
    number.startsWith('9')
      ? undefined
      : { latDeg: 44.5, lonDeg: -73.2, elevationM: number === '00002' ? Number.NaN : 101 },
};

const LEVELS =
  '99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 70942 08156 21545 50550 24361 25111 40710 38362 25560 88247 56164 26531 77231 26650 40512';
const SIGNIFICANT =
  '00987 02112 11968 03506 22850 01230 33700 08156 44500 24361 21212 00987 06008 11951 07014 22700 21545';
const OWN = [
  `833\nUSXX17 XXXX 151201 COR\nMANXXX\n00001 TTAA 65123 00001 ${LEVELS} 31313 48108 81130 51515 10164 00012 10194 34510 32513=\n`,
  `USXX17 XXXX 151201 CCB\nTTBB 6512/ 00001 ${SIGNIFICANT} 31313 48108 81130 41414 86500 51515 10166 07050=\nTTAA 65123 72001 ${LEVELS} 51515 10166 09070=\nNNNN\n`,
  'TTCC 65123 00001 70814 49784 21533 50032 52183 23037 88999 77999=\nTTDD 6512/ 00001 11686 49184 22546 53183 21212 11919 24030=\n',
  `UUAA SHIP1 65123 99445 70732 00143 ${LEVELS}=\nUUBB SHIP1 6512/ 99445 70732 00143 ${SIGNIFICANT}=\n`,
  `IIAA MOBL1 65123 99445 70732 00143 01971 ${LEVELS}=\nIIBB MOBL1 6512/ 99445 70732 00143 01971 ${SIGNIFICANT}=\n`,
  'TTAA 6512/ 00002 NIL=\nTTAA 6512/ 72001 51515 10142=\nPPBB 6512/ 00001 90012 36003 15017 17517=\n',
];

const PARTS =
  '= TTAA TTBB TTCC TTDD UUAA UUBB IIAA IIBB XXAA PPBB NIL COR CCA CCZ RRA NNNN 6512/ 65123 65129 15120 99/// 00001 00002 72001 99987 99021 00091 00531 92722 85398 70942 50550 ///// 00/// 88999 88247 77999 77231 66231 40512 21212 31313 41414 51515 61616 10142 10166 07050 00085 81130 82460 11968 22850 33/// 00987 11987 99999 55550 66666 08156 15030 36099 99445 70732 00143 01971 ////1 \n'
    .split(' ')
    .map((word) => `${word} `);

export const target: FuzzTarget = {
  name: 'temp',
  mostMsPerByte: 0.05,
  mostBytesPerByte: 2000,
  async seeds(dataFolder) {
    const own = OWN.map((text) => new TextEncoder().encode(text));
    if (dataFolder === undefined) return own;
    const names = ['02963-2006041012-temp.txt', '70398-day10-12z-ttaa-bulletin.txt'];
    const real = names.map((name) => readFile(join(dataFolder, 'soundings/fm35', name)));
    return [...own, ...(await Promise.all(real)).map((each) => new Uint8Array(each))];
  },
  mutate: (seed, random) => mutateWords(seed, random, { parts: PARTS, end: /(?<=[ \n=])/ }),
  read(bytes) {
    const text = Buffer.from(bytes).toString('latin1');
    const { soundings, rejected } = readTemp(text, CONTEXT);
    const lines = text.split(/\r\n|\n|\r/).length;
    for (const { line } of rejected) {
      if (!(line >= 1 && line <= lines)) throw new Error(`line ${line} of ${lines}`);
    }
    for (const sounding of soundings) {
      checkSounding(sounding, lines);
      checkSounding(joinedSounding(sounding.reports, sounding, CONTEXT), lines);
    }
    return soundings;
  },
};
