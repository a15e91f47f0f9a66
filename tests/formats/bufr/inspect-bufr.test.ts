import { expect, test } from 'vitest';
import { inspectBufrItem } from '../../../worker/formats/bufr/inspect-bufr.ts';
import { readBufr } from '../../../worker/formats/bufr/read-bufr.ts';
import { significanceNames } from '../../../worker/formats/bufr/significance.ts';
import { flag, joined, writeBufrAscent } from '../../support/bufr-ascent.ts';

test('an ascent is inspected like any other, and says of each level why it was sent', () => {
  const bytes = writeBufrAscent({
    levels: [
      { seconds: 0, flags: flag(1, 5, 6, 7), hPa: 961, heightM: 397, temperatureC: -2.8, dewPointC: -3.5 },
      { seconds: 90, hPa: 925, windDeg: 180, windMps: 10 },
    ],
  });
  expect([...readBufr(bytes)].map(inspectBufrItem)).toEqual([
    {
      kind: 'sounding',
      station: '72659',
      latDeg: 45.45,
      lonDeg: -98.4,
      timeUtc: '2024-02-25T23:05:30Z',
      levels: [
        {
          pressureHPa: 961,
          heightM: 397,
          temperatureC: -2.8,
          dewPointC: -3.5,
          windDirectionDeg: null,
          windSpeedKt: null,
          significance: ['surface', 'significant-temperature', 'significant-humidity', 'significant-wind'],
        },
        {
          pressureHPa: 925,
          heightM: null,
          temperatureC: null,
          dewPointC: null,
          windDirectionDeg: 180,
          windSpeedKt: 19.4,
          significance: [],
        },
      ],
      rejected: [],
    },
  ]);
});

test('a refusal has its message, subset, offset and reason', () => {
  const whole = writeBufrAscent({ levels: [{ hPa: 900, temperatureC: 0 }] });
  const [, refused] = [...readBufr(joined(whole, 'BUFR'))].map(inspectBufrItem);
  expect(refused).toEqual({
    kind: 'rejected',
    message: 2,
    subset: 0,
    offsetBytes: whole.length,
    reason: `BUFR message length at offset ${whole.length + 4}: found 4 bytes to the end of the file, expected 8`,
  });
});

test('every flag of 0 08 042 has its name', () => {
  expect(significanceNames(2 ** 18 - 2)).toHaveLength(17);
  expect(significanceNames(flag(2, 16))).toEqual(['standard', 'freezing-level']);
  expect(significanceNames(0)).toEqual([]);
});
