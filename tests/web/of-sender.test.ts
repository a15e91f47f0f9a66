/** A shared brief's aircraft under the name of one that this device keeps: neither takes the other's place. */
import { afterEach, expect, it } from 'vitest';
import type { BriefRequest } from '../../web/src/contract.ts';
import { keptAircraft } from '../../web/src/device-aircraft.ts';
import { legTextOfShared } from '../../web/src/share/of-sender.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';

const [PROFILE] = builtInAircraft;
const MINE = { ...PROFILE!, id: 'mine' };
const request = (aircraft: BriefRequest['aircraft']) =>
  ({ route: 'AAAA BBBB', departure: { atUtc: '2026-01-14T11:30:00Z' }, aircraft }) as BriefRequest;
const idOf = (aircraft: BriefRequest['aircraft']) =>
  (JSON.parse(legTextOfShared(request(aircraft)).aircraft!) as { id: string }).id;

afterEach(() => {
  keptAircraft.value = [];
});

it('the sender’s figures get a name of their own where this device has others under theirs', () => {
  keptAircraft.value = [MINE];
  expect(idOf({ ...MINE, ceilingFt: MINE.ceilingFt - 1000 })).toBe('mine-shared');
  expect(idOf({ ...MINE, id: 'm'.repeat(60) }).length).toBeLessThanOrEqual(60);
});

it('the same figures keep their name, as do those that this device does not have', () => {
  expect(idOf(MINE)).toBe('mine');
  keptAircraft.value = [MINE];
  expect(idOf(MINE)).toBe('mine');
  expect(legTextOfShared(request('generic-fluid-turboprop')).aircraft).toBe('generic-fluid-turboprop');
});
