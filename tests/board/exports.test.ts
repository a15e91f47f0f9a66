/** A board as CSV and GeoJSON, and its log as CSV. */
import { csvParse } from 'd3-dsv';
import fc from 'fast-check';
import type { Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import { boardToCsv, logToCsv } from '../../worker/board/board-csv.ts';
import { boardToGeoJson } from '../../worker/board/board-geojson.ts';
import { EXPORTED_COLUMNS } from '../../worker/board/exported-flight.ts';
import { CAUTIONS } from '../../worker/brief/method.ts';
import type { BoardAnswer, BoardFlight } from '../../worker/schema/board.ts';
import { makeEvaluation, makeFlight, makeStanding } from '../support/board-flights.ts';
import { legId } from '../support/board-legs.ts';

const AS_OF = '2026-01-14T11:00:00.000Z';
const CAUTION = 'Advice only: the pilot in command decides';

function boardOf(...flights: Partial<BoardFlight>[]): BoardAnswer {
  return {
    board: { id: legId('board'), name: 'Winter', timeZone: 'UTC', standsAtUtc: null },
    access: 'view',
    asOfUtc: '2026-01-14T11:00:00.000Z',
    seq: 9,
    flights: flights.map((given, index) => makeFlight({ id: `flight ${index}`, ...given })),
    tails: [],
    waiting: 0,
    cautions: [CAUTION, 'Invented data'],
  };
}
const rowsOf = (answer: BoardAnswer) => csvParse(boardToCsv(answer));

describe('boardToCsv', () => {
  it('has a row a flight, worst first, each with caution and time', () => {
    const rows = rowsOf(
      boardOf(
        { label: 'RW 1' },
        { label: 'RW 2', verdict: 'outside-limits' },
        { label: 'RW 3', verdict: 'unknown' },
      ),
    );
    expect(rows.map(({ label }) => label)).toEqual(['RW 2', 'RW 3', 'RW 1']);
    for (const row of rows) {
      expect(row.caution).toBe(`${CAUTION} Invented data`);
      expect(row.asOfUtc).toBe('2026-01-14T11:00:00.000Z');
    }
    expect(rows.columns).toEqual([...EXPORTED_COLUMNS]);
  });

  it('names its columns with their units and leaves none out', () => {
    expect(new Set(EXPORTED_COLUMNS)).toEqual(
      new Set(Object.keys(boardToGeoJson(boardOf({})).features[0]!.properties)),
    );
    expect(new Set(EXPORTED_COLUMNS).size).toBe(EXPORTED_COLUMNS.length);
  });

  it('says what the evaluation found', () => {
    expect(rowsOf(boardOf({}))[0]).toMatchObject({
      ...{ verdict: 'within-limits', altitudeFt: '11000', acceptLowerFt: '11000', acceptUpperFt: '13000' },
      ...{ radio: 'File 11,000. Light ice in climb.', icingMinutesHigh: '5', worstIntensity: 'light' },
      ...{ worstLargeDrops: 'none', fluidOnBoardL: '60', isFluidEnough: 'yes', destinationWeather: 'above' },
      ...{ isOverdue: 'no', isCancelled: 'no', evaluatedUtc: '2026-01-14T10:00:00.000Z' },
    });
  });

  it.each<[string, Partial<BoardFlight>]>([
    ['was never worked out', { verdict: 'unknown', evaluation: null }],
    ['does not hold any more', { verdict: 'unknown', why: 'Worked out too long ago' }],
    [
      'was unknown itself and does not hold any more',
      {
        ...{ verdict: 'unknown', why: 'Worked out too long ago' },
        evaluation: makeEvaluation({ verdict: 'unknown', sentence: 'No data', alternate: makeStanding() }),
      },
    ],
  ])('advises nothing and finds nothing known where the evaluation %s', (_, given) => {
    const [row] = rowsOf(boardOf(given));
    expect(row).toMatchObject({
      ...{ verdict: 'unknown', altitudeFt: '', radio: '', icingMinutesHigh: '', worstIntensity: 'unknown' },
      ...{ worstLargeDrops: 'unknown', destinationWeather: 'unknown', isFluidEnough: 'unknown' },
      ...{ fluidOnBoardL: 'unknown', fluidNeededHighL: 'unknown', fluidUnknownWhy: 'unknown' },
      ...{ alternate: 'unknown', alternateWeather: 'unknown' },
      ...{ alternateSentence: 'unknown', destinationSentence: 'unknown' },
    });
    expect(
      Object.entries(row!)
        .filter(([name]) => name !== 'why')
        .map(([, cell]) => cell),
    ).not.toContain('none');
  });

  it('says what an evaluation of unknown found while that holds', () => {
    const evaluation = makeEvaluation({ verdict: 'unknown', sentence: 'No data', alternate: makeStanding() });
    const [row] = rowsOf(boardOf({ verdict: 'unknown', why: 'No data', evaluation }));
    expect(row).toMatchObject({ fluidOnBoardL: '60', alternate: 'BBBB', alternateWeather: 'above' });
  });

  it('leaves the alternate empty where none is planned, and the fluid where it does not matter', () => {
    expect(rowsOf(boardOf({}))[0]).toMatchObject({
      alternate: '',
      alternateWeather: '',
      fluidUnknownWhy: '',
    });
    expect(rowsOf(boardOf({ evaluation: makeEvaluation({ fluid: null }) }))[0]).toMatchObject({
      ...{ fluidOnBoardL: '', fluidNeededHighL: '', isFluidEnough: '' },
    });
    const evaluation = makeEvaluation({ fluid: null, fluidUnknownWhy: 'Nobody entered it' });
    expect(rowsOf(boardOf({ evaluation }))[0]).toMatchObject({
      ...{ fluidOnBoardL: 'unknown', fluidNeededHighL: 'unknown', isFluidEnough: 'unknown' },
      fluidUnknownWhy: 'Nobody entered it',
    });
  });

  it.each([
    ['of the change', 7, 'Ana'],
    ['of a later one', 8, 'Ana'],
    ['of one before it', 6, ''],
  ])('names who acknowledged what was seen %s', (_, seq, by) => {
    const [row] = rowsOf(
      boardOf({
        change: { seq: 7, atUtc: '2026-01-14T10:30:00.000Z', kind: 'worse', sentence: 'Outside limits' },
        acknowledged: { seq, by: 'Ana', atUtc: '2026-01-14T10:40:00.000Z' },
      }),
    );
    expect(row!.acknowledgedBy).toBe(by);
  });

  it('has a flight that is overdue', () => {
    expect(rowsOf(boardOf({ overdueAtUtc: '2026-01-14T10:59:00.000Z' }))[0]!.isOverdue).toBe('yes');
  });

  it('runs nothing in a spreadsheet, whoever named a flight', () => {
    const [row] = rowsOf(boardOf({ label: '=1+1', tail: '@x', routeText: '+A', why: '-1' }));
    expect(row).toMatchObject({ label: "'=1+1", tail: "'@x", route: "'+A", why: "'-1" });
  });
});

describe('logToCsv', () => {
  it('has a row an entry, and runs no name', () => {
    const entry = {
      ...{ boardId: legId('board'), flightId: 'f', flightName: 'AAAA-BBBB "RW 1"', seq: 7 },
      ...{ sentence: 'Outside limits, was within limits', by: '=Ana', atMs: Date.UTC(2026, 0, 14, 10) },
    };
    const [header, row] = logToCsv([entry], AS_OF).split('\r\n');
    expect(header).toBe('atUtc,by,flight,seq,sentence,flightId,asOfUtc,caution');
    expect(row).toMatch(
      /^2026-01-14T10:00:00.000Z,'=Ana,"AAAA-BBBB ""RW 1""",7,"Outside limits, was within limits",f,/,
    );
    expect(logToCsv([], AS_OF)).toBe(`${header}\r\n`);
  });

  it('has in every row the caution and when it was taken out', () => {
    const entry = {
      ...{ boardId: legId('board'), flightId: 'f', flightName: 'RW 1', seq: 7 },
      ...{ sentence: 'Outside limits', by: 'Ana', atMs: Date.UTC(2026, 0, 14, 10) },
    };
    const rows = csvParse(logToCsv([entry, { ...entry, seq: 8 }], AS_OF));
    expect(rows).toHaveLength(2);
    for (const row of rows) expect(row).toMatchObject({ asOfUtc: AS_OF, caution: CAUTIONS.join(' ') });
  });
});

/** Every position of the geometries, each line by itself. */
function linesOf(answer: BoardAnswer): Position[][] {
  return boardToGeoJson(answer).features.flatMap(({ geometry }) => {
    if (geometry === null) return [];
    return geometry.type === 'LineString' ? [geometry.coordinates] : geometry.coordinates;
  });
}

describe('boardToGeoJson', () => {
  it('has a feature a flight, worst first, with caution, time and board beside', () => {
    const answer = boardOf({}, { verdict: 'outside-limits' });
    const collection = boardToGeoJson(answer);
    expect(collection.features.map(({ id }) => id)).toEqual(['flight 1', 'flight 0']);
    expect(collection).toMatchObject({
      type: 'FeatureCollection',
      board: { id: legId('board'), name: 'Winter', standsAtUtc: null },
      asOfUtc: '2026-01-14T11:00:00.000Z',
      cautions: [CAUTION, 'Invented data'],
    });
    expect(collection.features[1]).toMatchObject({
      type: 'Feature',
      geometry: { type: 'LineString', coordinates: makeEvaluation().line },
      properties: {
        verdict: 'within-limits',
        altitudeFt: 11_000,
        isOverdue: false,
        caution: `${CAUTION} Invented data`,
      },
    });
  });

  it('keeps a flight without a line, without a geometry', () => {
    const [never, point] = boardToGeoJson(
      boardOf({ evaluation: null, verdict: 'unknown' }, { evaluation: makeEvaluation({ line: [[1, 2]] }) }),
    ).features;
    expect(never).toMatchObject({ geometry: null, properties: { verdict: 'unknown' } });
    expect(point!.geometry).toBeNull();
  });

  it('cuts a line at the antimeridian', () => {
    const line: [number, number][] = [
      [170, 50],
      [-170, 52],
    ];
    expect(boardToGeoJson(boardOf({ evaluation: makeEvaluation({ line }) })).features[0]!.geometry).toEqual({
      type: 'MultiLineString',
      coordinates: [
        [
          [170, 50],
          [180, 51],
        ],
        [
          [-180, 51],
          [-170, 52],
        ],
      ],
    });
  });

  it('has, of any lines, none that leaves the globe or jumps over the antimeridian', () => {
    const steps = fc.tuple(fc.integer({ min: -1_700, max: 1_700 }), fc.integer({ min: -89, max: 89 }));
    fc.assert(
      fc.property(
        fc.array(steps, { minLength: 2, maxLength: 12 }),
        fc.integer({ min: -180, max: 179 }),
        (given, startDeg) => {
          let lonDeg = startDeg;
          const line = given.map(([stepTenths, latDeg]): [number, number] => {
            lonDeg += stepTenths / 10;
            return [lonDeg - 360 * Math.floor((lonDeg + 180) / 360), latDeg];
          });
          for (const coordinates of linesOf(boardOf({ evaluation: makeEvaluation({ line }) }))) {
            expect(coordinates.length).toBeGreaterThanOrEqual(2);
            coordinates.forEach(([lon], index) => {
              expect(Math.abs(lon!)).toBeLessThanOrEqual(180);
              const next = coordinates[index + 1];
              if (next !== undefined) expect(Math.abs(next[0]! - lon!)).toBeLessThanOrEqual(180);
            });
          }
        },
      ),
    );
  });
});
