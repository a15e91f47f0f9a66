import { expect, test } from 'vitest';
import {
  type InspectedReport,
  inspectAerodromeReports,
} from '../../../worker/formats/aerodrome-reports/inspect.ts';
import { NEAR_MS } from './read-one.ts';

const inspect = (text: string): InspectedReport[] => inspectAerodromeReports(text, { nearMs: NEAR_MS });

test('one object a report, in order, with ISO times and rounded numbers', () => {
  const lines = inspect(
    'SAUS70 KWBC 151500\nMETAR\nKZZZ 151453Z 24004MPS 3/4SM FZDZ M00/M01 A2990 RMK I1001 FZDZB05=\nKYYY NIL=\n' +
      'TAF KZZZ 151130Z 1512/1612 CNL=\n',
  );
  expect(lines).toEqual([
    {
      kind: 'metar',
      line: 3,
      bulletin: 'SAUS70 KWBC 151500',
      station: 'KZZZ',
      timeUtc: '2026-01-15T14:53:00Z',
      wind: { directionDeg: 240, speedKt: 7.775, speedBound: 'exact', gustBound: 'exact', unit: 'MPS' },
      visibility: { visibilityM: 1207.008, bound: 'exact' },
      weather: [{ text: 'FZDZ', intensity: 'moderate', descriptors: ['FZ'], phenomena: ['DZ'] }],
      sky: null,
      temperatureC: 0,
      dewPointC: -1,
      isTemperatureBelowZero: true,
      altimeterHPa: 1012.53,
      altimeterInHg: 29.9,
      remarks: {
        iceAccretion: [{ hours: 1, mm: 0.254 }],
        weatherEvents: [
          {
            weather: { text: 'FZDZ', intensity: 'moderate', descriptors: ['FZ'], phenomena: ['DZ'] },
            event: 'began',
            timeUtc: '2026-01-15T14:05:00Z',
          },
        ],
      },
      text: 'KZZZ 151453Z 24004MPS 3/4SM FZDZ M00/M01 A2990 RMK I1001 FZDZB05',
    },
    {
      kind: 'refused',
      line: 4,
      reason: 'KYYY time: found "NIL", expected ddhhmmZ; no report was made',
      text: 'KYYY NIL',
    },
    {
      kind: 'taf',
      line: 5,
      bulletin: 'SAUS70 KWBC 151500',
      station: 'KZZZ',
      issuedUtc: '2026-01-15T11:30:00Z',
      validFromUtc: '2026-01-15T12:00:00Z',
      validUntilUtc: '2026-01-16T12:00:00Z',
      isCancellation: true,
      text: 'TAF KZZZ 151130Z 1512/1612 CNL',
    },
  ]);
});

test('an observation that says nothing shows what is unknown', () => {
  const [line] = inspect('METAR KZZZ 151453Z AUTO /////KT // RMK PWINO=');
  expect(line).toMatchObject({
    visibility: null,
    sky: null,
    temperatureC: null,
    dewPointC: null,
    altimeterHPa: null,
    notObserved: ['present-weather', 'wind'],
  });
});

test('every line is JSON', () => {
  const lines = inspect('METAR KZZZ 151453Z P6SM VV/// RMK 6//// I6///=\nMETAR KZZZ 151500Z NIL=');
  expect(lines.map((each) => JSON.parse(JSON.stringify(each)))).toEqual(lines);
  expect(lines[1]).not.toHaveProperty('wind');
});

test('where body and remarks disagree nobody knows on which side of zero it is', () => {
  const [line] = inspect('METAR KZZZ 151453Z 00000KT 02/M03 A2990 RMK AO2 T10221028=');
  expect(line).toMatchObject({
    temperatureC: 2,
    isTemperatureBelowZero: null,
    doubts: [{ element: 'temperature' }],
  });
});
