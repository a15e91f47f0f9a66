import { expect, test } from 'vitest';
import { inspectWarnings } from '../../../worker/formats/warnings/inspect.ts';
import { CONTEXT } from './warning-context.ts';

const json = (text: string) => JSON.parse(JSON.stringify([...inspectWarnings(text, CONTEXT)])) as object[];

test('inspectWarnings gives feet, knots, GeoJSON and ISO times, null for what is missing', () => {
  const [warning, refused] = json(
    'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE OBS AT 0550Z WI N5000 E01000 - N5030 E01000 - N5030 E01030 FL030/110 MOV E 20KT NC FCST AT 1000Z N OF N50=\nWORDS=',
  );
  expect(warning).toEqual({
    kind: 'warning',
    form: 'sigmet',
    style: 'icao',
    line: 1,
    identification: '1',
    office: 'ZZZZ',
    region: { indicator: 'ZZZZ', name: 'EXAMPLE', type: 'FIR' },
    places: null,
    status: 'operational',
    isOutlook: false,
    action: { kind: 'warn' },
    validFromUtc: '2026-01-15T06:00:00Z',
    validToUtc: '2026-01-15T10:00:00Z',
    phenomenon: { kind: 'icing', intensity: 'severe', ice: [], cause: 'unstated' },
    freezingPrecipitation: [],
    basis: { kind: 'observed', atUtc: '2026-01-15T05:50:00Z' },
    areas: [
      {
        stated: 'polygon',
        geometry: 'polygon',
        geoJson: {
          type: 'Polygon',
          coordinates: [
            [
              [10.5, 50.5],
              [10, 50.5],
              [10, 50],
              [10.5, 50.5],
            ],
          ],
        },
      },
    ],
    levels: {
      kind: 'layer',
      lower: { kind: 'flight-level', altitudeFt: 3000 },
      upper: { kind: 'flight-level', altitudeFt: 11_000 },
    },
    movement: { kind: 'moving', towardDeg: 90, speedKt: 20 },
    change: 'none',
    later: {
      atUtc: '2026-01-15T10:00:00Z',
      areas: [
        {
          stated: 'sides',
          geometry: 'sides',
          geoJson: null,
          sides: [{ kind: 'parallel', side: 'N', latDeg: 50 }],
          reason: 'area: ends at the border of its region, which is not given',
        },
      ],
    },
    conditions: null,
    unread: [],
    text: 'ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE OBS AT 0550Z WI N5000 E01000 - N5030 E01000 - N5030 E01030 FL030/110 MOV E 20KT NC FCST AT 1000Z N OF N50',
  });
  expect(refused).toMatchObject({ kind: 'refused', line: 2, text: 'WORDS' });
});

test('a line has its half width, a circle its radius, in nautical miles', () => {
  const text = (area: string) =>
    `ZZZZ SIGMET 1 VALID 150600/151000 ZZZZ- ZZZZ EXAMPLE FIR SEV ICE FCST ${area}`;
  expect(json(text('APRX 40NM WID LINE BTN N50 E010 - N51 E010'))).toMatchObject([
    { areas: [{ halfWidthNm: 20 }] },
  ]);
  expect(json(text('WI 50NM OF N50 E010'))).toMatchObject([
    { areas: [{ radiusNm: 50, geoJson: { type: 'Polygon' } }] },
  ]);
});

test('a cancellation has the times of what it cancels', () => {
  expect(
    json('ZZZZ SIGMET 3 VALID 150745/151000 ZZZZ- ZZZZ EXAMPLE FIR CNL SIGMET 2 150600/151000'),
  ).toMatchObject([
    {
      action: {
        kind: 'cancel',
        identification: '2',
        validFromUtc: '2026-01-15T06:00:00Z',
        validToUtc: '2026-01-15T10:00:00Z',
      },
    },
  ]);
});
