import { describe, expect, test } from 'vitest';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import { CONVECTIVE, SIGMET_CANCEL, SIGMET_ICE, TANGO, ZULU } from './us-bulletins.ts';
import { CONTEXT } from './warning-context.ts';

const items = (text: string) => [...readWarnings(text, CONTEXT)];
const ICAO =
  'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ-\nZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL100/200 STNR NC';

describe('readWarnings', () => {
  test('reads texts of both kinds in any mixture', () => {
    const text = [ICAO, SIGMET_ICE, `${ICAO}=`, CONVECTIVE, SIGMET_CANCEL].join('\n');
    expect(
      items(text).map((item) => item.kind === 'warning' && `${item.style} ${item.identification}`),
    ).toEqual(['icao 1', 'us PAPA 2', 'icao 1', 'us 75C', 'us 76C', 'us 77C', 'us OSCAR 1']);
  });

  test('two warnings whose end sign is missing between them', () => {
    const second = ICAO.replace('SIGMET 1', 'SIGMET 2');
    expect(items(`${ICAO}\n${second}`)).toMatchObject([
      { identification: '1', line: 1, unread: [] },
      { identification: '2', line: 3, unread: [] },
    ]);
  });

  test.each([
    ['text outside', `HELLO WORLD=\n${ICAO}=`, 'HELLO WORLD'],
    ['text before a warning', `HELLO WORLD\n${ICAO}=`, 'HELLO WORLD'],
    [
      'a first line alone',
      'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ-=',
      'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ-',
    ],
    [
      'no validity',
      'ZZZZ SIGMET 1 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE=',
      'ZZZZ SIGMET 1 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE',
    ],
    [
      'a bulletin that says none',
      'WSUS31 KKCI 151655\nSIGE\nCONVECTIVE SIGMET...NONE',
      'CONVECTIVE SIGMET...NONE',
    ],
  ])('%s is refused with its words', (_, text, words) => {
    const refused = items(text).filter((item) => item.kind === 'refused');
    expect(refused).toMatchObject([{ text: words }]);
    expect(refused[0]).toMatchObject({ reason: expect.stringMatching(/: found .*, expected /) });
  });

  test('a series that finds no ice is refused by the words that say so', () => {
    const text = ZULU.replace(
      /AIRMET ICE\.\.\.[\s\S]*?(?=\nFRZLVL)/,
      'NO SIGNIFICANT ICE EXP OUTSIDE OF CNVTV ACT.\n.',
    );
    const [first, ...others] = items(text);
    expect(first).toMatchObject({ kind: 'refused', text: 'NO SIGNIFICANT ICE EXP OUTSIDE OF CNVTV ACT' });
    expect(others.map((item) => item.kind === 'warning' && item.phenomenon.kind)).toEqual([
      'freezing-level',
      'multiple-freezing-levels',
      'freezing-level',
      'freezing-level',
    ]);
  });

  test('a text that has lost its ends is refused by its length', () => {
    const [item, ...more] = items(`${ICAO} ${'X '.repeat(11_000)}`);
    expect(more).toEqual([]);
    expect(item).toMatchObject({ kind: 'refused' });
  });

  test('nothing in a text without words', () => {
    expect(items('\u0001\r\n WSUS31 KKCI 151655 \r\n=\n')).toEqual([]);
  });
});

describe('a changed character', () => {
  test.each([ICAO, SIGMET_ICE, ZULU, TANGO, CONVECTIVE])(
    'never makes a text vanish, and in its first line is refused: %#',
    (text) => {
      let refused = 0;
      for (let index = 0; index < text.length; index += 1) {
        for (const figure of ['0', '9', 'X', ' ']) {
          const found = items(text.slice(0, index) + figure + text.slice(index + 1));
          expect(found.length).toBeGreaterThan(0);
          refused += found.filter((item) => item.kind === 'refused').length;
        }
      }
      expect(refused).toBeGreaterThan(10);
    },
  );
});
