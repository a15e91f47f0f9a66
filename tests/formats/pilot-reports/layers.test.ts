import { describe, expect, test } from 'vitest';
import { ICING_WORDS } from '../../../worker/formats/pilot-reports/icing.ts';
import { readLayers } from '../../../worker/formats/pilot-reports/layers.ts';
import { TURBULENCE_WORDS } from '../../../worker/formats/pilot-reports/turbulence.ts';

const UNKNOWN = { kind: 'unknown' } as const;
const icing = (text: string) => readLayers(text, ICING_WORDS, UNKNOWN);
const turbulence = (text: string) => readLayers(text, TURBULENCE_WORDS, UNKNOWN);

/** Lightest, heaviest, what, altitudes: one line a layer. */
function lines({ layers }: ReturnType<typeof icing> | ReturnType<typeof turbulence>): string[] {
  return layers.map(({ lightest, heaviest, what, band }) => {
    const altitudes = {
      layer: band.kind === 'layer' ? `${band.lowerFt}-${band.upperFt}` : '',
      below: band.kind === 'below' ? `<${band.upperFt}` : '',
      above: band.kind === 'above' ? `>${band.lowerFt}` : '',
      unknown: '?',
    }[band.kind];
    return `${lightest} ${heaviest} ${what} ${altitudes}`;
  });
}

describe('readLayers on one layer of icing', () => {
  test.each([
    ['NEG', 'none none unstated ?'],
    ['NEG 051-100', 'none none unstated 5100-10000'],
    ['NO ICE', 'none none unstated ?'],
    ['TRC RIME 060', 'trace trace rime 6000-6000'],
    ['TRACE', 'trace trace unstated ?'],
    ['LGT CLR', 'light light clear ?'],
    ['MOD MX', 'moderate moderate mixed ?'],
    ['MDT MXD ICG', 'moderate moderate mixed ?'],
    ['SEV MIXED ICE', 'severe severe mixed ?'],
    ['NEG-LGT RIME', 'none light rime ?'],
    ['TRACE TO LGT RIME', 'trace light rime ?'],
    ['MOD/LGT RIME', 'light moderate rime ?'],
    ['LGT OCNL MOD RIME', 'light moderate rime ?'],
    ['LGT RIME 100-070', 'light light rime 7000-10000'],
    ['LGT RIME FL230 TO FL250', 'light light rime 23000-25000'],
    ['LGT RIME FL150 TOFL255', 'light light rime 15000-25500'],
    ['LGT RIME200-140', 'light light rime 14000-20000'],
    ['LGT RIME BTN 080 AND 100', 'light light rime 8000-10000'],
    ['LGT RIME 8000FT', 'light light rime 8000-8000'],
    ['LGT RIME 010-SFC', 'light light rime 0-1000'],
    ['MOD RIME BLO 085', 'moderate moderate rime <8500'],
    ['MOD RIME BLO-090', 'moderate moderate rime <9000'],
    ['MOD RIME ABV 080', 'moderate moderate rime >8000'],
    ['TRACE UNKN', 'trace trace unstated ?'],
    ['RIME', 'unstated unstated rime ?'],
  ])('%s', (text, line) => {
    const read = icing(text);
    expect(lines(read)).toEqual([line]);
    expect(read.unread).toEqual([]);
  });
});

describe('readLayers on several layers', () => {
  test.each([
    [
      'LGT RIME 060-080 MOD CLR 080-100',
      ['light light rime 6000-8000', 'moderate moderate clear 8000-10000'],
    ],
    ['LGT RIME 060-080 100-120', ['light light rime 6000-8000', 'light light rime 10000-12000']],
    ['060-080 LGT 080-100 MOD', ['light light unstated 6000-8000', 'moderate moderate unstated 8000-10000']],
    ['NEG BLO 060 LGT RIME 060-080', ['none none unstated <6000', 'light light rime 6000-8000']],
    ['LGT RIME 060 OCNL MOD 080', ['light light rime 6000-6000', 'moderate moderate unstated 8000-8000']],
    ['LGT RIME; MOD CLR', ['light light rime ?', 'moderate moderate clear ?']],
  ])('%s', (text, expected) => {
    const read = icing(text);
    expect(lines(read)).toEqual(expected);
    expect(read.unread).toEqual([]);
  });
});

describe('readLayers on turbulence', () => {
  test.each([
    ['CONT LGT CHOP 280-290', 'light light chop 28000-29000', 'continuous'],
    ['OCNL LGT-MOD', 'light moderate unstated ?', 'occasional'],
    ['INTMT MOD CAT', 'moderate moderate clear-air ?', 'intermittent'],
    ['EXTRM', 'extreme extreme unstated ?', 'unstated'],
    ['SEV FL180-178', 'severe severe unstated 17800-18000', 'unstated'],
    ['MTW', 'unstated unstated mountain-wave ?', 'unstated'],
    ['SMTH', 'none none unstated ?', 'unstated'],
  ])('%s', (text, line, frequency) => {
    const read = turbulence(text);
    expect(lines(read)).toEqual([line]);
    expect(read.layers[0]!.frequency).toBe(frequency);
    expect(read.unread).toEqual([]);
  });

  test('trace and ice are no words of turbulence, extreme is none of icing', () => {
    expect(turbulence('TRACE ICE')).toMatchObject({ layers: [], unread: ['TRACE', 'ICE'] });
    expect(icing('EXTRM')).toMatchObject({ layers: [], unread: ['EXTRM'] });
  });
});

