/** What a row of the altitude table says and draws, and which columns there is room for. */
import { describe, expect, it } from 'vitest';
import type { BriefMember, CurtainAnswer, ExposureAnswer, WayOut } from '../../web/src/contract.ts';
import { gaugeWords, temperatureText, windText } from '../../web/src/table/cells.ts';
import { columnPx, columnsOf, gridColumns, isInTable, tablePlace } from '../../web/src/table/columns.ts';
import { pathPieces } from '../../web/src/table/path-pieces.ts';
import { wayCell } from '../../web/src/table/way-cell.ts';

describe('temperatures and wind', () => {
  const exposure = (changes: Partial<ExposureAnswer>) => changes as ExposureAnswer;

  it('are static before gauge, with true minuses', () => {
    expect(temperatureText(exposure({ staticTemperatureC: -6.7, gaugeTemperatureC: -3.2 }))).toBe('−7/−3');
  });

  it.each([
    { staticTemperatureC: null, gaugeTemperatureC: null },
    { staticTemperatureC: -6.7, gaugeTemperatureC: null },
  ])('are unknown where either is: $staticTemperatureC, $gaugeTemperatureC', (given) => {
    expect(temperatureText(exposure(given))).toBe('?');
  });

  it('state the recovery of the gauge', () => {
    expect(gaugeWords({ temperatureRecoveryRatio: 0.85 } as BriefMember['limits'])).toContain('85 %');
  });

  it('are minus for a headwind, and unknown is never 0', () => {
    expect(windText(exposure({ headwindKt: 19 }))).toBe('−20');
    expect(windText(exposure({ headwindKt: -19 }))).toBe('+20');
    expect(windText(exposure({ headwindKt: null }))).toBe('?');
  });
});

describe('the way out of a row', () => {
  const ways = (list: readonly (readonly [WayOut['way'], number | null])[]): WayOut[] =>
    list.map(([way, toAltitudeFt], index) => ({
      ...{ distanceNm: index * 10, way, toAltitudeFt, minutes: 3, builtMm: 1 },
      aerodrome: way === 'aerodrome' ? 'AAAA' : null,
    }));
  const shown = (list: Parameters<typeof ways>[0]) => {
    const { word, place, kind } = wayCell(ways(list));
    return [word, place.replaceAll('\u2060', ''), kind];
  };

  it('is the one of most miles, with the place it leads to', () => {
    expect(shown([...one('down', 9000, 2), ...one('up', 11000, 4)])).toEqual(['up', '11,000', 'found']);
    expect(shown([...one('aerodrome', null, 4), ...one('up', 11000, 2)])).toEqual(['land', 'AAAA', 'found']);
  });

  it('is none, and where, however short the stretch', () => {
    expect(shown([...one('up', 11000, 8), ['none', null], ['up', 11000]])).toEqual(['none', '75–85', 'none']);
  });

  it('is none before unknown, and unknown before any that there is', () => {
    const unknown = [...one('up', 11000, 8), ...one('unknown', null, 2)];
    expect(shown(unknown)).toEqual(['unknown', '75–90', 'unknown']);
    expect(shown([...unknown, ['none', null], ['up', 9000]])[0]).toBe('none');
  });

  it('says that there are more places without one', () => {
    const list = [...one('none', null, 1), ...one('up', 9000, 2), ...one('none', null, 2)];
    expect(shown(list)).toEqual(['none', '25–40+', 'none']);
  });

  it('is not needed only where it is needed nowhere, and unknown where none were worked out', () => {
    expect(shown(one('not-needed', null, 3))).toEqual(['not needed', '', 'found']);
    expect(shown([...one('not-needed', null, 9), ['down', 9000]])[0]).toBe('down');
    expect(shown([])).toEqual(['unknown', '', 'unknown']);
  });

  function one(way: WayOut['way'], toFt: number | null, count: number): [WayOut['way'], number | null][] {
    return Array.from({ length: count }, () => [way, toFt]);
  }
});

