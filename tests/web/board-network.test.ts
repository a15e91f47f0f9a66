import { describe, expect, it } from 'vitest';
import { drawnLines, lineAt, placeAlong } from '../../web/src/board/network/lines.ts';
import { moved, networkFrame, WHOLE, zoomed } from '../../web/src/board/network/network-frame.ts';
import { networkMarks } from '../../web/src/board/network/network-marks.ts';
import { flightToSelect, networkLines } from '../../web/src/board/network/pairs.ts';
import type { VerdictCode } from '../../web/src/contract.ts';
import type { BoardFlight } from '../../worker/schema/board.ts';

const PLACES: Record<string, [number, number]> = {
  AAAA: [-70, 44],
  BBBB: [-73, 44],
  CCCC: [-71, 42],
  WWWW: [175, 52],
  EEEE: [-165, 54],
};
const size = { widthPx: 800, heightPx: 500 };

interface Invented {
  readonly verdict?: VerdictCode;
  readonly departure?: string;
  readonly hasRoute?: boolean;
  readonly arrived?: boolean;
  readonly cancelled?: boolean;
}

function flight(id: string, from: string, to: string, given: Invented = {}): BoardFlight {
  const { verdict = 'within-limits', departure = '10', hasRoute = true } = given;
  return {
    id,
    from,
    to,
    verdict,
    departureUtc: `2026-01-14T${departure}:00:00Z`,
    evaluation: hasRoute ? { verdict: 'no-ice-found', line: [PLACES[from]!, PLACES[to]!] } : null,
    arrived: given.arrived === true ? { atUtc: '2026-01-14T12:00:00Z', by: 'AB' } : null,
    cancelled: given.cancelled === true,
  } as BoardFlight;
}

describe('networkLines', () => {
  it('draws both directions of a pair once, by the gravest verdict that a flight carries', () => {
    const { pairs } = networkLines([
      flight('1', 'AAAA', 'BBBB'),
      flight('2', 'BBBB', 'AAAA', { verdict: 'unknown' }),
      flight('3', 'AAAA', 'BBBB', { verdict: 'no-ice-found' }),
    ]);
    expect(pairs.map(({ key, verdict, isOneWay }) => ({ key, verdict, isOneWay }))).toEqual([
      { key: 'AAAA BBBB', verdict: 'unknown', isOneWay: false },
    ]);
    expect(pairs[0]!.flights.map(({ id }) => id)).toEqual(['2', '1', '3']);
  });

  it('counts a flight that was never worked out into the verdict of its pair', () => {
    const { pairs, undrawn } = networkLines([
      flight('1', 'AAAA', 'BBBB', { verdict: 'no-ice-found' }),
      flight('2', 'AAAA', 'BBBB', { verdict: 'unknown', hasRoute: false }),
    ]);
    expect(pairs[0]?.verdict).toBe('unknown');
    expect(undrawn).toEqual([]);
  });

  it('names every flight of a pair without any route, the gravest first', () => {
    const { pairs, undrawn } = networkLines([
      flight('1', 'AAAA', 'CCCC', { hasRoute: false }),
      flight('2', 'CCCC', 'AAAA', { hasRoute: false, verdict: 'outside-limits' }),
    ]);
    expect(pairs).toEqual([]);
    expect(undrawn.map(({ id }) => id)).toEqual(['2', '1']);
  });

  it('leaves arrived and cancelled flights out and says how many', () => {
    const { pairs, past } = networkLines([
      flight('1', 'AAAA', 'BBBB', { verdict: 'outside-limits', arrived: true }),
      flight('2', 'AAAA', 'BBBB', { verdict: 'outside-limits', cancelled: true }),
      flight('3', 'AAAA', 'BBBB'),
    ]);
    expect(pairs[0]?.verdict).toBe('within-limits');
    expect(past).toBe(2);
  });

  it('has the gravest pair first', () => {
    const { pairs } = networkLines([
      flight('1', 'AAAA', 'BBBB', { verdict: 'no-ice-found' }),
      flight('2', 'AAAA', 'CCCC', { verdict: 'outside-limits' }),
    ]);
    expect(pairs.map(({ key }) => key)).toEqual(['AAAA CCCC', 'AAAA BBBB']);
  });
});

it('a touch chooses the gravest flight of a line, and every further one the next', () => {
  const pair = networkLines([
    flight('early', 'AAAA', 'BBBB'),
    flight('late', 'AAAA', 'BBBB', { departure: '14' }),
    flight('bad', 'AAAA', 'BBBB', { verdict: 'outside-limits' }),
  ]).pairs[0]!;
  const chosen = ['bad', 'early', 'late', 'elsewhere'].map((id) => flightToSelect(pair, id));
  expect(chosen).toEqual(['early', 'late', 'bad', 'bad']);
});

