import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OPEN_MODELS, type OpenModel, usuallyThereMs } from '../../worker/sources/open-models.ts';
import {
  SUPPLY_STATES,
  type SupplyHour,
  type SupplyRow,
  type SupplyState,
  validMsOf,
} from '../../worker/sources/supply.ts';
import { planSupply } from '../../worker/supply/plan-supply.ts';

const H = 3_600_000;
const MIN = 60_000;
/** Runs every six hours, there after 3 h 30 min, hours 0 to 24. */
const GLOBAL: OpenModel = {
  ...OPEN_MODELS['gfs-0p25'],
  runs: [{ atH: [0, 6, 12, 18], spans: [{ fromH: 0, toH: 24, everyH: 1 }] }],
  usualDelayMin: { first: 210, perForecastHour: 0 },
};
const RUN_00 = Date.UTC(2026, 0, 15);
const RUN_06 = RUN_00 + 6 * H;
const RUN_18 = RUN_00 - 6 * H;
/** 10:00: the run of 06 is there since 09:30. */
const NOW = RUN_00 + 10 * H;
const CLOCK = { nowMs: NOW, horizonMs: 3 * H };

const row = (hour: SupplyHour, state: SupplyState, updatedMs = NOW): SupplyRow => ({
  ...hour,
  state,
  detail: '',
  failures: 1,
  refusals: 0,
  updatedMs,
});
const hour = (runMs: number, validMs: number): SupplyHour => ({
  modelId: 'gfs-0p25',
  runMs,
  forecastHour: (validMs - runMs) / H,
});
const shown = (hours: readonly SupplyHour[]) =>
  hours.map((each) => `${new Date(each.runMs).getUTCHours()}+${each.forecastHour}`);

