/** From the cursor and a few taps to a report that the reader of reports reads back. */
import { describe, expect, it } from 'vitest';
import {
  iceChoiceOf,
  NO_FIELDS,
  type ReportFields,
  reportEntryOf,
  reportPlaceAt,
} from '../../../web/src/flight/report-draft.ts';
import { composePirep } from '../../../worker/formats/pilot-reports/compose.ts';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { at, briefIn } from './deck-brief.ts';

const BEFORE = Date.UTC(2026, 0, 14, 9);

async function placeAt(distanceNm: number, altitudeFt: number, nowMs = BEFORE) {
  const brief = await briefIn('deck');
  return reportPlaceAt(brief, at(brief, 9000), { distanceNm, altitudeFt, nowMs })!;
}

function read(text: string, nearMs: number) {
  const [report] = [...readPilotReports(text, { referenceMs: nearMs + 60_000, fixes: () => [] })];
  if (report?.kind !== 'pilot-report') throw new Error(JSON.stringify(report));
  return report;
}

async function composed(fields: Partial<ReportFields>, seen: Parameters<typeof reportEntryOf>[2]) {
  const place = await placeAt(40, 8960);
  const result = composePirep(reportEntryOf(place, { ...NO_FIELDS, ...fields }, seen));
  if (result.kind === 'faults') throw new Error(JSON.stringify(result.faults));
  return { ...result, place };
}
const NOTHING_SEEN = { temperatureC: undefined, signs: [] };

describe('place and time', () => {
  it('names the nearer end, and the radial from it: 40 NM east of AAAA is the magnetic east of there', async () => {
    const place = await placeAt(40, 8960);
    expect(place).toMatchObject({ station: 'AAAA', altitudeFt: 9000, phase: undefined });
    // Due east and a little north on the great circle; some 14 degrees west variation there in 2026 (World Magnetic Model).
    expect(place.place).toMatchObject({ kind: 'radial', identifier: 'AAAA', distanceNm: 40 });
    const { radialDeg } = place.place as { radialDeg: number };
    expect(radialDeg).toBeGreaterThan(100);
    expect(radialDeg).toBeLessThan(107);
  });
  it('is over the fix within two miles of it', async () => {
    expect((await placeAt(1, 2000)).place).toEqual({ kind: 'fix', identifier: 'AAAA' });
  });
  it('is of now while the leg is flown, else of the plan', async () => {
    const underWay = Date.UTC(2026, 0, 14, 12, 20);
    expect((await placeAt(40, 9000, underWay)).timeMs).toBe(underWay);
    const planned = (await placeAt(40, 9000)).timeMs;
    expect(planned).toBeGreaterThan(Date.UTC(2026, 0, 14, 12));
    expect(planned).toBeLessThan(Date.UTC(2026, 0, 14, 12, 40));
  });
  it('tells climb and descent', async () => {
    expect((await placeAt(10, 4000)).phase).toBe('climb');
    expect((await placeAt(120, 4000)).phase).toBe('descent');
  });
});

describe('what is told', () => {
  it('nothing tapped is nothing told: no icing element at all, and nothing of the forecast', async () => {
    const { text } = await composed({}, NOTHING_SEEN);
    expect(text).not.toMatch(/\/IC|\/TA|\/SK/);
  });
  it('no ice met is told as such', async () => {
    const { text, place } = await composed({ ice: 'none' }, NOTHING_SEEN);
    expect(read(text, place.timeMs).icing).toMatchObject({
      kind: 'reported',
      layers: [{ heaviest: 'none' }],
    });
  });
  it('comes back through the reader: light rime between two heights, tops, the measured temperature', async () => {
    const { text, place } = await composed(
      { ice: 'light', kind: 'rime', fromFt: '6000', toFt: '9000', topsFt: '9500' },
      { temperatureC: -9.4, signs: [] },
    );
    const report = read(text, place.timeMs);
    expect(report.unread).toEqual([]);
    expect(report.icing).toMatchObject({
      layers: [{ heaviest: 'light', what: 'rime', band: { lowerFt: 6000, upperFt: 9000 } }],
    });
    expect(report.sky).toMatchObject({ layers: [{ top: { upperFt: 9500 } }] });
    expect(report.temperatureK! - 273.15).toBeCloseTo(-9, 1);
  });
  it('freezing rain and signs of large drops make it urgent, and stand in its remarks', async () => {
    const { text, isUrgent } = await composed(
      { weather: ['FZRA'] },
      { temperatureC: -2, signs: ['rain-or-splash'] },
    );
    expect(isUrgent).toBe(true);
    expect(text).toMatch(/ UUA .*\/WX FZRA.*\/RM SUPERCOOLED RAIN/);
  });
});

describe('the word for the ice', () => {
  const entry = { thicknessMm: 3, signs: [], isProtectionBehind: false };
  it('is severe where ice sits behind the protection or stays on it, at any rate (AIM 7-1-19)', () => {
    expect(iceChoiceOf(undefined, { ...entry, signs: ['ice-aft'] })).toBe('severe');
    expect(iceChoiceOf(undefined, { ...entry, isProtectionBehind: true })).toBe('severe');
  });
  it('is nobody’s where nothing was entered', () => {
    expect(iceChoiceOf(undefined, { ...entry, thicknessMm: 0 })).toBeUndefined();
  });
});
