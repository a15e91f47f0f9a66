/** From the cursor and a few taps to a report that the reader of reports reads back. */
import { describe, expect, it } from 'vitest';
import {
  iceChoiceOf,
  isLighter,
  NO_FIELDS,
  type ReportFields,
  reportEntryOf,
  reportPlaceAt,
  type SeenForReport,
} from '../../../web/src/flight/report-draft.ts';
import { hereOf, judgeHere, type SeenEntry } from '../../../web/src/flight/seen-here.ts';
import { composePirep } from '../../../worker/formats/pilot-reports/compose.ts';
import { readPilotReports } from '../../../worker/formats/pilot-reports/read-pilot-reports.ts';
import { AIRCRAFT, at, briefIn } from './deck-brief.ts';

/** The leg leaves at 12 and takes some 45 minutes. */
const UNDER_WAY = Date.UTC(2026, 0, 14, 12, 20);

async function placeAt(distanceNm: number, nowMs = UNDER_WAY, isInvented = false) {
  const brief = await briefIn('deck');
  const here = hereOf(brief, at(brief, 9000), { distanceNm, profile: AIRCRAFT })!;
  return reportPlaceAt(brief, { here, nowMs, isInvented })!;
}

function read(text: string, nearMs: number) {
  const [report] = [...readPilotReports(text, { referenceMs: nearMs + 60_000, fixes: () => [] })];
  if (report?.kind !== 'pilot-report') throw new Error(JSON.stringify(report));
  return report;
}

const NOTHING_SEEN: SeenForReport = { temperatureC: undefined, signs: [], isIceSeen: false };

async function draft(fields: Partial<ReportFields>, seen: SeenForReport = NOTHING_SEEN) {
  return reportEntryOf(await placeAt(45), { ...NO_FIELDS, ...fields }, seen);
}
async function composed(fields: Partial<ReportFields>, seen?: SeenForReport) {
  const made = await draft(fields, seen);
  if (made.kind === 'faults') throw new Error(JSON.stringify(made.faults));
  const result = composePirep(made.entry);
  if (result.kind === 'faults') throw new Error(JSON.stringify(result.faults));
  return { ...result, timeMs: made.entry.timeMs };
}
async function faultsOf(fields: Partial<ReportFields>, seen?: SeenForReport): Promise<string[]> {
  const made = await draft(fields, seen);
  const result = made.kind === 'faults' ? made : composePirep(made.entry);
  return result.kind === 'faults' ? result.faults.map(({ field }) => field) : [];
}

describe('place and time', () => {
  it('names the nearer end, and the radial from it: 45 NM east of AAAA is the magnetic east of there', async () => {
    const place = await placeAt(45);
    expect(place).toMatchObject({ station: 'AAAA', plannedFt: 9000, plannedPhase: undefined });
    // Due east and a little north on the great circle; some 14 degrees west variation there in 2026 (World Magnetic Model).
    expect(place.place).toMatchObject({ kind: 'radial', identifier: 'AAAA', distanceNm: 45 });
    const { radialDeg } = place.place as { radialDeg: number };
    expect(radialDeg).toBeGreaterThan(100);
    expect(radialDeg).toBeLessThan(107);
  });
  it('is over the fix within two miles of it', async () => {
    expect((await placeAt(1)).place).toEqual({ kind: 'fix', identifier: 'AAAA' });
  });
  it('is of now while it is flown, also when it is late, and of the plan for ice further back', async () => {
    expect((await placeAt(100)).timeMs).toBe(UNDER_WAY);
    const late = Date.UTC(2026, 0, 14, 13, 30);
    expect((await placeAt(100, late)).timeMs).toBe(late);
    const back = await placeAt(10, Date.UTC(2026, 0, 14, 12, 35));
    expect(back.timeMs).toBe(back.plannedMs);
  });
  it('is asked for before the departure and long after the arrival, and is of the plan in an invented scenario', async () => {
    expect((await placeAt(45, Date.UTC(2026, 0, 14, 9))).timeMs).toBeUndefined();
    expect((await placeAt(45, Date.UTC(2026, 0, 15, 9))).timeMs).toBeUndefined();
    const invented = await placeAt(45, Date.UTC(2026, 5, 1), true);
    expect(invented.timeMs).toBe(invented.plannedMs);
  });
  it('a typed time is of the day of the flight, over midnight too, and nonsense is a fault', async () => {
    expect((await composed({ time: '1217' })).timeMs).toBe(Date.UTC(2026, 0, 14, 12, 17));
    expect((await composed({ time: '2355' })).timeMs).toBe(Date.UTC(2026, 0, 13, 23, 55));
    expect(await faultsOf({ time: '2560' })).toEqual(['time']);
  });
  it('tells climb and descent of the planned height alone', async () => {
    expect((await placeAt(10)).plannedPhase).toBe('climb');
    expect((await placeAt(120)).plannedPhase).toBe('descent');
  });
});

