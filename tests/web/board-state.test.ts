import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BoardState, stateFromAnswer, withDelta, withFlight } from '../../web/src/board/board-state.ts';
import type { BoardDelta, BoardFlight } from '../../worker/schema/board.ts';
import { inventedBoard, inventedFlight, utcAt } from '../support/invented-board.ts';

const start = stateFromAnswer(inventedBoard(4));

function delta(changes: Partial<BoardDelta>): BoardDelta {
  return {
    sinceSeq: 150,
    seq: 151,
    asOfUtc: utcAt(1),
    flights: [],
    removed: [],
    tails: [],
    waiting: 0,
    isTooOld: false,
    ...changes,
  };
}

const flightAt = (seq: number, changes: Partial<BoardFlight> = {}) => inventedFlight(1, { seq, ...changes });
const whyOf = (state: BoardState, index = 1) => state.flights.get(inventedFlight(index).id)?.flight.why;

/** What is shown of it, without the maps' order. */
const rowsOf = ({ flights, seq, waiting }: BoardState) => ({
  seq,
  waiting,
  rows: [...flights].map(([id, { flight }]) => `${id} ${flight.seq} ${flight.verdict} ${flight.why}`).sort(),
});

describe('a delta', () => {
  it('taken in twice is taken in once', () => {
    const one = delta({ flights: [flightAt(151, { why: 'new' })], waiting: 2 });
    expect(withDelta(withDelta(start, one), one)).toEqual(withDelta(start, one));
    expect(whyOf(withDelta(start, one))).toBe('new');
  });

  it('that begins after what is at hand is taken in, and the gap is still to be asked for', () => {
    const next = withDelta(
      start,
      delta({ sinceSeq: 160, seq: 161, flights: [flightAt(161, { why: 'new' })] }),
    );
    expect(whyOf(next)).toBe('new');
    expect(next.seq).toBe(150);
  });

  it('that is older than a row leaves it', () => {
    const newer = withDelta(
      start,
      delta({ seq: 155, asOfUtc: utcAt(5), flights: [flightAt(155, { why: 'newer' })] }),
    );
    expect(whyOf(withDelta(newer, delta({ flights: [flightAt(151, { why: 'older' })] })))).toBe('newer');
  });

  it('of the same row, told later, has the word: its verdict may have gone by age alone', () => {
    const { seq } = inventedFlight(1);
    const aged = delta({
      asOfUtc: utcAt(90),
      flights: [flightAt(seq, { verdict: 'unknown', why: 'too old' })],
    });
    const next = withDelta(start, aged);
    expect(whyOf(next)).toBe('too old');
    expect(whyOf(withDelta(next, delta({ asOfUtc: utcAt(80), flights: [flightAt(seq)] })))).toBe('too old');
  });

  it('that removes a flight keeps it from coming back by an older one', () => {
    const { id } = inventedFlight(1);
    const without = withDelta(start, delta({ seq: 155, removed: [id] }));
    expect(without.flights.has(id)).toBe(false);
    expect(withDelta(without, delta({ seq: 152, flights: [flightAt(152)] })).flights.has(id)).toBe(false);
    expect(withDelta(without, delta({ seq: 156, flights: [flightAt(156)] })).flights.has(id)).toBe(true);
  });

  it('too old to be told is not taken in at all', () => {
    expect(withDelta(start, delta({ seq: 999, isTooOld: true, removed: [inventedFlight(1).id] }))).toBe(
      start,
    );
  });

  it('come in whatever order, the rows are the same', () => {
    const step = fc.record({
      flight: fc.integer({ min: 0, max: 5 }),
      isRemoved: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(step, { minLength: 1, maxLength: 12 }),
        fc.infiniteStream(fc.nat()),
        (steps, order) => {
          const deltas = steps.map(({ flight, isRemoved }, at) => {
            const seq = 151 + at;
            const { id } = inventedFlight(flight);
            const flights = isRemoved ? [] : [inventedFlight(flight, { seq, why: `as of ${seq}` })];
            return delta({
              sinceSeq: seq - 1,
              seq,
              asOfUtc: utcAt(at + 1),
              waiting: at,
              flights,
              removed: isRemoved ? [id] : [],
            });
          });
          const shuffled = [...deltas].sort(() => (order.next().value % 2 === 0 ? -1 : 1));
          const inOrder = deltas.reduce(withDelta, start);
          // Whoever finds a gap asks again for what came after the number at hand: all of them once more.
          const anyhow = [...shuffled, ...deltas].reduce(withDelta, start);
          expect(rowsOf(anyhow)).toEqual(rowsOf(inOrder));
        },
      ),
    );
  });
});

describe('the whole board', () => {
  it('takes the place of what was at hand, but for what is newer than it', () => {
    const before = withDelta(
      start,
      delta({
        seq: 170,
        flights: [flightAt(170, { why: 'newer than the answer' })],
        removed: [inventedFlight(2).id],
      }),
    );
    const next = stateFromAnswer(inventedBoard(3, { seq: 160 }), before);
    expect(whyOf(next)).toBe('newer than the answer');
    expect(next.flights.has(inventedFlight(2).id)).toBe(false);
    expect(next.flights.has(inventedFlight(3).id)).toBe(false);
    expect(next.seq).toBe(160);
  });
});

it('a row that a call answered is not taken where a newer one is there', () => {
  const newer = withFlight(start, flightAt(200, { why: 'newer' }));
  expect(whyOf(withFlight(newer, flightAt(199, { why: 'older' })))).toBe('newer');
});