describe('readLayers keeps what it does not read', () => {
  test('words that are none of the element', () => {
    expect(icing('FM ZKC')).toMatchObject({ layers: [], unread: ['FM', 'ZKC'] });
    const read = icing('LGT RIME ON STRUTS 060');
    expect(lines(read)).toEqual(['light light rime 6000-6000']);
    expect(read.unread).toEqual(['ON', 'STRUTS']);
  });

  test('a sign before the kind, which no manual explains', () => {
    expect(icing('- RIME ICING')).toMatchObject({
      layers: [{ lightest: 'unstated', heaviest: 'unstated', what: 'rime' }],
      unread: ['-'],
    });
  });

  test('figures that are no altitude: two alone, hundreds above 600, feet that do not end in 00', () => {
    for (const figures of ['60', '601', '8050', '0800', '123456']) {
      expect(icing(`LGT RIME ${figures}`)).toMatchObject({ layers: [{ band: UNKNOWN }], unread: [figures] });
    }
  });

  test('altitudes without an intensity or kind', () => {
    expect(icing('060-080')).toMatchObject({ layers: [], unread: ['060', '-', '080'] });
  });

  test.each(['NOT MOD RIME', 'NO LONGER LGT RIME', 'WITHOUT RIME'])(
    '%s denies something unclear, so no layer is made of it',
    (text) => {
      const read = icing(text);
      expect(read.layers).toEqual([]);
      expect(read.unread.join(' ')).toBe(text);
    },
  );

  test('climb and descent are told apart from unread words', () => {
    expect(icing('LGT RIME DURC')).toMatchObject({ phase: 'climb', unread: [] });
    expect(icing('LGT RIME DURGD')).toMatchObject({ phase: 'descent', unread: [] });
    expect(icing('LGT RIME')).toMatchObject({ phase: undefined });
  });
});

describe('heights in thousands', () => {
  test.each([
    ['SEV CLR 6,000', 'severe severe clear 6000-6000'],
    ['MOD RIME 5,000-7,000 FT', 'moderate moderate rime 5000-7000'],
    ['MOD RIME BTN 5,000 AND 12,500', 'moderate moderate rime 5000-12500'],
    ['LGT RIME BLO 6,000FT', 'light light rime <6000'],
    ['LGT RIME 060,080', 'light light rime 6000-6000'],
  ])('%s', (text, line) => {
    expect(lines(icing(text))[0]).toBe(line);
  });

  test.each(['50-70', '5K-7K', '6.000', '6 000', '6,00', '000'])(
    '%s is stated and not read: the band is unknown, not the report altitude',
    (figures) => {
      const own = { kind: 'layer', lowerFt: 4000, upperFt: 4000, isStated: false } as const;
      const read = readLayers(`MOD RIME ${figures}`, ICING_WORDS, own);
      expect(read.layers).toMatchObject([{ heaviest: 'moderate', what: 'rime', band: UNKNOWN }]);
      expect(read.unread.join(' ')).not.toBe('');
    },
  );
});

describe('above and below without a height are those of the layer told before', () => {
  test.each([
    ['SEV RIME 050-070 NEG ABV', ['severe severe rime 5000-7000', 'none none unstated >7000']],
    ['SEV RIME 050-070 NEG BLO', ['severe severe rime 5000-7000', 'none none unstated <5000']],
    [
      'SEV RIME 050-070 NEG ABV AND BLO',
      ['severe severe rime 5000-7000', 'none none unstated >7000', 'none none unstated <5000'],
    ],
    ['SEV BLO 030 NEG ABV', ['severe severe unstated <3000', 'none none unstated >3000']],
    ['NEG ABV 070 SEV BLO', ['none none unstated >7000', 'severe severe unstated <7000']],
    ['LGT RIME 050-070; MOD CLR ABV', ['light light rime 5000-7000', 'moderate moderate clear >7000']],
  ])('%s', (text, expected) => {
    const read = icing(text);
    expect(lines(read)).toEqual(expected);
    expect(read.unread).toEqual([]);
  });

  test.each(['SEV RIME 050-070 NEG ABV 70', 'SEV RIME 050-070; NEG', 'NEG ABV SEV RIME 050-070'])(
    '%s: none at a height that is not read is nowhere known, least of all in the severe layer',
    (text) => {
      const own = { kind: 'layer', lowerFt: 6000, upperFt: 6000, isStated: false } as const;
      const { layers } = readLayers(text, ICING_WORDS, own);
      expect(layers.find(({ heaviest }) => heaviest === 'none')?.band).toEqual(UNKNOWN);
      expect(layers.find(({ heaviest }) => heaviest === 'severe')?.band).toMatchObject({ lowerFt: 5000 });
    },
  );

  test('without a layer before it the word is unread', () => {
    const own = { kind: 'layer', lowerFt: 6000, upperFt: 6000, isStated: false } as const;
    expect(readLayers('LGT RIME ABV', ICING_WORDS, own)).toMatchObject({
      layers: [{ band: UNKNOWN }],
      unread: ['ABV'],
    });
  });
});
