import { describe, expect, test } from 'vitest';
import { inspectInventory } from '../../worker/formats/inspect-inventory.ts';
import { readInventory } from '../../worker/formats/inventory.ts';

const MIDNIGHT_24_JULY_MS = Date.UTC(2026, 6, 24);

/** Lines of the short form from offsets alone; TMP of another level each. */
const colon = (...offsets: (number | string)[]) =>
  offsets.map((offset, i) => `${i + 1}:${offset}:d=2026072400:TMP:${i + 1} mb:anl:`).join('\n');
const json = (...members: object[]) =>
  members
    .map((each) =>
      JSON.stringify({
        date: '20260724',
        time: '0000',
        step: '6',
        levtype: 'pl',
        levelist: '850',
        param: 't',
        ...each,
      }),
    )
    .join('\n');

/** Lines read, as line: offset + length, and the numbers of the lines refused. */
function summary(text: string): { read: string[]; refused: number[] } {
  const { entries, rejected } = readInventory(text);
  return {
    read: entries.map((each) => `${each.line}: ${each.offsetBytes} + ${each.lengthBytes}`),
    refused: rejected.map(({ line }) => line),
  };
}

function onlyReasonOf(text: string): string {
  const { rejected } = readInventory(text);
  expect(rejected).toHaveLength(1);
  return rejected[0]!.reason;
}

