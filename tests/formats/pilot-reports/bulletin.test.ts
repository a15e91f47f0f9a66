import { describe, expect, test } from 'vitest';
import { bulletinMessages, joined } from '../../../worker/formats/pilot-reports/bulletin.ts';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { CONTEXT } from './report-context.ts';

const BULLETIN = [
  '\u0001\r\r',
  '413 \r\r',
  'UBUS31 KWBC 151405\r\r',
  'PRCUS\r\r',
  'ABC UA /OV ABC/TM 1355/FL090/IC LGT RIME/RM\r\r',
  '    TOPS AT 110=\r\r',
  'DEF UUA /OV DEF/TM 1400/FL100/IC SEV CLR=\r\r',
  '\u0003',
].join('\n');

const items = (text: string) => [...readPilotReports(text, CONTEXT)];

describe('bulletinMessages', () => {
  test('parts a bulletin into its messages, with lines and the heading', () => {
    const messages = [...bulletinMessages(BULLETIN)];
    expect(messages.map(({ lines }) => joined(lines))).toEqual([
      'ABC UA /OV ABC/TM 1355/FL090/IC LGT RIME/RM TOPS AT 110',
      'DEF UUA /OV DEF/TM 1400/FL100/IC SEV CLR',
    ]);
    expect(messages.map(({ lines }) => lines[0]!.line)).toEqual([5, 7]);
    expect(messages[0]!.heading).toEqual({
      designator: 'UBUS31',
      center: 'KWBC',
      day: 15,
      hour: 14,
      minute: 5,
    });
  });

  test('line ends of any kind give the same messages', () => {
    const plain = BULLETIN.replaceAll('\r', '');
    for (const text of [plain, plain.replaceAll('\n', '\r\n'), plain.replaceAll('\n', '\r')]) {
      expect([...bulletinMessages(text)].map(({ lines }) => joined(lines))).toHaveLength(2);
    }
  });

  test.each(['SOME TEXT 151405', 'UBUS31 KWBC 321405', 'UBUS31 KWBC 152405', 'UBUS31 KWBC 151460'])(
    '%s is no heading but a line of text',
    (line) => {
      const [message] = [...bulletinMessages(`${line}\nABC UA /OV ABC=`)];
      expect(message!.heading).toBeUndefined();
      expect(message!.lines[0]!.text).toBe(line);
    },
  );

  test('several messages on one line, and blanks between, keep the line number', () => {
    const messages = [...bulletinMessages('A UA /OV X=  B UA /OV Y=\n\n=C UA /OV Z')];
    expect(messages.map(({ lines }) => `${lines[0]!.line} ${joined(lines)}`)).toEqual([
      '1 A UA /OV X',
      '1 B UA /OV Y',
      '3 C UA /OV Z',
    ]);
  });
});

describe('readPilotReports', () => {
  test('reads every report of a bulletin with the bulletin day', () => {
    expect(items(BULLETIN)).toMatchObject([
      { kind: 'pilot-report', urgency: 'routine', timeMs: Date.UTC(2026, 0, 15, 13, 55) },
      { kind: 'pilot-report', urgency: 'urgent', timeMs: Date.UTC(2026, 0, 15, 14, 0) },
    ]);
  });

  test('the heading, not the reference, gives the day', () => {
    const text =
      'UBUS31 KWBC 031700\nABC UA /OV ABC/TM 1730/FL090/IC NEG=\nABC UA /OV ABC/TM 1731/FL090/IC NEG=';
    expect(items(text)).toMatchObject([
      { timeMs: Date.UTC(2026, 0, 3, 17, 30) },
      { timeMs: Date.UTC(2026, 0, 2, 17, 31) },
    ]);
  });

  test('a report whose end sign is missing ends where the next begins', () => {
    const text = 'ABC UA /OV ABC/TM 1355/IC NEG\nDEF UA /OV DEF/TM 1400/IC NEG=';
    expect(items(text)).toMatchObject([{ station: 'ABC' }, { station: 'DEF' }]);
  });

  test('text outside reports is refused with its line, and the reports around it are read', () => {
    const text = 'ABC UA /OV ABC/TM 1355/TB MOD 360=\n280-330/RM ZME=\nDEF UA /OV DEF/TM 1400/IC NEG=';
    expect(items(text)).toMatchObject([
      { kind: 'pilot-report' },
      { kind: 'refused', line: 2, text: '280-330/RM ZME' },
      { kind: 'pilot-report' },
    ]);
  });

  test.each([
    ['another type', 'KCRW UV /OV KBKW 360015-KCRW/TM 1815'],
    ['no element', 'ABC UA'],
    ['words after the type only', 'ABC UA NIL'],
    ['an aircraft alone', 'ARP TST123'],
  ])('%s is refused whole, with its text', (_, text) => {
    expect(items(text)).toMatchObject([{ kind: 'refused', line: 1, text }]);
  });

  test('a text that has lost its ends is refused by its length, and kept', () => {
    const text = `ABC UA /OV ABC/RM ${'X '.repeat(2000)}`;
    const [item] = items(text);
    expect(item).toMatchObject({ kind: 'refused' });
    expect(item!.kind === 'refused' && item!.reason).toContain('characters, expected at most 3000');
  });

  test('nothing in a text without words', () => {
    expect(items('')).toEqual([]);
    expect(items('\u0001\r\r\n 413 \n UBUS31 KWBC 151405\n=\n')).toEqual([]);
  });

  test('type and elements may stand without blanks between', () => {
    expect(items('KABC UA/OV KABC090064/TM 1322/FL080/TP ZZZZ/ICLGT RIME')).toMatchObject([
      { station: 'KABC', level: { altitudeFt: 8000 }, icing: { kind: 'reported' }, unread: [] },
    ]);
  });
});

describe('a report cut short', () => {
  const REPORT =
    'ABC UA /OV ABC120025/TM 1412/FL090/TP ZZZZ/SK OVC045-TOP110/TA M07/WV 28035KT/IC MOD RIME 060-090';
  const whole = items(REPORT)[0]!;

  test('at any character is read or refused, and never gives a null report or a graver intensity', () => {
    if (whole.kind === 'refused') throw new Error(whole.reason);
    let read = 0;
    for (let length = 1; length < REPORT.length; length += 1) {
      const [item, ...more] = items(REPORT.slice(0, length));
      expect(more).toEqual([]);
      if (item === undefined || item.kind === 'refused') continue;
      read += 1;
      const heaviest = item.icing.kind === 'reported' ? item.icing.layers[0]!.heaviest : 'unstated';
      expect(['unstated', 'moderate']).toContain(heaviest);
      expect([undefined, whole.timeMs]).toContain(item.timeMs);
    }
    expect(read).toBe(REPORT.length - 'ABC UA /OV'.length);
  });
});

describe('bulletins of Canada', () => {
  const REPORT = 'UA /OV ABC 090010 /TM 1320 /FL080 /TP ZZZZ /IC MDT RIME';

  test.each([
    `UACN10 ZZZZ 151332 / ZZ / ${REPORT}`,
    `UACN10 ZZZZ 151332 ZZ / ${REPORT}`,
    `UACN10 ZZZZ 151332 ${REPORT}`,
    `UACN10 ZZZZ 151332\nZZ\n${REPORT}`,
  ])('a heading, a region and a report, on one line or on three: %j', (text) => {
    expect(items(text)).toMatchObject([
      {
        kind: 'pilot-report',
        text: REPORT,
        timeMs: Date.UTC(2026, 0, 15, 13, 20),
        icing: { layers: [{ heaviest: 'moderate', what: 'rime' }] },
      },
    ]);
  });
});
