import { describe, expect, test } from 'vitest';
import { createAerodromeReader } from '../../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import {
  createBulletinSplitter,
  type RawReport,
} from '../../../worker/formats/aerodrome-reports/split-bulletins.ts';
import { NEAR_MS, read } from './read-one.ts';

const SOH = '\u0001';
const ETX = '\u0003';

function split(text: string): RawReport[] {
  const splitter = createBulletinSplitter();
  return [...splitter.push(text), ...splitter.end()];
}

const texts = (text: string) => split(text).map((each) => each.text);

/** Two bulletins as a circuit sends them, a report over two lines, and one without its equals sign. */
const RECEIVED = [
  `${SOH}\r\r\n410 \r\r\nSAUS70 KWBC 150000 RRX\r\r\nMETAR\r\r\n`,
  'KAAA 142355Z 30009KT 10SM CLR 06/M02 A3017 RMK AO2\r\r\n     T00941042 10155=\r\r\n',
  'KBBB 142355Z 00000KT 10SM OVC010 M02/M03 A2989=\r\r\n\r\r\n',
  `${ETX}${SOH}\r\r\n411 \r\r\nSAUS43 KDDC 150000 COR\r\r\nMTRP28\r\r\n`,
  'METAR KP28 142356Z AUTO 01004KT 06/M07 A3028 RMK AO1 \r\r\nT00561072 10128\r\r\n\r\r\n',
  ETX,
].join('');

describe('a transmission as received', () => {
  test('its reports, with heading, code, correction and line', () => {
    expect(
      split(RECEIVED).map(({ text, code, isCorrection, heading, place }) => [
        text,
        code,
        isCorrection,
        heading?.designator,
        heading?.sign,
        place.line,
      ]),
    ).toEqual([
      [
        'KAAA 142355Z 30009KT 10SM CLR 06/M02 A3017 RMK AO2 T00941042 10155',
        'METAR',
        false,
        'SAUS70',
        'RRX',
        5,
      ],
      ['KBBB 142355Z 00000KT 10SM OVC010 M02/M03 A2989', 'METAR', false, 'SAUS70', 'RRX', 7],
      [
        'METAR KP28 142356Z AUTO 01004KT 06/M07 A3028 RMK AO1 T00561072 10128',
        'METAR',
        true,
        'SAUS43',
        'COR',
        13,
      ],
    ]);
  });

  test('cut into any two stretches, or byte by byte, gives the same', () => {
    const whole = split(RECEIVED);
    for (let at = 0; at <= RECEIVED.length; at += 1) {
      const splitter = createBulletinSplitter();
      const parts = [
        ...splitter.push(RECEIVED.slice(0, at)),
        ...splitter.push(RECEIVED.slice(at)),
        ...splitter.end(),
      ];
      expect(parts).toEqual(whole);
    }
    const single = createBulletinSplitter();
    const items = [...RECEIVED].flatMap((character) => single.push(character));
    expect([...items, ...single.end()]).toEqual(whole);
  });

  test('bytes are read one character each', () => {
    const bytes = Uint8Array.from(RECEIVED.replace('CLR', 'C\u00CDR'), (character) =>
      character.charCodeAt(0),
    );
    const reader = createAerodromeReader({ nearMs: NEAR_MS });
    const items = [...reader.push(bytes), ...reader.end()];
    expect(items[0]).toMatchObject({ report: { unread: [{ text: 'C\u00CDR' }] } });
    expect(items[2]!.place.offset).toBe(RECEIVED.indexOf('METAR KP28'));
  });

  test('a byte order mark, as bytes or as a character, belongs to no report', () => {
    const reader = createAerodromeReader({ nearMs: NEAR_MS });
    const bytes = new TextEncoder().encode('\uFEFFKAAA 142355Z NIL=');
    expect(reader.push(bytes)).toMatchObject([{ kind: 'report', place: { offset: 3 } }]);
    expect(texts('\uFEFFKAAA 142355Z NIL=')).toEqual(['KAAA 142355Z NIL']);
  });

  test('the places of the reports and the envelope between them cover every character', () => {
    let at = 0;
    const between: string[] = [];
    for (const { place } of split(RECEIVED)) {
      expect(place.offset).toBeGreaterThanOrEqual(at);
      between.push(RECEIVED.slice(at, place.offset));
      at = place.offset + place.length;
    }
    between.push(RECEIVED.slice(at));
    const envelope = between.join(' ').replaceAll(SOH, ' ').replaceAll(ETX, ' ');
    expect(envelope.match(/\S+/g)!.join(' ')).toBe(
      '410 SAUS70 KWBC 150000 RRX METAR 411 SAUS43 KDDC 150000 COR MTRP28',
    );
  });
});