describe('readInventory on lines with colons', () => {
  test('reads the short form', () => {
    const text =
      '1:0:d=2026072400:PRES:1 hybrid level:4 hour fcst:\n2:77:d=202607240030:TMP:850 mb:3-4 hour ave fcst:\n';
    expect(readInventory(text)).toEqual({
      entries: [
        {
          line: 1,
          offsetBytes: 0,
          lengthBytes: 77,
          referenceTimeMs: MIDNIGHT_24_JULY_MS,
          parameter: 'PRES',
          level: '1 hybrid level',
          forecast: '4 hour fcst',
        },
        {
          line: 2,
          offsetBytes: 77,
          lengthBytes: undefined,
          referenceTimeMs: MIDNIGHT_24_JULY_MS + 1_800_000,
          parameter: 'TMP',
          level: '850 mb',
          forecast: '3-4 hour ave fcst',
        },
      ],
      rejected: [],
    });
  });

  test('reads the long form, leaving the name in words and the unit out', () => {
    const text = '1:0:d=2026072400:PRMSL Pressure Reduced to MSL [Pa]:mean sea level:anl:';
    expect(readInventory(text).entries[0]).toMatchObject({ parameter: 'PRMSL', level: 'mean sea level' });
  });

  test('keeps what tells fields apart behind the forecast', () => {
    const text =
      '1:0:d=2026072400:MASSDEN:8 m above ground:anl:aerosol=Dust dry:aerosol_size <2.5e-06:\n2:5:d=2026072400:T:x:anl:ENS=+1::';
    expect(readInventory(text).entries.map(({ forecast }) => forecast)).toEqual([
      'anl:aerosol=Dust dry:aerosol_size <2.5e-06',
      'anl:ENS=+1',
    ]);
  });

  test('gives the fields of one message its range', () => {
    const text =
      '1.1:0:d=2026072400:UGRD:1 mb:anl:\r\n1.2:0:d=2026072400:VGRD:1 mb:anl:\r\n2:50:d=2026072400:TMP:1 mb:anl:\r\n';
    expect(summary(text)).toEqual({ read: ['1: 0 + 50', '2: 0 + 50', '3: 50 + undefined'], refused: [] });
  });

  test('takes offsets beyond 32 bits', () => {
    expect(summary(colon(0, 2 ** 33)).read).toEqual(['1: 0 + 8589934592', '2: 8589934592 + undefined']);
  });

  test('refuses negative offsets, whatever follows them, and the line whose end they would tell', () => {
    expect(summary(colon(0, 2_000_000_000, 2_100_000_000, -2_144_868_154, -5, 2_144_999_999))).toEqual({
      read: ['1: 0 + 2000000000', '2: 2000000000 + 100000000'],
      refused: [3, 4, 5, 6],
    });
  });

  test('refuses offsets wrapped at 32 bits without sign, also when they have grown past the old ones', () => {
    expect(summary(colon(0, 4_294_000_000, 17_000, 4_294_500_000))).toEqual({
      read: ['1: 0 + 4294000000'],
      refused: [2, 3, 4],
    });
  });

  test('refuses an offset behind the one before and the line it would end, and goes on', () => {
    expect(summary(colon(0, 100, 50, 200, 300))).toEqual({
      read: ['1: 0 + 100', '4: 200 + 100', '5: 300 + undefined'],
      refused: [2, 3],
    });
  });

  test('refuses an offset met twice when the numbers do not name fields of one message', () => {
    expect(summary(colon(0, 100, 100, 200)).refused).toEqual([2, 3]);
    const swapped = '1.2:0:d=2026072400:UGRD:1 mb:anl:\n1.1:0:d=2026072400:VGRD:1 mb:anl:';
    expect(summary(swapped).refused).toEqual([1, 2]);
  });

  test.each([
    '1.5',
    '1e3',
    '0x10',
    '+100',
    ' 100',
    '100 ',
    '',
    '-0',
    '007',
    '9007199254740993',
    'NaN',
    '١٠٠',
  ])('refuses the offset "%s" and the line it would end', (offset) => {
    expect(summary(colon(0, 50, offset, 9_000_000, 9_100_000))).toEqual({
      read: ['1: 0 + 50', '4: 9000000 + 100000', '5: 9100000 + undefined'],
      refused: [2, 3],
    });
  });

  test.each([
    ['1:0:d=2026072400:TMP:1 mb', 'columns'],
    ['x:0:d=2026072400:TMP:1 mb:anl:', 'number'],
    ['1:0:d=20260724:TMP:1 mb:anl:', 'reference time'],
    ['1:0:d=2026022900:TMP:1 mb:anl:', 'reference time'],
    ['1:0:d=2026072424:TMP:1 mb:anl:', 'reference time'],
    ['1:0:2026072400:TMP:1 mb:anl:', 'reference time'],
    ['1:0:d=2026072400::1 mb:anl:', 'parameter'],
    ['1:0:d=2026072400:TMP::anl:', 'level'],
    ['1:0:d=2026072400:TMP:1 mb::', 'forecast'],
    [`1:0:d=2026072400:TMP:${'x'.repeat(2000)}:anl:`, 'characters'],
  ])('refuses %s, naming the %s', (text, what) => {
    expect(onlyReasonOf(text)).toContain(what);
  });

  test('a line refused for another column still ends the message before it', () => {
    const text = colon(0, 100, 200).replace('d=2026072400:TMP:2 mb', 'd=2026:TMP:2 mb');
    expect(summary(text)).toEqual({ read: ['1: 0 + 100', '3: 200 + undefined'], refused: [2] });
  });

  test('cut anywhere, it reads no field otherwise but in its last two lines', () => {
    const text = colon(0, 100, 250, 475);
    const whole = readInventory(text).entries;
    for (let length = 0; length < text.length; length += 1) {
      const cut = text.slice(0, length);
      const lines = cut === '' ? 0 : cut.split('\n').filter((line) => line !== '').length;
      const { entries, rejected } = readInventory(cut);
      expect(entries.length + rejected.length).toBe(lines);
      expect(entries.filter(({ line }) => line < lines - 1)).toEqual(
        whole.filter(({ line }) => line < lines - 1),
      );
    }
  });
});

