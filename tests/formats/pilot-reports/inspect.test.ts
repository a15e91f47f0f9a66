import { expect, test } from 'vitest';
import { inspectPilotReports } from '../../../worker/formats/pilot-reports/inspect.ts';
import { CONTEXT } from './report-context.ts';

const TEXT = `UBUS31 KWBC 151405
ABC UUA /OV DEF180060/TM 1355/FL090/TP ZZZZ/SK OVC045/WX FV05SM/TA M07/WV 28035KT/IC SEV MX 060-090=
XYZ=`;

test('inspectPilotReports gives feet, knots, miles and degrees Celsius, null for what is missing', () => {
  const [report, refused] = JSON.parse(JSON.stringify([...inspectPilotReports(TEXT, CONTEXT)])) as object[];
  expect(report).toEqual({
    kind: 'pilot-report',
    form: 'pirep',
    urgency: 'urgent',
    line: 2,
    station: 'ABC',
    aircraft: null,
    aircraftType: 'ZZZZ',
    timeUtc: '2026-01-15T13:55:00Z',
    location: {
      kind: 'points',
      points: [{ kind: 'radial', identifier: 'DEF', radialDeg: 180, distanceNm: 60 }],
    },
    place: { kind: 'point', points: [{ latDeg: 1.0007, lonDeg: -90, radialNorth: 'taken-as-true' }] },
    level: { kind: 'altitude', altitudeFt: 9000 },
    phase: null,
    sky: {
      kind: 'reported',
      element: 'SK',
      layers: [
        { thinnest: 'overcast', thickest: 'overcast', base: { lowerFt: 4500, upperFt: 4500 }, top: null },
      ],
    },
    isInCloud: false,
    visibilitySm: 5,
    weather: [],
    isWeatherWhole: true,
    temperatureC: -7,
    wind: { directionDeg: 280, north: 'magnetic', speedKt: 35 },
    icing: {
      kind: 'reported',
      element: 'IC',
      layers: [
        {
          lightest: 'severe',
          heaviest: 'severe',
          what: 'mixed',
          frequency: 'unstated',
          band: { kind: 'layer', lowerFt: 6000, upperFt: 9000, isStated: true },
        },
      ],
    },
    icingMentions: [],
    isNullIcing: false,
    turbulence: { kind: 'not-reported' },
    remarks: null,
    unread: [],
    text: 'ABC UUA /OV DEF180060/TM 1355/FL090/TP ZZZZ/SK OVC045/WX FV05SM/TA M07/WV 28035KT/IC SEV MX 060-090',
  });
  expect(refused).toMatchObject({ kind: 'refused', line: 3, text: 'XYZ' });
});

test('unrestricted visibility is a word, since JSON has no infinity', () => {
  const [report] = [...inspectPilotReports('ABC UA /OV ABC/WX FV99SM', CONTEXT)];
  expect(report).toMatchObject({
    visibilitySm: 'unrestricted',
    timeUtc: null,
    temperatureC: null,
    wind: null,
  });
});
