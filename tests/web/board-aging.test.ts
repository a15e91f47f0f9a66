import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { agedFlight, HOLDS_MS } from '../../web/src/board/aged-flight.ts';
import { heldEvaluation } from '../../web/src/board/held-evaluation.ts';
import { serviceInstantMs, serviceNowMs } from '../../web/src/board/service-clock.ts';
import { AS_OF_UTC, inventedFlight, utcAt } from '../support/invented-board.ts';

const nowMs = Date.parse(AS_OF_UTC);
/** Within limits, to depart in hours. */
const flight = inventedFlight(5, {
  departureUtc: utcAt(300),
  departed: null,
  arrived: null,
  cancelled: false,
});
const staleMs = Date.parse(flight.evaluation!.staleAtUtc!);

describe('a verdict on the screen', () => {
  it('holds while the service is heard and its data are not an hour past their time', () => {
    expect(agedFlight(flight, { nowMs, silentMs: 0 })).toBe(flight);
    expect(agedFlight(flight, { nowMs: staleMs + HOLDS_MS, silentMs: HOLDS_MS })).toBe(flight);
  });

  it('is unknown an hour after its data are past their time, and says what it was', () => {
    const aged = agedFlight(flight, { nowMs: staleMs + HOLDS_MS + 1, silentMs: 0 });
    expect(aged.verdict).toBe('unknown');
    expect(aged.why).toBe('Newer data were due at 12:02 UTC and nothing came of them; it was within limits');
  });

  it('is unknown once the service was not heard for more than an hour', () => {
    const aged = agedFlight(flight, { nowMs, silentMs: HOLDS_MS + 60_000 });
    expect(aged.verdict).toBe('unknown');
    expect(aged.why).toBe('The service was not heard for 1 h 1 min; it was within limits');
  });

  it('that was worked out to be unknown says another reason once it goes by age, so that none of its figures hold', () => {
    const unknown = {
      ...flight,
      verdict: 'unknown',
      evaluation: { ...flight.evaluation!, verdict: 'unknown' },
    } as const;
    expect(heldEvaluation(unknown)).toBeDefined();
    const aged = agedFlight(unknown, { nowMs: staleMs + HOLDS_MS + 1, silentMs: 0 });
    expect(aged.why).toBe('Newer data were due at 12:02 UTC and nothing came of them; it was unknown');
    expect(heldEvaluation(aged)).toBeUndefined();
    const failed = { ...unknown, why: 'The last attempt failed' };
    expect(agedFlight(failed, { nowMs: staleMs + HOLDS_MS + 1, silentMs: 0 })).toBe(failed);
  });

  it('is unknown where nobody knows how old it is', () => {
    expect(agedFlight(flight, { nowMs, silentMs: undefined }).verdict).toBe('unknown');
  });

  it('without anything that was worked out is unknown, whatever it says', () => {
    expect(agedFlight({ ...flight, evaluation: null }, { nowMs, silentMs: 0 }).verdict).toBe('unknown');
  });

  it('of a flight that has arrived stays as history', () => {
    const arrived = { ...flight, arrived: { atUtc: utcAt(-5), by: 'Robin' } };
    expect(agedFlight(arrived, { nowMs: staleMs + 10 * HOLDS_MS, silentMs: 0 })).toBe(arrived);
  });

  it('may become unknown, and never anything else', () => {
    fc.assert(
      fc.property(
        fc.nat(200),
        fc.integer({ min: -1000, max: 5000 }),
        fc.option(fc.nat(300), { nil: undefined }),
        (index, minutes, silentMinutes) => {
          const one = inventedFlight(index);
          const standing = {
            nowMs: nowMs + minutes * 60_000,
            silentMs: silentMinutes === undefined ? undefined : silentMinutes * 60_000,
          };
          expect(['unknown', one.verdict]).toContain(agedFlight(one, standing).verdict);
        },
      ),
    );
  });
});

describe('the service’s clock', () => {
  const clock = { asOfMs: nowMs, isStanding: false, deviceMs: 5_000_000, ticksMs: 1000 };

  it('goes on with the device, whatever the device takes the time to be', () => {
    expect(serviceNowMs(clock, 5_060_000, 61_000)).toBe(nowMs + 60_000);
  });

  it('counts a sleep of the device, during which its ticks may stop', () => {
    expect(serviceNowMs(clock, 5_000_000 + 3_600_000, 2000)).toBe(nowMs + 3_600_000);
  });

  it('never goes back where the device’s clock is set back', () => {
    expect(serviceNowMs(clock, 1_000_000, 31_000)).toBe(nowMs + 30_000);
  });

  it('stands where the board stands', () => {
    expect(serviceNowMs({ ...clock, isStanding: true }, 9_000_000, 900_000)).toBe(nowMs);
  });

  it('says when something was on the device’s clock', () => {
    expect(serviceInstantMs(clock, 5_000_000 - 120_000)).toBe(nowMs - 120_000);
  });
});