describe('the frame of a network', () => {
  it('holds all stations within its margin', () => {
    const { pairs } = networkLines([flight('1', 'AAAA', 'BBBB'), flight('2', 'AAAA', 'CCCC')]);
    const frame = networkFrame(pairs, size)!;
    for (const place of ['AAAA', 'BBBB', 'CCCC']) {
      const [x, y] = frame.pxOf(...PLACES[place]!);
      expect(x).toBeGreaterThanOrEqual(45.9);
      expect(x).toBeLessThanOrEqual(754.1);
      expect(y).toBeGreaterThanOrEqual(45.9);
      expect(y).toBeLessThanOrEqual(454.1);
    }
  });

  it('is one picture across the antimeridian, with the line in one piece', () => {
    const { pairs } = networkLines([flight('1', 'WWWW', 'EEEE')]);
    const frame = networkFrame(pairs, size)!;
    expect(frame.bounds[2] - frame.bounds[0]).toBeLessThan(30);
    const [run] = drawnLines(pairs, frame)[0]!.runs;
    expect(run!.at(-1)![0] - run![0]![0]).toBeCloseTo(800 - 2 * 46, 0);
  });

  it('reaches more than half round the earth without folding', () => {
    PLACES.FFFF = [100, 40];
    PLACES.GGGG = [0, 50];
    PLACES.HHHH = [-100, 40];
    const { pairs } = networkLines([flight('1', 'FFFF', 'GGGG'), flight('2', 'GGGG', 'HHHH')]);
    const frame = networkFrame(pairs, size)!;
    const xs = ['FFFF', 'GGGG', 'HHHH'].map((place) => frame.pxOf(...PLACES[place]!)[0]);
    expect(xs[2]).toBeLessThan(xs[1]!);
    expect(xs[1]).toBeLessThan(xs[0]!);
  });

  it('is nothing without a line', () => {
    expect(networkFrame([], size)).toBeUndefined();
  });
});

it('a moved picture never shows what lies beyond the network’s own', () => {
  const near = zoomed(WHOLE, 2, size);
  expect(near).toEqual({ k: 2, x: -400, y: -250 });
  expect(moved(near, 5000, 5000, size)).toEqual({ k: 2, x: 0, y: 0 });
  expect(moved(near, -5000, -5000, size)).toEqual({ k: 2, x: -800, y: -500 });
  expect(zoomed(near, 0.01, size)).toEqual(WHOLE);
});

describe('the lines in the drawing', () => {
  const { pairs } = networkLines([
    flight('1', 'AAAA', 'BBBB'),
    flight('2', 'AAAA', 'CCCC', { verdict: 'outside-limits' }),
  ]);
  const lines = drawnLines(pairs, networkFrame(pairs, size)!);

  it('finds the line under a finger, also in a picture that was moved, and none far from all', () => {
    const [line] = lines;
    const { at } = placeAlong(line!.runs[0]!, 0.5)!;
    expect(lineAt(lines, [at[0] + 3, at[1]], WHOLE, 22)?.pair.key).toBe(line!.pair.key);
    const near = zoomed(WHOLE, 3, size);
    const onWindow = [at[0] * near.k + near.x, at[1] * near.k + near.y] as const;
    expect(lineAt(lines, onWindow, near, 22)?.pair.key).toBe(line!.pair.key);
    expect(lineAt(lines, [10, 10], WHOLE, 22)).toBeUndefined();
  });

  it('marks every line and names every station where there is room', () => {
    const { marks, stations } = networkMarks(lines, WHOLE, size, undefined);
    expect(marks.map(({ pair }) => pair.verdict)).toEqual(['outside-limits', 'within-limits']);
    expect(marks.every(({ arrow }) => arrow !== undefined)).toBe(true);
    expect(
      stations
        .filter(({ textAt }) => textAt !== undefined)
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['AAAA', 'BBBB', 'CCCC']);
  });

  it('gives the room to the gravest where it is short', () => {
    const tight = { widthPx: 800, heightPx: 500 };
    const same = lines.map((line) => ({
      ...line,
      runs: [
        [
          [100, 100],
          [104, 100],
        ],
      ] as const,
    }));
    const { marks } = networkMarks(same, WHOLE, tight, undefined);
    expect(marks.map(({ pair }) => pair.verdict)).toEqual(['outside-limits']);
  });
});
