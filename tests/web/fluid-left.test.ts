import { describe, expect, it } from 'vitest';
import { fluidPlanSentences, fluidSpare } from '../../web/src/answer/fluid-words.ts';
import type { BriefMember, Candidate, FluidPlanAnswer, RoutePoint } from '../../web/src/contract.ts';
import { type FluidLeftInput, fluidLeftAlong } from '../../web/src/strips/fluid-left.ts';

/** 120 NM in an hour: 2 NM a minute. */
const points = [
  { distanceNm: 0, etaUtc: '2026-01-14T11:00:00Z' },
  { distanceNm: 60, etaUtc: '2026-01-14T11:30:00Z' },
  { distanceNm: 120, etaUtc: '2026-01-14T12:00:00Z' },
] as RoutePoint[];

const plan = (more: Partial<FluidPlanAnswer> = {}): FluidPlanAnswer => ({
  enduranceNormalMinutes: 60,
  enduranceHighMinutes: 30,
  runsOutNm: null,
  on: [
    { fromNm: 0, toNm: 20, setting: 'normal' },
    { fromNm: 60, toNm: 80, setting: 'high' },
  ],
  weightKg: null,
  bursts: null,
  ...more,
});

const input = (more: Partial<FluidLeftInput> = {}): FluidLeftInput => ({
  plan: plan(),
  protection: {
    kind: 'fluid',
    usableL: 80,
    minimumDispatchL: 25,
    normalFlowLPerMin: 0.5,
    highFlowLPerMin: 1,
    primingL: 4,
    reserveMinutes: 30,
  },
  onBoardL: 60,
  points,
  timeMinutes: 60,
  ...more,
});

describe('fluidLeftAlong', () => {
  it('takes the priming once and each stretch at its own flow', () => {
    // 60 - 4 - 10 min at 0.5 - 10 min at 1 L/min.
    expect(fluidLeftAlong(input()).at(-1)).toEqual({ distanceNm: 120, leftL: 41 });
  });

  it('stays level where it is off', () => {
    const corners = fluidLeftAlong(input());
    expect(corners.find(({ distanceNm }) => distanceNm === 20)?.leftL).toBe(51);
    expect(corners.find(({ distanceNm }) => distanceNm === 60)?.leftL).toBe(51);
  });

  it('flows longer over the same distance when the candidate takes longer', () => {
    expect(fluidLeftAlong(input({ timeMinutes: 120 })).at(-1)?.leftL).toBe(26);
  });

  it('is empty from where the service says that it runs out, whatever is worked out here', () => {
    const corners = fluidLeftAlong(input({ plan: plan({ runsOutNm: 70 }) }));
    const after = corners.filter(({ distanceNm }) => distanceNm >= 70);
    expect(after.map(({ leftL }) => leftL)).toEqual([0, 0]);
    expect(
      corners.every(({ distanceNm }, index) => distanceNm >= (corners[index - 1]?.distanceNm ?? 0)),
    ).toBe(true);
  });

  it('is never less than nothing', () => {
    const corners = fluidLeftAlong(input({ onBoardL: 5 }));
    expect(Math.min(...corners.map(({ leftL }) => leftL))).toBe(0);
  });
});

describe('the plan in words', () => {
  const none = { isTold: false, spareL: 0 };

  it('joins stretches that touch and names where it is high', () => {
    const on: FluidPlanAnswer['on'] = [
      { fromNm: 0, toNm: 13, setting: 'normal' },
      { fromNm: 13, toNm: 20, setting: 'high' },
      { fromNm: 20, toNm: 97, setting: 'normal' },
      { fromNm: 148, toNm: 186, setting: 'normal' },
    ];
    const words = fluidPlanSentences(plan({ on }), none).map((sentence) => sentence.replaceAll('\u2060', ''));
    expect(words[0]).toBe('On 0–97, 148–186 NM; high 13–20 NM');
    expect(words[1]).toBe('Lasts 1 h normal, 30 min high, before the reserve');
  });

  it('says first where the tank is empty', () => {
    expect(fluidPlanSentences(plan({ runsOutNm: 134.6 }), none)[0]).toBe('Empty at 135 NM');
  });

  it.each([
    [2, true, true],
    [2, false, false],
    [0, true, false],
    [null, true, false],
  ])('speaks of %j bursts that may be told %j: %j', (bursts, isTold, isSaid) => {
    const words = fluidPlanSentences(plan({ bursts }), { isTold, spareL: 0 }).join();
    expect(words.includes('burst')).toBe(isSaid);
  });

  it.each([
    [80, 71.7, true, 5],
    [80, 75.1, true, 0],
    [80, 90, true, 0],
    [null, 20, true, 0],
    [80, 0, false, 0],
  ])(
    '%j L on board and up to %d L needed is told %j, with %d L to spare',
    (fluidOnBoardL, high, isTold, spareL) => {
      const limits = { fluidOnBoardL } as BriefMember['limits'];
      const candidate = candidateOf(high);
      expect(fluidSpare({ limits }, candidate)).toEqual({ isTold, spareL });
    },
  );

  it('has nothing to spare where any part of the flight is unknown', () => {
    const limits = { fluidOnBoardL: 80 } as BriefMember['limits'];
    for (const [trip, part] of [
      [20, 0],
      [0, 10],
    ] as const)
      expect(fluidSpare({ limits }, candidateOf(20, trip, part))).toEqual({ isTold: false, spareL: 0 });
  });
});

const candidateOf = (high: number, unknownMinutes = 0, partUnknownMinutes = 0) =>
  ({
    exposure: {
      fluidL: { low: 0, middle: 0, high },
      unknownMinutes,
      parts: [{ unknownMinutes: partUnknownMinutes }],
    },
  }) as Candidate;
