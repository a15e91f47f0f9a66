import { describe, expect, test } from 'vitest';
import { readWarnings } from '../../../worker/formats/warnings/read-warnings.ts';
import { ktFromMps } from '../../../worker/science/units.ts';
import { CONTEXT, icao, readOne, statedIn } from './warning-context.ts';

const OWN =
  'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ TEST FIR SEV ICE (FZRA) FCST WI N4400 W09000 - N4500 W08600 - N4300 W08500 - N4400 W09000 FL030/110 MOV E 20KT NC';

test('the example of the project reference on reports, section 4, as decoded there', () => {
  const warning = readOne(OWN);
  expect(warning).toMatchObject({
    form: 'sigmet',
    style: 'icao',
    identification: '1',
    office: 'ZZZZ',
    region: { indicator: 'ZZZZ', name: 'TEST', type: 'FIR' },
    status: 'operational',
    action: { kind: 'warn' },
    validFromMs: Date.UTC(2026, 0, 15, 6),
    validToMs: Date.UTC(2026, 0, 15, 10),
    phenomenon: { kind: 'icing', intensity: 'severe', cause: 'freezing-rain' },
    basis: { kind: 'forecast', atMs: undefined },
    levels: {
      kind: 'layer',
      lower: { kind: 'flight-level', altitudeFt: 3000 },
      upper: { kind: 'flight-level', altitudeFt: 11_000 },
    },
    movement: { kind: 'moving', towardDeg: 90 },
    change: 'none',
    later: undefined,
    unread: [],
  });
  expect(warning.movement?.kind === 'moving' && ktFromMps(warning.movement.speedMps!)).toBeCloseTo(20, 9);
  const [area] = warning.areas;
  expect(area?.geometry.kind === 'polygon' && area.geometry.ring).toHaveLength(4);
});

describe('the first line', () => {
  test.each([
    ['YMMM SIGMET U11 VALID 150411/151111 YMMC-', 'U11', 'YMMC'],
    ['ENOR AIRMET I05 VALID 151200/151600 ENMI-', 'I05', 'ENMI'],
    ['LIMM AIRMET 19 VALID 151200/151600 LIIB-', '19', 'LIIB'],
    ['KZNY SIGMET NOVEMBER 2 VALID 151200/151600 KKCI-', 'NOVEMBER 2', 'KKCI'],
    ['SBCW SIGMET 96 VALID 151200 / 151600 SBCW -', '96', 'SBCW'],
    ['YUDD SIGMET 2 VALID 151200/151600 YUSO–', '2', 'YUSO'],
  ])('%s', (line, identification, office) => {
    const warning = readOne(
      `${line}\n${line.slice(0, 4)} EXAMPLE FIR MOD ICE FCST N OF N50 FL050/100 STNR NC=`,
    );
    expect(warning).toMatchObject({ identification, office, unread: [] });
    expect(warning.form).toBe(line.includes('AIRMET') ? 'airmet' : 'sigmet');
  });

  test('a period over the end of a month', () => {
    const warning = readOne(
      'ENOR SIGMET M01 VALID 312200/010200 ENMI-\nENOR POLARIS FIR SEV ICE FCST N OF N60 SFC/FL80 STNR NC=',
      { ...CONTEXT, referenceMs: Date.UTC(2026, 0, 31, 21, 45) },
    );
    expect(warning.validFromMs).toBe(Date.UTC(2026, 0, 31, 22));
    expect(warning.validToMs).toBe(Date.UTC(2026, 1, 1, 2));
  });

  test.each([
    ['the day of the end', '150600/191000', Date.UTC(2026, 0, 15, 6)],
    ['an end before the start', '150600/150500', Date.UTC(2026, 0, 15, 6)],
    ['hour 24', '152400/161000', undefined],
    ['four figures', '0600/1000', undefined],
  ])('a wrong figure in %s leaves the time out and says so', (_, validity, validFromMs) => {
    const warning = readOne(
      `ZZZZ SIGMET 1 VALID ${validity} ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL100`,
    );
    expect(warning.validFromMs).toBe(validFromMs);
    expect(validFromMs === undefined || warning.validToMs === undefined).toBe(true);
    expect(warning.unread[0]).toMatchObject({ element: 'validity', text: validity });
    expect(warning.phenomenon).toMatchObject({ kind: 'icing' });
  });

  test('the day of the heading, not the reference, gives the month', () => {
    const warning = readOne(
      'WSZZ31 ZZZZ 310545\nZZZZ SIGMET 1 VALID 310600/311000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST N OF N50 FL100=',
    );
    expect(warning.validFromMs).toBe(Date.UTC(2025, 11, 31, 6));
  });
});