describe('what is told', () => {
  it('nothing tapped is nothing told: no ice, no temperature, no sky, and no height that nobody said', async () => {
    const { text } = await composed({});
    expect(text).not.toMatch(/\/IC|\/TA|\/SK/);
    expect(text).toContain('/FLUNKN');
    expect((await composed({ altitudeFt: '9,000' })).text).toContain('/FL090');
  });
  it('no ice met is told as such, and not beside ice or its signs', async () => {
    const { text, timeMs } = await composed({ ice: 'none' });
    expect(read(text, timeMs).icing).toMatchObject({ kind: 'reported', layers: [{ heaviest: 'none' }] });
    expect(await faultsOf({ ice: 'none' }, { ...NOTHING_SEEN, signs: ['ice-aft'] })).toEqual(['icing']);
    expect(await faultsOf({ ice: 'none' }, { ...NOTHING_SEEN, isIceSeen: true })).toEqual(['icing']);
  });
  it('comes back through the reader: light rime between two heights, tops, the measured temperature', async () => {
    const { text, timeMs } = await composed(
      { ice: 'light', kind: 'rime', fromFt: '6000', toFt: 'FL090', topsFt: '9 500' },
      { ...NOTHING_SEEN, temperatureC: -9.4 },
    );
    const report = read(text, timeMs);
    expect(report.unread).toEqual([]);
    expect(report.icing).toMatchObject({
      layers: [{ heaviest: 'light', what: 'rime', band: { lowerFt: 6000, upperFt: 9000 } }],
    });
    expect(report.sky).toMatchObject({ layers: [{ top: { upperFt: 9500 } }] });
    expect(report.temperatureK! - 273.15).toBeCloseTo(-9, 1);
  });
  it.each([
    ['icing.upperFt', { ice: 'light', fromFt: '5000', toFt: '6000-8000' }],
    ['icing.lowerFt', { ice: 'light', fromFt: 'x' }],
    ['sky.0.topFt', { topsFt: 'abc' }],
    ['altitudeFt', { altitudeFt: '9050 or so' }],
    ['sky.0.baseFt', { basesFt: '2500' }],
  ] as const)(
    '%s that cannot be read, or says too little, is a fault and never left out',
    async (field, fields) => {
      expect(await faultsOf(fields)).toEqual([field]);
    },
  );
  it('freezing rain and signs of large drops make it urgent, and stand in its remarks', async () => {
    const seen = { temperatureC: -2, signs: ['rain-or-splash'] as const, isIceSeen: false };
    const { text, isUrgent } = await composed({ weather: ['FZRA'] }, seen);
    expect(isUrgent).toBe(true);
    expect(text).toMatch(/ UUA .*\/WX FZRA.*\/RM SUPERCOOLED RAIN/);
  });
});

describe('the word for the ice', () => {
  const ENTRY: SeenEntry = {
    part: 'rod',
    rodDiameterMm: 12,
    thicknessMm: 3,
    readingMm: 1,
    minutes: 10,
    gaugeC: undefined,
    fluidLeftL: undefined,
    signs: [],
    isProtectionBehind: false,
  };
  async function wordOf(change: Partial<SeenEntry>) {
    const brief = await briefIn('deck');
    const here = hereOf(brief, at(brief, 9000), { distanceNm: 32, profile: AIRCRAFT })!;
    const entry = { ...ENTRY, ...change };
    return iceChoiceOf(judgeHere(brief, here, entry), entry);
  }
  it('is severe where ice sits behind the protection or stays on it, at any rate (AIM 7-1-19)', async () => {
    expect(await wordOf({ signs: ['ice-aft'], thicknessMm: 0 })).toBe('severe');
    expect(await wordOf({ isProtectionBehind: true, thicknessMm: 0 })).toBe('severe');
  });
  it('is the rate on the wing where the wing was watched: 2 mm in 10 min is 0.47 in/h, light (AIM 7-1-19)', async () => {
    expect(await wordOf({ part: 'wing', thicknessMm: 2 })).toBe('light');
    // 5 mm in 10 min: 1.18 in/h.
    expect(await wordOf({ part: 'wing', thicknessMm: 5 })).toBe('moderate');
  });
  it('is the pilot’s where only the forecast’s temperature leads from the rod to the wing, or nothing was entered', async () => {
    expect(await wordOf({})).toBeUndefined();
    expect(await wordOf({ gaugeC: -6 })).toBeDefined();
    expect(await wordOf({ part: 'wing', thicknessMm: 0 })).toBeUndefined();
  });
  it('is never a model’s that has no word: more than cloud makes, or air too warm for ice', async () => {
    expect(await wordOf({ part: 'wing', thicknessMm: 60, minutes: 1 })).toBeUndefined();
    expect(await wordOf({ gaugeC: 10, thicknessMm: 1 })).toBeUndefined();
  });
  it('that is lighter than what was entered is known to be', () => {
    expect(isLighter('light', 'severe')).toBe(true);
    expect(isLighter('severe', 'light')).toBe(false);
    expect(isLighter('not-reported', undefined)).toBe(false);
  });
});
