/** Small BUFR messages of every kind that is read, to be mutated. */
import { ascentData, flag, joined, SURFACE, type WrittenLevel, writeBufrAscent } from './bufr-ascent.ts';
import { type Bits, bufrMessage } from './bufr-builder.ts';

const LEVELS: readonly WrittenLevel[] = [
  {
    seconds: 0,
    flags: SURFACE,
    hPa: 961,
    heightM: 397,
    temperatureC: -2.8,
    dewPointC: -3.5,
    windDeg: 160,
    windMps: 5,
  },
  { seconds: 60, hPa: 925, heightM: 701, temperatureC: -3.3, dewPointC: -4.3, windDeg: 170, windMps: 9 },
  { seconds: 61, hPa: 925, heightM: 702, temperatureC: -3.3, dewPointC: -3.5, windDeg: 170, windMps: 9 },
  { seconds: 90, flags: flag(8), hPa: 880, temperatureC: 1.7, dewPointC: -2.4 },
  { seconds: 300, hPa: 700, heightM: 2915, temperatureC: -7.4, dewPointC: -8.3 },
];

const PLACE: Bits[] = [
  [72, 7],
  [659, 10],
  [13_500_000, 25],
  [18_500_000, 26],
];
const PLACED = ['3 01 001', '3 01 021'];

/** 3 03 014 in compressed data of two subsets: every field with its increments. */
function compressed(): Uint8Array {
  const widths = [7, 10, 25, 26];
  const same = (value: number, width: number): Bits[] => [
    [value, width],
    [0, 6],
  ];
  const level = (pressure: number): Bits[] => [
    ...same(pressure, 14),
    ...same(4, 7),
    ...same(1000, 17),
    [2700, 12],
    [4, 6],
    [1, 4],
    [9, 4],
    ...same(2690, 12),
    ...same(90, 9),
    ...same(50, 12),
  ];
  return bufrMessage({
    descriptors: [...PLACED, '1 01 000', '0 31 001', '3 03 014'],
    data: [
      ...PLACE.flatMap(([value], n) => same(value as number, widths[n]!)),
      ...same(2, 8),
      ...level(9250),
      ...level(8500),
    ],
    subsetCount: 2,
    isCompressed: true,
  });
}

function withOperators(): Uint8Array {
  return bufrMessage({
    descriptors: [
      ...PLACED,
      ...[
        '2 05 002',
        '2 06 009',
        '0 12 192',
        '2 08 003',
        '0 01 011',
        '2 08 000',
        '2 03 012',
        '0 10 009',
        '2 03 255',
      ],
      ...[
        '1 08 002',
        '2 07 001',
        '0 07 004',
        '2 07 000',
        '2 01 130',
        '2 02 129',
        '0 12 101',
        '2 02 000',
        '2 01 000',
      ],
      ...['2 03 000', '2 04 002', '0 31 021', '0 11 001', '2 04 000'],
    ],
    data: [
      ...PLACE,
      'ab',
      [5, 9],
      'XYZ',
      [2048 + 400, 12],
      ...[85_012, 70_012].flatMap((pressure): Bits[] => [
        [pressure, 18],
        [27_315, 18],
      ]),
      // No significance: bits before a value that say nothing of it.
      [63, 6],
      [1, 2],
      [90, 9],
    ],
  });
}

function withQuality(): Uint8Array {
  return bufrMessage({
    edition: 3,
    descriptors: [
      ...[...PLACED, '1 03 000', '0 31 001', '0 07 004', '0 12 101', '0 12 103'],
      ...[
        '2 22 000',
        '2 36 000',
        '1 01 000',
        '0 31 002',
        '0 31 031',
        '0 01 031',
        '0 01 032',
        '1 01 000',
        '0 31 002',
      ],
      ...['0 33 007', '2 23 000', '2 37 000', '0 01 031', '0 01 032', '1 01 002', '2 23 255'],
    ],
    data: [
      ...PLACE,
      [1, 8],
      [9250, 14],
      [27_300, 16],
      [27_200, 16],
      [8, 16],
      ...[1, 1, 1, 1, 1, 1, 0, 0].map((bit): Bits => [bit, 1]),
      [98, 16],
      [1, 8],
      [2, 16],
      [70, 7],
      [0, 7],
      [98, 16],
      [1, 8],
      [27_310, 16],
      [27_210, 16],
    ],
  });
}

export function handMadeBufr(): Uint8Array[] {
  const three = [101, 102, 103].flatMap((station) => ascentData({ station, levels: LEVELS }));
  return [
    writeBufrAscent({ levels: LEVELS }),
    bufrMessage({ descriptors: ['3 09 052'], data: three, subsetCount: 3 }),
    compressed(),
    withOperators(),
    withQuality(),
    joined('IUSD15 ENMI 260000\r\r\n', writeBufrAscent({ levels: LEVELS }), '\r\r\n\u0003', compressed()),
  ];
}
