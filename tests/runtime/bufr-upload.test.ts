import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { uploadFile } from '../../worker/cli/upload.ts';
import { joined, SURFACE, type WrittenLevel, writeBufrAscent } from '../support/bufr-ascent.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

const GROUND: WrittenLevel = {
  seconds: 0,
  flags: SURFACE,
  hPa: 961,
  heightM: 397,
  temperatureC: -2.8,
  dewPointC: -3.5,
  windDeg: 160,
  windMps: 5,
};

/** A level every second and 0.3 hPa: 2,000 of them on a straight line but for a moist layer 60 m deep near 700 hPa. */
function highResolution(): WrittenLevel[] {
  return Array.from({ length: 2000 }, (_, second) => {
    const hPa = 961 - 0.3 * second;
    const temperatureC = 5 - 0.025 * second;
    const isMoist = hPa < 703 && hPa > 698;
    return {
      ...GROUND,
      seconds: second,
      flags: second === 0 ? SURFACE : 0,
      hPa,
      heightM: 397 + 3 * second,
      temperatureC,
      dewPointC: temperatureC - (isMoist ? 0.1 : 6),
    };
  });
}

interface Answer {
  readonly stored: number;
  readonly refused: { station: string; reason: string }[];
  readonly rejected: { line: number; reason: string }[];
  readonly soundings: {
    station: string;
    latDeg: number;
    timeUtc: string;
    levels: { pressureHPa: number; temperatureC: number; dewPointC: number }[];
    rejected: { line: number; reason: string }[];
  }[];
}

async function post(body: Uint8Array): Promise<{ status: number; answer: Answer }> {
  const response = await fetch(`${instance.baseUrl}/api/soundings`, {
    method: 'POST',
    body: body as BodyInit,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  return { status: response.status, answer: (await response.json()) as Answer };
}

describe('POST /api/soundings with BUFR', () => {
  it('stores the ascents of all messages, told level by level, and says which message was refused', async () => {
    const first = writeBufrAscent({ levels: [GROUND, { ...GROUND, seconds: 60, flags: 0, hPa: 925 }] });
    const second = writeBufrAscent({ station: 649, levels: [GROUND] });
    const broken = first.slice();
    broken[first.length - 1] = 0;
    const { status, answer } = await post(joined('IUSD15 ENMI 260000\r\r\n', first, broken, second));
    expect(status).toBe(201);
    expect(answer.stored).toBe(2);
    expect(answer.soundings.map(({ station, levels }) => [station, levels.length])).toEqual([
      ['72659', 2],
      ['72649', 1],
    ]);
    expect(answer.soundings[0]).toMatchObject({ latDeg: 45.45, timeUtc: '2024-02-25T23:05:30Z' });
    expect(answer.rejected).toEqual([
      { line: 2, reason: expect.stringContaining(`message at offset ${21 + first.length}: BUFR end mark`) },
    ]);
  });

  it('keeps a thinned ascent, its moist layer whole, and says how many levels were left out', async () => {
    const { status, answer } = await post(writeBufrAscent({ station: 101, levels: highResolution() }));
    expect(status).toBe(201);
    const [sounding] = answer.soundings;
    expect(sounding!.levels.length).toBeLessThan(100);
    const moist = sounding!.levels.filter(({ temperatureC, dewPointC }) => temperatureC - dewPointC < 0.2);
    expect(moist[0]!.pressureHPa).toBeCloseTo(703, 0);
    expect(moist.at(-1)!.pressureHPa).toBeCloseTo(698, 0);
    expect(sounding!.rejected.map(({ reason }) => reason).join()).toMatch(/levels: 19\d\d of 2000 left out/);
    const sources = (await (await fetch(`${instance.baseUrl}/api/sources`)).json()) as {
      soundings: { station: string; levels: number; format: string }[];
    };
    expect(sources.soundings.find(({ station }) => station === '72101')).toMatchObject({
      levels: sounding!.levels.length,
      format: 'fm-94-bufr',
    });
  });

  it('refuses an ascent without a time, and a file without any ascent', async () => {
    const timeless = writeBufrAscent({ launch: [], levels: [GROUND] });
    const { status, answer } = await post(timeless);
    expect(status).toBe(422);
    expect(answer.refused).toEqual([
      { station: '72659', reason: 'time: found none, expected a date and an hour' },
    ]);
    const cut = await post(timeless.subarray(0, 60));
    expect(cut.status).toBe(422);
    expect(cut.answer.rejected).toEqual([
      { line: 1, reason: expect.stringContaining('found 60 bytes to the end of the file') },
    ]);
  });

  it('takes a file from the ingest command', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'rimeway-upload-'));
    try {
      const path = join(folder, 'ascent.bufr');
      writeFileSync(path, writeBufrAscent({ station: 202, levels: [GROUND] }));
      const target = { baseUrl: instance.baseUrl, key: instance.operatorKey };
      const { status, answer } = await uploadFile(path, target);
      expect([status, answer.stored]).toEqual([201, 1]);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
