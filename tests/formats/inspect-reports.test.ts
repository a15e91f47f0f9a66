import { describe, expect, test } from 'vitest';
import { inspectReports } from '../../worker/formats/inspect-reports.ts';
import { partsOfReports } from '../../worker/formats/mixed-reports.ts';

const NEAR_MS = Date.UTC(2026, 0, 15, 15);
const METAR = 'METAR KZZZ 151453Z 02012KT 3SM -FZRA OVC008 M02/M03 A2990';
const TAF = 'TAF KZZZ 151130Z 1512/1612 02012KT 9999 -FZRA OVC008\n     FM151800 VRB03KT 0800 FZFG VV002';
const UUA = 'ABC UUA /OV ABC/TM 1400/FL060/TP ZZZZ/IC SEV CLR';
const SIGMET =
  'ZZZZ SIGMET 1 VALID 151300/151700 ZZZZ-\nZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL030/110 STNR NC';

/** Kind and line of each object. */
const told = (text: string) =>
  inspectReports(text, NEAR_MS, undefined).map((each) => {
    const { kind, line } = each as { kind: string; line: number };
    return `${line} ${kind}`;
  });

describe('a text of several kinds', () => {
  test('is read each by its own kind, in the order of its lines', () => {
    expect(told([METAR, TAF, UUA, SIGMET].join('\n'))).toEqual([
      '1 metar',
      '2 taf',
      '4 pilot-report',
      '5 warning',
    ]);
    expect(told([SIGMET, UUA, METAR, SIGMET, TAF].map((each) => `${each}=`).join('\n\n'))).toEqual([
      '1 warning',
      '4 pilot-report',
      '6 metar',
      '8 warning',
      '11 taf',
    ]);
  });

  test('may stand on one line, parted by equals signs', () => {
    expect(told(`${UUA}= ${METAR.slice(6)}= ${SIGMET.replace('\n', ' ')}=`)).toEqual([
      '1 pilot-report',
      '1 metar',
      '1 warning',
    ]);
  });

  test('with headings: each goes to the kind that it heads', () => {
    const text = [
      `SAUS70 ZZZZ 151500\nKZZZ 151453Z 02012KT CAVOK=`,
      `UBUS31 ZZZZ 151405\n${UUA}=`,
      `WSUS01 ZZZZ 151310\nWS1P\nBOSP WS 151310\nSIGMET PAPA 2 VALID UNTIL 151710\nME NH\nFROM AAA TO BBB TO CCC TO AAA\nOCNL SEV ICE BTN 030 AND 090.`,
    ].join('\n');
    expect(told(text)).toEqual(['2 metar', '4 pilot-report', '8 warning']);
  });

  test('every line comes out in exactly one part, at its own number', () => {
    const text = ['HELLO', METAR, 'AND MORE', UUA, SIGMET, '  RMK WORDS'].join('\n');
    const parts = [...partsOfReports(text).values()].map((part) => part.split('\n'));
    expect(parts.every((lines) => lines.length === text.split('\n').length)).toBe(true);
    text.split('\n').forEach((line, index) => {
      expect(parts.map((lines) => lines[index]).filter((each) => each !== '')).toEqual([line]);
    });
  });

  test('a station ARP in the code before METAR is no air-report', () => {
    expect(partsOfReports('SAUS70 ZZZZ 151500\nARP SA 0000 AUTO8 M M M 024/-06/-10/3306=').size).toBe(1);
  });

  test('holds no part where nothing begins', () => {
    expect(partsOfReports('HELLO\nWORLD').size).toBe(0);
  });
});
