import { expect, it } from 'vitest';
import { unknownMinimumWords } from '../../web/src/answer/unknown-stretches.ts';
import type { Brief } from '../../web/src/contract.ts';

type Part = readonly [fromNm: number, toNm: number, altitudeFt: number | null];

const briefOf = (parts: readonly Part[]) =>
  ({
    brief: { leg: { distanceNm: 186 } },
    features: parts.map(([fromNm, toNm, altitudeFt]) => ({
      properties: { kind: 'minimum-altitude', fromNm, toNm, altitudeFt },
    })),
  }) as unknown as Brief;

it.each<[string, readonly Part[], string]>([
  ['is known all along', [[0, 186, 5000]], ''],
  [
    'is unknown on parts',
    [
      [0, 29, 5000],
      [29, 83, null],
      [83, 108.2, 6000],
      [108.2, 186, null],
    ],
    'Minimum altitude unknown 29–83, 108–186 NM',
  ],
  ['is not spoken of at all', [], 'Minimum altitude unknown 0–186 NM'],
])('where the minimum altitude %s the answer says "%3$s"', (_, parts, words) => {
  expect(unknownMinimumWords(briefOf(parts)).replaceAll('\u2060', '')).toBe(words);
});
