import { describe, expect, test } from 'vitest';
import { readAerodromeText } from '../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import { readPilotReports } from '../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { decodedText, plainText } from '../../worker/formats/plain-text.ts';
import { readWarnings } from '../../worker/formats/warnings/read-warnings.ts';

const REFERENCE_MS = Date.UTC(2026, 0, 15, 15);
const context = { referenceMs: REFERENCE_MS, fixes: () => [] };

describe('decodedText', () => {
  test('is UTF-8 where all of it is, a byte order mark included', () => {
    expect(decodedText(new TextEncoder().encode('\ufeffA\u2013B\u00a0C'))).toBe('\ufeffA\u2013B\u00a0C');
  });

  test('is Latin-1 where some of it is not UTF-8', () => {
    expect(decodedText(Uint8Array.of(0x43, 0xcd, 0x52, 0xa0, 0x90))).toBe('C\u00cdR\u00a0\u0090');
    expect(plainText(decodedText(Uint8Array.of(0x96, 0xcd)))).toBe('-\u00cd');
  });
});

test('plainText keeps every character in its place', () => {
  const text = '\ufeffA\u2010B\u2011C\u2012D\u2013E\u2014F\u2212G\u00a0H\u2003I\u202fJ\u200bK\u3000L';
  expect(plainText(text)).toBe(' A-B-C-D-E-F-G H I J K L');
  expect(plainText(text)).toHaveLength(text.length);
});

describe('texts with dashes and blanks of word processors', () => {
  test('METAR', () => {
    const text = '\ufeffMETAR\u00a0KZZZ 151453Z 02012KT\u20033SM \u2013FZRA OVC008 M02/M03=\n\nX=';
    const [item, refused] = readAerodromeText(text, { nearMs: REFERENCE_MS });
    expect(item).toMatchObject({
      report: { station: 'KZZZ', weather: [{ text: '-FZRA' }], unread: [] },
      place: { line: 1, offset: 1, length: text.indexOf('=') },
    });
    expect(refused).toMatchObject({ kind: 'refused', place: { line: 3, offset: text.indexOf('X=') } });
  });

  test('PIREP', () => {
    const text = '\ufeff\nABC\u00a0UA /OV ABC/TM 1400/FL\u2009090/IC LGT\u2013MOD RIME 060\u2014090';
    expect([...readPilotReports(text, context)]).toMatchObject([
      {
        line: 2,
        level: { altitudeFt: 9000 },
        icing: {
          layers: [{ lightest: 'light', heaviest: 'moderate', band: { lowerFt: 6000, upperFt: 9000 } }],
        },
        unread: [],
      },
    ]);
  });

  test('SIGMET', () => {
    const text =
      '\ufeffZZZZ SIGMET 1 VALID\u00a0150600/151000 ZZZZ\u2013\nZZZZ EXAMPLE FIR SEV ICE FCST WI N44 W090 \u2014 N45 W086 \u2013 N43 W085 FL030/110';
    expect([...readWarnings(text, context)]).toMatchObject([
      { phenomenon: { kind: 'icing' }, areas: [{ geometry: { kind: 'polygon' } }], unread: [] },
    ]);
  });
});
