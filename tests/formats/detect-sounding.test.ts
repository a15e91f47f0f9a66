import { describe, expect, test } from 'vitest';
import { UnsupportedError } from '../../worker/errors.ts';
import { detectSoundingFormat, readSoundings } from '../../worker/formats/detect-sounding.ts';
import { joined, writeBufrAscent } from '../support/bufr-ascent.ts';
import { SAMPLE, SAMPLE_PLACE } from '../support/sounding-sample.ts';
import { writeIgra, writeTemp } from '../support/sounding-writer.ts';

const IGRA = writeIgra({ ...SAMPLE, stationId: 'ZZM00000901' });
const TEMP = writeTemp(SAMPLE);
const BUFR = writeBufrAscent({
  levels: [
    { seconds: 0, hPa: 961, temperatureC: -2.8, dewPointC: -3.5 },
    { seconds: 60, hPa: 925, temperatureC: -3.3, dewPointC: -4.3 },
  ],
});
const CONTEXT = { nearMs: Date.UTC(2026, 0, 15), stations: () => SAMPLE_PLACE };

describe('detectSoundingFormat', () => {
  test.each([
    ['a station file', IGRA, 'igra-v2'],
    ['a station file after a line that is none of it', `a note\n${IGRA}`, 'igra-v2'],
    ['a station file behind a byte order mark', `\uFEFF${IGRA}`, 'igra-v2'],
    ['a TEMP message', TEMP, 'fm-35-temp'],
    ['a TEMP message in a bulletin', `833\nUSXX17 XXXX 151201\nMANXXX\n00901 ${TEMP}`, 'fm-35-temp'],
    ['a ship’s message', 'UUBB SHIPX 65120 99485', 'fm-35-temp'],
    ['a wind-only message, to be refused by name', 'PPBB 65120 00901', 'fm-35-temp'],
    ['a BUFR message', 'BUFR\u0000\u0001\u0000\u0004', 'fm-94-bufr'],
    ['a BUFR message cut after its mark', 'BUFR', 'fm-94-bufr'],
    [
      'a BUFR message of an edition that is not read, to be refused by number',
      'BUFR\u0000\u0001\u0000\u0001',
      'fm-94-bufr',
    ],
    [
      'a BUFR message in a bulletin',
      '\u0001\r\r\n444 \r\r\nIUSD15 ENMI 260000\r\r\nBUFR\u0000',
      'fm-94-bufr',
    ],
    [
      'BUFR messages after one that is damaged',
      `xUFR${'\u0000'.repeat(200)}BUFR\u0000\u0001\u0000\u0003`,
      'fm-94-bufr',
    ],
    ['a TEMP message that speaks of BUFR', `${TEMP} ALSO IN BUFR\r\r\n\u0003`, 'fm-35-temp'],
    ['a table with a column named BUFR', 'station\tBUFR no\theight', undefined],
    ['a letter that speaks of BUFR', 'where do I find the BUFR tables?', undefined],
    ['nothing', '', undefined],
    ['a heading line of another file', '# station, latitude, longitude', undefined],
    ['a surface report', 'METAR KXXX 151200Z 06008KT 5SM -FZRA OVC010 M02/M03 A2990', undefined],
    ['a word that contains a part’s name', 'XTTAAX 12345', undefined],
    ['binary data', 'GRIB\u0000\u0000\u0000\u0002', undefined],
  ])('%s', (_name, text, expected) => {
    expect(detectSoundingFormat(text)).toBe(expected);
  });
});

describe('readSoundings', () => {
  test.each([
    ['igra-v2', IGRA],
    ['fm-35-temp', TEMP],
  ])('gives %s to its reader', (format, text) => {
    const { soundings } = readSoundings(text, CONTEXT);
    expect(soundings.map((sounding) => [sounding.format, sounding.levels.levelCount])).toEqual([
      [format, SAMPLE.levels.length],
    ]);
  });

  test('gives BUFR to its reader, from bytes only', () => {
    const bytes = joined('IUSD15 ENMI 260000\r\r\n', BUFR, 'BUFR');
    const { soundings, rejected } = readSoundings(bytes, CONTEXT);
    expect(soundings.map(({ format, levels }) => [format, levels.levelCount])).toEqual([['fm-94-bufr', 2]]);
    expect(rejected).toEqual([
      {
        line: 2,
        reason: expect.stringContaining(`message at offset ${bytes.length - 4}: BUFR message length`),
      },
    ]);
    const asText = () => readSoundings(String.fromCharCode(...BUFR), CONTEXT);
    expect(asText).toThrow(expect.objectContaining({ feature: 'BUFR as text in place of bytes' }));
  });

  test('reads the other formats from bytes as well', () => {
    const bytes = new TextEncoder().encode(IGRA);
    expect(readSoundings(bytes, CONTEXT).soundings).toEqual(readSoundings(IGRA, CONTEXT).soundings);
  });

  test('refuses a text of neither format and shows its beginning', () => {
    const attempt = () => readSoundings('hello there', CONTEXT);
    expect(attempt).toThrow(UnsupportedError);
    expect(attempt).toThrow(expect.objectContaining({ feature: 'sounding text', value: '"hello there"' }));
  });
});