describe('readInventory on lines of JSON', () => {
  test('reads offset, length, and the names of the field', () => {
    expect(readInventory(json({ _offset: 7, _length: 93, levelist: 850, time: 1800, step: 6 }))).toEqual({
      entries: [
        {
          line: 1,
          offsetBytes: 7,
          lengthBytes: 93,
          referenceTimeMs: MIDNIGHT_24_JULY_MS + 18 * 3_600_000,
          parameter: 't',
          level: '850 pl',
          forecast: '6',
        },
      ],
      rejected: [],
    });
  });

  test('takes ranges in any order, touching or with gaps', () => {
    const text = json(
      { _offset: 100, _length: 50 },
      { _offset: 0, _length: 100 },
      { _offset: 500, _length: 1 },
    );
    expect(summary(text)).toEqual({ read: ['1: 100 + 50', '2: 0 + 100', '3: 500 + 1'], refused: [] });
  });

  test.each([
    ['one byte', { _offset: 99, _length: 50 }],
    ['all of it', { _offset: 0, _length: 100 }],
    ['the inside', { _offset: 10, _length: 1 }],
  ])('refuses the later of two lines that share %s', (_, second) => {
    expect(summary(json({ _offset: 0, _length: 100 }, second))).toEqual({
      read: ['1: 0 + 100'],
      refused: [2],
    });
  });

  test('refuses a later line that spans earlier ones, and keeps those', () => {
    const text = json(
      { _offset: 50, _length: 10 },
      { _offset: 10, _length: 10 },
      { _offset: 0, _length: 100 },
      { _offset: 60, _length: 10 },
    );
    expect(summary(text)).toEqual({ read: ['1: 50 + 10', '2: 10 + 10', '4: 60 + 10'], refused: [3] });
  });

  test.each([
    ['_offset', { _offset: -1, _length: 5 }],
    ['_offset', { _offset: 1.5, _length: 5 }],
    ['_offset', { _offset: '1', _length: 5 }],
    ['_offset', { _length: 5 }],
    ['_offset', { _offset: 2 ** 53, _length: 5 }],
    ['_length', { _offset: 1, _length: 0 }],
    ['_length', { _offset: 1, _length: -3 }],
    ['_length', { _offset: 1 }],
    ['end', { _offset: 2 ** 53 - 2, _length: 5 }],
    ['date', { _offset: 1, _length: 5, date: '20260230' }],
    ['time', { _offset: 1, _length: 5, time: '2400' }],
    ['time', { _offset: 1, _length: 5, time: null }],
    ['param', { _offset: 1, _length: 5, param: ' ' }],
    ['levtype', { _offset: 1, _length: 5, levtype: null, levelist: null }],
    ['step', { _offset: 1, _length: 5, step: {} }],
  ])('refuses a line with a wrong %s: %j', (what, members) => {
    expect(onlyReasonOf(json(members))).toContain(what);
  });

  test('refuses what is no JSON, and lines too long', () => {
    expect(onlyReasonOf('{"_offset":1,')).toContain('a JSON object');
    expect(onlyReasonOf(json({ _offset: 1, _length: 5, more: 'x'.repeat(20_000) }))).toContain('characters');
  });
});

describe('inspectInventory', () => {
  test('shows entries and refusals in the order of the lines', () => {
    const reason = expect.stringContaining('number');
    expect(inspectInventory(`x\n${colon(0, 50)}`.replace('x', 'x:0:d=2026072400:A:b:anl:'))).toEqual([
      { kind: 'refused', line: 1, reason },
      {
        kind: 'inventory-entry',
        line: 2,
        offsetBytes: 0,
        lengthBytes: 50,
        referenceUtc: '2026-07-24T00:00:00Z',
        parameter: 'TMP',
        level: '1 mb',
        forecast: 'anl',
      },
      {
        kind: 'inventory-entry',
        line: 3,
        offsetBytes: 50,
        lengthBytes: null,
        referenceUtc: '2026-07-24T00:00:00Z',
        parameter: 'TMP',
        level: '2 mb',
        forecast: 'anl',
      },
    ]);
  });
});