describe('where one report ends and the next begins', () => {
  test('without equals signs each line that names station and time begins one', () => {
    expect(
      texts('KAAA 142355Z 30009KT\n     10SM CLR\nKBBB 142355Z 00000KT\nMETAR KCCC 142355Z 00000KT\n'),
    ).toEqual(['KAAA 142355Z 30009KT 10SM CLR', 'KBBB 142355Z 00000KT', 'METAR KCCC 142355Z 00000KT']);
  });

  test('also when the report that begins has its equals sign on the same line', () => {
    expect(texts('METAR KAAA 142355Z 30009KT\nMETAR KBBB 142355Z 00000KT=\n')).toEqual([
      'METAR KAAA 142355Z 30009KT',
      'METAR KBBB 142355Z 00000KT',
    ]);
  });

  test('a further line with a time of the next observation begins none', () => {
    expect(texts('METAR CYZZ 150000Z 00000KT RMK LAST STFD OBS\nNEXT 151400Z SLP080=')).toEqual([
      'METAR CYZZ 150000Z 00000KT RMK LAST STFD OBS NEXT 151400Z SLP080',
    ]);
    expect(texts('METAR KAAA 142355Z 00000KT RMK\n     KBBB 142355Z SLP080=')).toHaveLength(1);
  });

  test('several on one line', () => {
    expect(texts('METAR KAAA 142355Z NIL= METAR KBBB 142355Z NIL=')).toEqual([
      'METAR KAAA 142355Z NIL',
      'METAR KBBB 142355Z NIL',
    ]);
  });

  test('figures above a heading are its number, figures before anything else belong to the report', () => {
    expect(
      texts('SAUS70 KWBC 150000\nMETAR KAAA 142355Z RMK\n967\n\n123\nSAUS70 KWBC 150001\nKBBB 142355Z 0\n'),
    ).toEqual(['METAR KAAA 142355Z RMK 967', 'KBBB 142355Z 0']);
    expect(texts('SAUS70 KWBC 150000\nMETAR KAAA 142355Z RMK\n967\n')).toEqual([
      'METAR KAAA 142355Z RMK 967',
    ]);
    expect(texts('SAUS70 KWBC 150000\nMETAR KAAA 142355Z RMK\n967=')).toEqual(['METAR KAAA 142355Z RMK 967']);
  });

  test('older envelopes', () => {
    expect(texts('ZCZC 123\nSAUS70 KWBC 150000\nMETAR KAAA 142355Z NIL\nNNNN\n')).toEqual([
      'METAR KAAA 142355Z NIL',
    ]);
    expect(texts('****0000000123****\nSAUS70 KWBC 150000\nKAAA 142355Z NIL=\n')).toEqual([
      'KAAA 142355Z NIL',
    ]);
  });
});

describe('what the heading and the code line say', () => {
  test.each([
    ['SAUS70 KWBC 150000', 'METAR'],
    ['SPUS70 KWBC 150000', 'SPECI'],
    ['FTUS41 KWBC 150000', 'TAF'],
    ['FCUK31 EGGY 150000', 'TAF'],
    ['SAEW KAWN 150000 RRM', 'METAR'],
    ['UBUS01 KWBC 150000', undefined],
  ])('%s', (heading, code) => {
    expect(split(`${heading}\nKAAA 142355Z 00000KT=`)).toMatchObject([{ code }]);
  });

  test('a report that names its code needs no heading of its kind', () => {
    expect(split('SXUS70 KWBC 150000\nSPECI KAAA 142355Z NIL=')).toMatchObject([{ code: 'SPECI' }]);
  });

  test('a bulletin of another kind is refused by its heading', () => {
    expect(read('UBUS01 KWBC 150000\nKAAA UA /OV KAAA=')).toMatchObject([
      {
        kind: 'refused',
        reason: 'bulletin: found UBUS01, expected SA, SP, FT or FC, or reports that name their code',
      },
    ]);
  });

  test('a code line with a time speaks for reports that bring none', () => {
    const items = read(
      'SASO31 AGGG 150000\nMETAR 150000Z\nAGGC 27002KT 9999=\nAGGH NIL=\nAGGM 150010Z NIL=\n',
    );
    expect(items).toMatchObject([
      { report: { station: 'AGGC', timeMs: Date.UTC(2026, 0, 15), wind: { speedKt: 2 } } },
      { report: { station: 'AGGH', isNil: true, timeMs: Date.UTC(2026, 0, 15) } },
      { report: { station: 'AGGM', timeMs: Date.UTC(2026, 0, 15, 0, 10) } },
    ]);
  });

  test('the code line ends with its bulletin', () => {
    const items = read(`${SOH}SPUS70 KWBC 150000\nSPECI\nKAAA 142355Z 0=${ETX}KBBB 142355Z 0=`);
    expect(items).toMatchObject([
      { report: { kind: 'speci' } },
      { report: { kind: 'metar' }, heading: undefined },
    ]);
  });

  test('AAA amends and CCA corrects all of a bulletin', () => {
    expect(split('FTUS41 KWBC 150000 AAB\nTAF KAAA 142355Z NIL=')).toMatchObject([{ isAmendment: true }]);
    expect(split('SACN41 CWAO 150000 CCA\nMETAR CYZZ 142355Z NIL=')).toMatchObject([{ isCorrection: true }]);
  });

  test('the line of a product name is envelope, right after the heading alone', () => {
    expect(texts('FTUS41 KOKX 150000\nTAFJFK\nTAF\nKJFK 142355Z NIL=\nTAFJFK\n')).toEqual([
      'KJFK 142355Z NIL',
      'TAFJFK',
    ]);
  });
});

describe('text without an end', () => {
  test('is refused beyond what a report can be, and the next report is read', () => {
    const endless = `METAR KAAA 142355Z RMK ${'SNOW '.repeat(5000)}`;
    const items = read(`${endless}=\nMETAR KBBB 142355Z NIL=`);
    expect(items).toMatchObject([
      { kind: 'refused', reason: expect.stringMatching(/^report: found more than 8192 characters/) },
      { kind: 'report', report: { station: 'KBBB' } },
    ]);
    expect(items[0]!.place).toMatchObject({ line: 1, offset: 0, length: endless.length + 1 });
  });

  test('nothing, blanks and control characters hold no report', () => {
    for (const text of ['', '\n\n', ' \r\r\n\u0000\u0003\u0001', '=', '= = ='])
      expect(texts(text)).toEqual([]);
  });
});
