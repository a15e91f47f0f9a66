import { describe, expect, test } from 'vitest';
import { UnsupportedError } from '../../worker/errors.ts';
import { detectSoundingFormat, readSoundings } from '../../worker/formats/detect-sounding.ts';
import { SAMPLE, SAMPLE_PLACE } from '../support/sounding-sample.ts';
import { writeIgra, writeTemp } from '../support/sounding-writer.ts';

const IGRA = writeIgra({ ...SAMPLE, stationId: 'ZZM00000901' });
const TEMP = writeTemp(SAMPLE);
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

  test('refuses a text of neither format and shows its beginning', () => {
    const attempt = () => readSoundings('hello there', CONTEXT);
    expect(attempt).toThrow(UnsupportedError);
    expect(attempt).toThrow(expect.objectContaining({ feature: 'sounding text', value: '"hello there"' }));
  });
});