describe('planSupply', () => {
  it('asks for the hours around now, one more at each end, of the newest run that can be there, and of no other', () => {
    expect(shown(planSupply([GLOBAL], [], CLOCK))).toEqual(['6+3', '6+4', '6+5', '6+6', '6+7']);
  });

  it('stays with the older run until the newer one can be there', () => {
    const early = { ...CLOCK, nowMs: RUN_06 + 3.4 * H };
    expect(new Set(planSupply([GLOBAL], [], early).map(({ runMs }) => runMs))).toEqual(new Set([RUN_00]));
  });

  it('brackets the window where a model has an hour in three', () => {
    const coarse = OPEN_MODELS['ecmwf-ifs-0p25'];
    const now = RUN_00 + 10.5 * H;
    const plan = planSupply([coarse], [], { nowMs: now, horizonMs: 4 * H });
    // The run of 00 UTC is usually there from 06:45 on: 09, 12 and 15 UTC.
    expect(shown(plan)).toEqual(['0+9', '0+12', '0+15']);
  });

  it('leaves an hour to the older run until the newer one usually has it', () => {
    const hourly: OpenModel = {
      ...OPEN_MODELS['hrrr-prs'],
      runs: [{ atH: Array.from({ length: 24 }, (_, at) => at), spans: [{ fromH: 0, toH: 18, everyH: 1 }] }],
      usualDelayMin: { first: 50, perForecastHour: 2 },
    };
    // 10:00: of the run of 09 UTC the hours 0 to 5 are there.
    const plan = planSupply([hourly], [], { nowMs: NOW, horizonMs: 6 * H });
    expect(shown(plan)).toEqual(['9+0', '9+1', '9+2', '9+3', '9+4', '9+5', '8+7', '8+8']);
  });

  it('takes hours that the newest runs do not reach from the last one that does', () => {
    const hrrr = OPEN_MODELS['hrrr-prs'];
    // 16:00: runs of 13, 14 and 15 UTC reach 18 h, that of 12 UTC 48 h.
    const plan = planSupply([hrrr], [], { nowMs: RUN_00 + 16 * H, horizonMs: 30 * H });
    const last = plan.filter((each) => validMsOf(each) > RUN_00 + 34 * H);
    expect(last.length).toBeGreaterThan(8);
    expect(new Set(last.map(({ runMs }) => runMs))).toEqual(new Set([RUN_00 + 12 * H]));
  });

  it('asks for nothing that is stored, waits or is at work', () => {
    const known = (['stored', 'queued', 'working'] as const).map((state, index) =>
      row(hour(RUN_06, NOW + index * H), state),
    );
    expect(shown(planSupply([GLOBAL], known, CLOCK))).toEqual(['6+3', '6+7']);
  });

  it.each([
    ['failed', 30 * MIN],
    ['dead', 60 * MIN],
    ['working', 15 * MIN],
    ['queued', 30 * MIN],
  ] as const)('asks again for what is %s after its time, not before', (state, afterMs) => {
    const plan = (updatedMs: number) =>
      planSupply([GLOBAL], [row(hour(RUN_06, NOW), state, updatedMs)], CLOCK).filter(
        (each) => validMsOf(each) === NOW && each.runMs === RUN_06,
      );
    expect(plan(NOW - afterMs)).toHaveLength(1);
    expect(plan(NOW - afterMs + 1)).toHaveLength(0);
  });

  it('goes to the run before while the newest is late, fails or is given up, and no further than one that has it', () => {
    for (const state of ['late', 'failed', 'dead'] as const) {
      const known = [row(hour(RUN_06, NOW), state)];
      const plan = planSupply([GLOBAL], known, CLOCK).filter((each) => validMsOf(each) === NOW);
      expect(shown(plan), state).toEqual(['0+10']);
      const served = [...known, row(hour(RUN_00, NOW), 'stored')];
      expect(
        planSupply([GLOBAL], served, CLOCK).filter((each) => validMsOf(each) === NOW),
        state,
      ).toEqual([]);
    }
    const bothLate = [row(hour(RUN_06, NOW), 'late'), row(hour(RUN_00, NOW), 'late')];
    const third = planSupply([GLOBAL], bothLate, CLOCK).filter((each) => validMsOf(each) === NOW);
    expect(third.map(({ runMs }) => runMs)).toEqual([RUN_18]);
  });

  it('does not trust a row that was written under a clock ahead of now', () => {
    const ahead = row(hour(RUN_06, NOW), 'working', NOW + 5 * H);
    expect(planSupply([GLOBAL], [ahead], CLOCK)).toContainEqual(hour(RUN_06, NOW));
  });

  it('asks for the older run too where a message or a consumer of the newest was lost', () => {
    for (const [state, afterMs] of [
      ['queued', 30 * MIN],
      ['working', 15 * MIN],
    ] as const) {
      const plan = (waitedMs: number) =>
        shown(
          planSupply([GLOBAL], [row(hour(RUN_06, NOW), state, NOW - waitedMs)], CLOCK).filter(
            (each) => validMsOf(each) === NOW,
          ),
        );
      expect(plan(afterMs - 1), state).toEqual([]);
      expect(plan(afterMs), state).toEqual(['6+4', '0+10']);
    }
  });

  it('asks less and less often for an hour that stays away, and takes the run before meanwhile', () => {
    const usualMs = usuallyThereMs(GLOBAL, hour(RUN_06, NOW));
    const isAsked = (lateByMs: number, waitedMs: number) => {
      const late = row(hour(RUN_06, NOW), 'late', usualMs + lateByMs);
      const plan = planSupply([GLOBAL], [late], { ...CLOCK, nowMs: usualMs + lateByMs + waitedMs });
      return plan.some((each) => each.runMs === RUN_06 && each.forecastHour === late.forecastHour);
    };
    expect(isAsked(0, 3 * MIN)).toBe(false);
    expect(isAsked(0, 5 * MIN)).toBe(true);
    expect(isAsked(60 * MIN, 14 * MIN)).toBe(false);
    expect(isAsked(60 * MIN, 15 * MIN)).toBe(true);
    const late = row(hour(RUN_06, NOW), 'late');
    expect(planSupply([GLOBAL], [late], CLOCK)).toContainEqual(hour(RUN_00, NOW));
  });

  it('asks for each hour once, only inside the window, whatever the rows say', () => {
    const anyRow = fc.record({
      runMs: fc.constantFrom(RUN_18, RUN_00, RUN_06),
      forecastHour: fc.integer({ min: 0, max: 24 }),
      state: fc.constantFrom(...SUPPLY_STATES),
      updatedMs: fc.integer({ min: NOW - 24 * H, max: NOW + 24 * H }),
    });
    fc.assert(
      fc.property(fc.array(anyRow), (rows) => {
        const known = rows.map((each) => ({
          ...each,
          modelId: 'gfs-0p25' as const,
          detail: '',
          failures: 0,
          refusals: 0,
        }));
        const plan = planSupply([GLOBAL], known, CLOCK);
        expect(new Set(shown(plan)).size).toBe(plan.length);
        for (const each of plan) {
          expect(validMsOf(each)).toBeGreaterThanOrEqual(NOW - H);
          expect(validMsOf(each)).toBeLessThanOrEqual(NOW + 3 * H);
          const last = known.findLast(
            (one) => one.runMs === each.runMs && one.forecastHour === each.forecastHour,
          );
          expect(last?.state).not.toBe('stored');
        }
      }),
    );
  });
});