/** Three points 10 NM apart, cells of 1,000 ft from the ground: ice from 1,000 to 3,000 ft, no data over the last point. */
function curtain(): CurtainAnswer {
  const column = (values: readonly number[]) => [...values, ...values, ...values];
  const quantity = (values: readonly number[]) => ({ unit: '', scale: 1, values: column(values) });
  return {
    pointCount: 3,
    cellCount: 4,
    distanceNm: [0, 10, 20],
    lowestFt: 0,
    cellDepthFt: 1000,
    quantities: {
      intensity: quantity([0, 3, 3, 0]),
      icingProbability: quantity([0, 0.9, 0.9, 0]),
      iceKind: quantity([0, 1, 1, 0]),
      largeDrops: quantity([0, 0, 2, 0]),
    },
    state: [...column([0, 0, 0, 0]).slice(0, 8), 1, 1, 1, 1],
    stateWords: ['known', 'no-data'],
  } as unknown as CurtainAnswer;
}

describe('the picture of a path', () => {
  it('shows the ice that the climb passes, its large drops, and the level over it', () => {
    const pieces = pathPieces(curtain(), [0, 4000 - 1, 4000 - 1]);
    const seen = pieces.map(({ look }) =>
      look.kind === 'ice' ? `${look.shade}${look.largeDrops ? ' drops' : ''}` : look.kind,
    );
    expect(seen).toEqual(['no-ice', 'moderate', 'moderate drops', 'no-ice', 'unknown']);
    // By hand: 400 ft a mile, each mile's part looked at in its middle.
    expect(pieces.map(({ fromNm }) => Math.round(fromNm))).toEqual([0, 3, 5, 8, 15]);
  });

  it('reaches from end to end without a gap', () => {
    const pieces = pathPieces(curtain(), [500, 2500, 500]);
    expect(pieces[0]?.fromNm).toBe(0);
    expect(pieces.at(-1)?.toNm).toBe(20);
    for (const [index, piece] of pieces.slice(1).entries()) expect(piece.fromNm).toBe(pieces[index]?.toNm);
  });

  it('is unknown, never clear, where the path has no altitude', () => {
    for (const flownFt of [[], [Number.NaN, Number.NaN, Number.NaN], [500]]) {
      expect(pathPieces(curtain(), flownFt).map(({ look }) => look.kind)).toEqual(['unknown']);
    }
  });
});

describe('columns', () => {
  const ids = (sheetPx: number, isSideBySide = true) =>
    columnsOf(tablePlace(sheetPx, isSideBySide).reach).map(({ id }) => id);

  it('become more with the width, and none is lost on the way', () => {
    const widths = [720, 900, 1150, 1400, 1700, 1900];
    for (const [index, sheetPx] of widths.slice(1).entries())
      expect(ids(sheetPx)).toEqual(expect.arrayContaining(ids(widths[index]!)));
    expect(ids(1230)).toEqual(expect.arrayContaining(['path', 'temperature', 'wind', 'fuel', 'out']));
    expect(ids(1230)).not.toContain('why');
    expect(ids(1850)).toContain('why');
  });

  it('always hold ice, unknown time, fluid and time', () => {
    for (const place of [ids(336, false), ids(720), ids(1230), ids(1850)])
      expect(place).toEqual(expect.arrayContaining(['ice', 'unknown', 'built', 'fluid', 'time']));
  });

  it('leave the section more than a third of the sheet', () => {
    for (let sheetPx = 720; sheetPx < 2600; sheetPx += 10)
      expect(tablePlace(sheetPx, true).widthPx / sheetPx).toBeLessThan(0.6);
  });

  it('share the whole width of the table', () => {
    const columns = columnsOf('widest');
    const sum = columns.reduce((px, { id }) => px + columnPx(id, columns, 1000), 0);
    expect(sum).toBeLessThan(1000);
    expect(sum).toBeGreaterThan(850);
    expect(gridColumns(columns).split(') ')).toHaveLength(columns.length + 1);
  });

  it('that the table has no room for are told elsewhere', () => {
    expect(isInTable('narrow', 'temperature')).toBe(false);
    expect(isInTable('wide', 'temperature')).toBe(true);
  });
});