describe('the text', () => {
  test.each([
    ['ZZZZ EXAMPLE FIR', { name: 'EXAMPLE', type: 'FIR' }],
    ['ZZZZ EXAMPLE OCEANIC FIR', { name: 'EXAMPLE OCEANIC', type: 'FIR' }],
    ['ZZZZ EXAMPLE FIR/UIR', { name: 'EXAMPLE', type: 'FIR/UIR' }],
    ['ZZZZ EXAMPLE CTA', { name: 'EXAMPLE', type: 'CTA' }],
    ['ZZZZ FIR', { name: '', type: 'FIR' }],
  ])('%s', (region, expected) => {
    expect(
      readOne(`ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ${region} SEV ICE FCST N OF N50 FL100`),
    ).toMatchObject({
      region: expected,
      phenomenon: { kind: 'icing' },
      unread: [],
    });
  });

  test.each([
    ['TEST', 'test'],
    ['EXER', 'exercise'],
  ])('%s after the region is a status', (word, status) => {
    const warning = readOne(
      `ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR ${word} SEV ICE FCST N OF N50`,
    );
    expect(warning).toMatchObject({ status, phenomenon: { kind: 'icing' } });
  });

  test('a phenomenon without OBS or FCST keeps its area, and a later FCST is of later', () => {
    const warning = readOne(
      'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE N OF N50 FL100 STNR NC FCST AT 1000Z N OF N51',
    );
    expect(warning.basis).toEqual({ kind: 'unstated', atMs: undefined });
    expect(warning.areas.map(({ statement }) => statedIn(statement))).toEqual(['N of 50.00']);
    expect(warning.later).toMatchObject({ atMs: Date.UTC(2026, 0, 15, 10), areas: [{}] });
  });

  test('two areas of one warning', () => {
    const { areas } = icao('WI N43 W085 - N45 W086 - N44 W090 AND WI N33 W085 - N35 W086 - N34 W090 FL100');
    expect(areas.map(({ geometry }) => geometry.kind)).toEqual(['polygon', 'polygon']);
  });

  test('a phenomenon that is not ice is kept in its words, with its area and levels', () => {
    const warning = readOne(
      'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR VA ERUPTION MT EXAMPLE OBS AT 0610Z N OF N50 FL310/450',
    );
    expect(warning).toMatchObject({
      phenomenon: { kind: 'other', text: 'VA ERUPTION MT EXAMPLE' },
      basis: { kind: 'observed', atMs: Date.UTC(2026, 0, 15, 6, 10) },
      levels: { kind: 'layer' },
    });
  });

  test.each(['2410', '2360'])('%s is no time, and is kept as unread', (figures) => {
    const warning = readOne(
      `ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE OBS AT ${figures}Z N OF N50 FL100`,
    );
    expect(warning).toMatchObject({
      basis: { kind: 'observed', atMs: undefined },
      unread: [{ text: `${figures}Z` }],
    });
  });

  test('words that no rule reads are kept together', () => {
    const { unread, change } = icao('N OF N50 FL100 STRN NC RMK: MM');
    expect(change).toBe('none');
    expect(unread.map(({ text }) => text)).toEqual(['STRN', 'RMK: MM']);
  });

  test('a second level is unread, not a new one', () => {
    expect(icao('N OF N50 FL100 FL200')).toMatchObject({
      levels: { kind: 'at', level: { altitudeFt: 10_000 } },
      unread: [{ text: 'FL200' }],
    });
  });
});

describe('a warning cut short', () => {
  test('at any character is read or refused, and no edge is moved', () => {
    const whole = readOne(OWN);
    const corners = whole.areas[0]!.statement.kind === 'polygon' ? whole.areas[0]!.statement.points : [];
    let read = 0;
    for (let length = 1; length < OWN.length; length += 1) {
      const items = [...readWarnings(OWN.slice(0, length), CONTEXT)];
      expect(items.length).toBeLessThanOrEqual(1);
      const [item] = items;
      if (item === undefined || item.kind === 'refused') continue;
      read += 1;
      expect(item.validFromMs).toBe(whole.validFromMs);
      const points = item.areas.flatMap(({ statement }) =>
        statement.kind === 'polygon' ? statement.points : [],
      );
      // The last corner may have lost figures of its minutes; those before it are whole.
      expect(points.slice(0, -1)).toEqual(corners.slice(0, Math.max(0, points.length - 1)));
    }
    expect(read).toBe(OWN.length - 'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- Z'.length);
  });
});
