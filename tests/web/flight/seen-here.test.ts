/** What the brief holds for the place where somebody looks. */
import { expect, it } from 'vitest';
import { hereOf, judgeHere, type SeenEntry, staticOfGauge } from '../../../web/src/flight/seen-here.ts';
import { AIRCRAFT, at, briefIn } from './deck-brief.ts';

const ENTRY: SeenEntry = {
  part: 'rod',
  rodDiameterMm: 12,
  thicknessMm: 3,
  readingMm: 1,
  minutes: 10,
  gaugeC: undefined,
  fluidLeftL: undefined,
  signs: [],
  isProtectionBehind: false,
};
const hereIn = async (air: 'deck' | 'dry' | 'unknown', altitudeFt = 9000, distanceNm = 32) => {
  const brief = await briefIn(air);
  return { brief, here: hereOf(brief, at(brief, altitudeFt), { distanceNm, profile: AIRCRAFT })! };
};

it('level in the deck: its air, its forecast, a way out, the tank as planned and the ice still ahead', async () => {
  const { brief, here } = await hereIn('deck');
  expect(here.altitudeFt).toBe(9000);
  // The ascent has -8.5 at 2,370 and -9.5 at 2,910 m: 9,000 ft, 2,743 m, about -9.2.
  expect(here.temperatureC).toBeCloseTo(-9.2, 0);
  // Standard atmosphere: 9,000 ft is 724 hPa.
  expect(here.pressureHPa).toBeCloseTo(724, 0);
  expect(here.forecast.kind).toBe('ice');
  expect(here.way).toMatchObject({ way: 'aerodrome', aerodrome: 'AAAA' });
  expect(here.fluidLeftL).toBeLessThan(70);
  expect(here.ahead.iceS / 60).toBeGreaterThan(15);
  expect(here.ahead.unknownS).toBe(0);
  const answer = judgeHere(brief, here, ENTRY);
  expect(answer.onWing!.middle.kind).toBe('found');
  expect(answer.untilOutM!.high).toBeGreaterThan(answer.untilOutM!.middle);
});

it('in dry air any ice is more than forecast, and no way was looked for', async () => {
  const { brief, here } = await hereIn('dry');
  expect(here.forecast).toEqual({ kind: 'no-ice' });
  expect(here.way).toBeUndefined();
  expect(here.ahead).toEqual({ iceS: 0, unknownS: 0 });
  expect(judgeHere(brief, here, ENTRY).leave.map(({ code }) => code)).toEqual(
    expect.arrayContaining(['worse-than-forecast', 'no-known-way']),
  );
});

it('in unknown air nothing is made up, and signs count all the same', async () => {
  const { brief, here } = await hereIn('unknown');
  expect(here).toMatchObject({ temperatureC: undefined, forecast: { kind: 'unknown' }, ahead: { iceS: 0 } });
  expect(here.ahead.unknownS).toBeGreaterThan(0);
  const answer = judgeHere(brief, here, { ...ENTRY, signs: ['spinner'] });
  expect(answer.onWing).toBeUndefined();
  expect(answer.leave.map(({ code }) => code)).toEqual(
    expect.arrayContaining(['large-drop-signs', 'air-unknown', 'no-known-way']),
  );
  expect(judgeHere(brief, here, { ...ENTRY, gaugeC: -6 })).toMatchObject({
    againstForecast: 'unknown',
    onWing: { middle: { kind: 'found' } },
  });
  const nowhere = judgeHere(brief, undefined, { ...ENTRY, thicknessMm: 0, isProtectionBehind: true });
  expect(nowhere.leave.map(({ code }) => code)).toEqual(['protection-behind', 'no-known-way']);
});

it('ice seen where staying level was the way is not left by staying', async () => {
  const { brief } = await hereIn('dry');
  const candidate = at(brief, 9000);
  const ways = { ...candidate.ways!, way: candidate.ways!.way.map(() => 'stay' as const) };
  const here = hereOf(brief, { ...candidate, ways }, { distanceNm: 60, profile: AIRCRAFT })!;
  expect(here.way).toBeUndefined();
  expect(here.stretch?.way).toBe('stay');
});

it('where large drops are forecast any ice is to be left', async () => {
  const brief = await briefIn('deck');
  const candidate = at(brief, 9000);
  const parts = candidate.exposure!.parts.map((part) =>
    part.ice === null ? part : { ...part, ice: { ...part.ice, hasLargeDrops: true } },
  );
  const drops = { ...candidate, exposure: { ...candidate.exposure!, parts } };
  const here = hereOf(brief, drops, { distanceNm: 32, profile: AIRCRAFT })!;
  expect(here.forecast).toEqual({ kind: 'large-drops' });
  expect(judgeHere(brief, here, { ...ENTRY, thicknessMm: 1 }).leave.map(({ code }) => code)).toContain(
    'large-drops-forecast',
  );
});

it('the gauge is turned to still air: 0.85 of the rise at the speed of the altitude', async () => {
  const { here } = await hereIn('deck');
  // 175 kt at 9,000 ft between 168 at 5,000 and 177 at 10,000: 90.1 m/s, 90.1^2 / 2 / 1004.7 = 4.04 K, 85 % of it 3.43.
  expect(staticOfGauge(here, -6)).toBeCloseTo(-9.4, 1);
  // In the climb at 120 kt: 61.7 m/s, 1.9 K, 85 % of it 1.61.
  const climbing = await hereIn('deck', 9000, 10);
  expect(climbing.here.phase).toBe('climb');
  expect(staticOfGauge(climbing.here, -6)).toBeCloseTo(-7.6, 1);
});

it('what is read from the gauge of the tank counts before the plan', async () => {
  const { brief, here } = await hereIn('deck');
  const lasts = (fluidLeftL?: number) => judgeHere(brief, here, { ...ENTRY, fluidLeftL }).fluid!.lastsS!;
  expect(lasts(14)).toBe(0);
  expect(lasts()).toBeGreaterThan(lasts(20));
});

it('an altitude that was not flown has no place', async () => {
  const brief = await briefIn('dry');
  const candidate = { ...at(brief, 9000), flownFt: null };
  expect(hereOf(brief, candidate, { distanceNm: 60, profile: AIRCRAFT })).toBeUndefined();
});
