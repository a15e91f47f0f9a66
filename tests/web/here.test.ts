/** What the readout says of the path at the cursor: the way out and what is left in the tank. */
import { expect, test } from 'vitest';
import type { BriefMember, Candidate, CurtainAnswer } from '../../web/src/contract.ts';
import { hereValues } from '../../web/src/readout/here.ts';
import type { AircraftProfile } from '../../worker/schema/aircraft.ts';

/** 120 NM in an hour; unknown air from 90 NM on. */
const distanceNm = [0, 60, 120];
const curtain = {
  pointCount: 3,
  cellCount: 1,
  distanceNm,
  lowestFt: 0,
  cellDepthFt: 20_000,
  quantities: Object.fromEntries(
    ['intensity', 'iceKind', 'icingProbability', 'largeDrops'].map((name) => [
      name,
      { unit: '', scale: 1, values: [0, 0, null] },
    ]),
  ),
  state: [0, 0, 1],
  stateWords: ['known', 'no-data'],
} as unknown as CurtainAnswer;
const brief = (more: Partial<BriefMember> = {}) =>
  ({
    leg: {
      points: distanceNm.map((nm, at) => ({
        distanceNm: nm,
        etaUtc: `2026-01-14T1${1 + at / 2 >= 2 ? 2 : 1}:${at === 1 ? '30' : '00'}:00Z`,
      })),
    },
    limits: { fluidOnBoardL: 60 },
    curtain,
    ...more,
  }) as unknown as BriefMember;
/** 4 L of priming at 0 NM, then 0.5 L a minute as far as 60 NM. */
const candidate = (more: Partial<Candidate> = {}) =>
  ({
    altitudeFt: 9000,
    profile: [],
    flownFt: [9000, 9000, 9000],
    exposure: { timeMinutes: 60 },
    fluidPlan: { on: [{ fromNm: 0, toNm: 60, setting: 'normal' }], runsOutNm: null },
    ways: {
      way: ['up', 'not-needed', 'unknown'],
      toAltitudeFt: [11_000, null, null],
      minutes: [2, null, null],
      builtMm: [0, null, null],
      aerodrome: [null, null, null],
    },
    ...more,
  }) as unknown as Candidate;
const aircraft = {
  protection: { kind: 'fluid', usableL: 80, normalFlowLPerMin: 0.5, highFlowLPerMin: 1, primingL: 4 },
} as unknown as AircraftProfile;

const texts = (nm: number, of = candidate(), about = brief()) =>
  hereValues(about, of, { distanceNm: nm, aircraft }).map(({ text }) => text);

test.each([
  [0, 'climb to 11,000 ft', '60 L'],
  // Half of the half hour at 0.5 L a minute, and the priming: 60 - 4 - 7.5.
  [30, 'climb to 11,000 ft', '48 L'],
  [60, 'not needed', '41 L'],
  [80, 'not needed', '41 L'],
  // Half way to the last point its unknown column begins: nobody knows how much goes there.
  [120, 'unknown', 'at most 41 L'],
])('at %d NM: %s, %s', (nm, way, left) => {
  expect(texts(nm)).toEqual([way, left]);
});

test('without a tank that is known there is no figure of it', () => {
  expect(texts(60, candidate(), brief({ limits: { fluidOnBoardL: null } as BriefMember['limits'] }))).toEqual(
    ['not needed'],
  );
  expect(texts(60, candidate({ fluidPlan: null }))).toEqual(['not needed']);
  expect(hereValues(brief(), candidate(), { distanceNm: 60, aircraft: undefined })).toHaveLength(1);
});
