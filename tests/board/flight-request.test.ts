import { describe, expect, it } from 'vitest';
import { endsOfRoute, requestOfFlight } from '../../worker/board/flight-request.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import type { ScheduleLeg } from '../../worker/schema/board.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';

const leg: ScheduleLeg = {
  label: '101',
  tail: 'ZZ-ONE',
  route: 'KBTV DCT KBGR',
  weekdays: ['wed'],
  departureLocal: '06:30',
  timeZone: 'America/New_York',
  fromDate: null,
  untilDate: null,
  aircraft: 'generic-fluid-turboprop',
  plannedMinutes: null,
  alternate: 'KPWM',
  destinationMinima: null,
  alternateMinima: null,
  options: { minimumAltitudes: [{ fromNm: 0, toNm: 186, altitudeFt: 6500 }] },
};
const flight = { leg, departureMs: Date.parse('2026-01-14T11:30:00Z'), departed: undefined };

describe('requestOfFlight', () => {
  it('asks for the leg as it stands, with its alternate, minima and the fluid that is known, and no later departures', () => {
    const request = requestOfFlight(flight, 62, []);
    expect(briefRequestSchema.safeParse(request).success).toBe(true);
    expect(request).toEqual({
      route: 'KBTV DCT KBGR',
      departure: { atUtc: '2026-01-14T11:30:00.000Z' },
      aircraft: 'generic-fluid-turboprop',
      options: {
        minimumAltitudes: [{ fromNm: 0, toNm: 186, altitudeFt: 6500 }],
        laterDepartures: 0,
        fluidOnBoardL: 62,
        alternate: 'KPWM',
      },
    });
  });

  it('asks for the air of when the flight left, once that is known', () => {
    const departed = { atMs: Date.parse('2026-01-14T12:40:00Z'), by: 'Ada' };
    expect(requestOfFlight({ ...flight, departed }, 62, []).departure.atUtc).toBe('2026-01-14T12:40:00.000Z');
  });

  it('says nothing of fluid that is not known, rather than none', () => {
    expect(requestOfFlight(flight, undefined, []).options).not.toHaveProperty('fluidOnBoardL');
  });

  it('takes the aeroplane out of ice for any inoperative piece, and its fluid with the wing or the tail', () => {
    const profile = builtInAircraft.find(({ id }) => id === leg.aircraft)!;
    const windshield = requestOfFlight(flight, 62, ['windshield']);
    expect(windshield.aircraft).toEqual({ ...profile, certifiedForIcing: false });
    expect(windshield.options).toHaveProperty('fluidOnBoardL', 62);
    const tail = requestOfFlight(flight, 62, ['tail-fluid']);
    expect(tail.aircraft).toEqual({ ...profile, certifiedForIcing: false, protection: { kind: 'none' } });
    expect(tail.options).not.toHaveProperty('fluidOnBoardL');
    expect(briefRequestSchema.safeParse(tail).success).toBe(true);
  });

  it('leaves a name that no profile has for the brief to refuse', () => {
    const unknown = { ...flight, leg: { ...leg, aircraft: 'nobody-has-it' } };
    expect(requestOfFlight(unknown, undefined, ['ice-light']).aircraft).toBe('nobody-has-it');
  });
});

it('endsOfRoute is the first and the last word', () => {
  expect(endsOfRoute('  KPQI DCT KESTU DCT CYZV ')).toEqual({ from: 'KPQI', to: 'CYZV' });
});
