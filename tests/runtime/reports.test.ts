/** Reports in the real service: who may send them, what comes back, and what becomes of odd texts. The texts are invented. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { callFor, uploadFile } from '../../worker/cli/upload.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
let folder: string;
beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
  folder = mkdtempSync(join(tmpdir(), 'rimeway-reports-'));
});
afterAll(async () => {
  rmSync(folder, { recursive: true });
  await instance.stop();
});

interface Answer {
  readonly stored: number;
  readonly rejectedCount: number;
  readonly rejected: readonly { line: number; reason: string; text: string }[];
  readonly reports: readonly {
    kind: string;
    isPlaced: boolean;
    ice: readonly { severity: string; sentence: string }[];
  }[];
  readonly detail?: string;
  readonly field?: string;
}

const NEAR = '2026-01-14T12:00:00Z';

async function post(text: string, { near = NEAR, key = instance.operatorKey } = {}) {
  const headers: Record<string, string> = key === '' ? {} : { authorization: `Bearer ${key}` };
  const response = await fetch(`${instance.baseUrl}/api/reports?near=${near}`, {
    method: 'POST',
    body: text,
    headers,
  });
  return { status: response.status, answer: (await response.json()) as Answer };
}

interface Sentence {
  readonly properties: { readonly kind: string; readonly sentence?: string };
}

/** Sentences of the reports and warnings on KBTV to KBGR at noon. */
async function toldOnLeg(): Promise<string[]> {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify({
      route: 'KBTV KBGR',
      departure: { atUtc: NEAR },
      aircraft: 'generic-fluid-turboprop',
    }),
    headers: { 'content-type': 'application/json' },
  });
  const brief = (await response.json()) as { features: readonly Sentence[] };
  return brief.features.flatMap(({ properties }) =>
    properties.kind === 'report' || properties.kind === 'warning' ? [properties.sentence!] : [],
  );
}

const metar = (station: string, time = '141150Z') =>
  `METAR ${station} ${time} 09010KT 2SM -FZRA OVC010 M02/M03 A2990=`;

describe('POST /api/reports', () => {
  it('answers what was read, piece by piece, and what was not with the reason', async () => {
    const text = `${metar('KBGR')}\nKBTV UA /OV KBTV/TM 1150/FL080/TP ZZZZ/IC MOD RIME=\nMETAR KBTV NONSENSE=\n`;
    const { status, answer } = await post(text);
    expect(status).toBe(201);
    expect(answer).toMatchObject({
      stored: 2,
      rejectedCount: 1,
      rejected: [{ line: 3 }],
      reports: expect.arrayContaining([
        expect.objectContaining({
          kind: 'metar',
          isPlaced: true,
          ice: [
            expect.objectContaining({
              severity: 'large-drops',
              sentence: 'KBGR reports freezing rain at 11:50 UTC',
            }),
          ],
        }),
        expect.objectContaining({ kind: 'pirep', isPlaced: true }),
      ]),
    });
    expect(await toldOnLeg()).toEqual(
      expect.arrayContaining([
        'KBGR reports freezing rain at 11:50 UTC',
        'Pilot report: moderate rime ice 8,000 ft at 11:50 UTC',
      ]),
    );
  });

  it('needs the key of an operator', async () => {
    expect((await post(metar('KBGR'), { key: '' })).status).toBe(401);
    expect((await post(metar('KBGR'), { key: 'nobody-has-this-key-here' })).status).toBe(401);
  });

  it('refuses a text that is too long before it is read', async () => {
    const { status, answer } = await post('A'.repeat(5 * 1024 * 1024));
    expect([status, answer.field]).toEqual([422, 'body']);
    expect(answer.detail).toMatch(/expected at most 4194304 bytes/);
  });

  it.each(['', 'GOOD MORNING', '\u0000\u0001\u0002'])(
    'answers 422 for %j, which holds no report',
    async (text) => {
      expect((await post(text)).status).toBe(422);
    },
  );

  it('refuses a reference time that is none', async () => {
    expect((await post(metar('KBGR'), { near: 'yesterday' })).answer.field).toBe('near');
  });

  it('takes text with the marks of SQL and HTML for what it is', async () => {
    const odd = `METAR KBTV 141150Z 09010KT 2SM -FZRA OVC010 M02/M03 A2990 RMK '); DROP TABLE reports;-- <script>alert(1)</script>=`;
    const { status } = await post(odd);
    expect(status).toBe(201);
    const told = await toldOnLeg();
    expect(told).toContain('KBTV reports freezing rain at 11:50 UTC');
    expect(told.join()).not.toMatch(/script|DROP/i);
  });

  it('keeps every report of two uploads at once, and each once', async () => {
    const stations = ['KPWM', 'KBHB', 'KMHT', 'KLEB', 'KMPV', 'KBML'];
    const both = stations.map((station) => metar(station, '141151Z')).join('\n');
    const countOf = async () => {
      const response = await fetch(`${instance.baseUrl}/api/sources`);
      const { reports } = (await response.json()) as {
        reports: { kind: string; count: number; newestUtc: string }[];
      };
      return reports.find(({ kind }) => kind === 'metar')!;
    };
    const before = await countOf();
    await Promise.all([post(both), post(both), post(both)]);
    const after = await countOf();
    expect(after).toEqual({
      kind: 'metar',
      count: before.count + stations.length,
      newestUtc: '2026-01-14T11:51:00.000Z',
    });
  });

  it('finds what crosses the antimeridian from both of its sides', async () => {
    const warning =
      'PAZA SIGMET 7 VALID 141100/141500 PANC-\nPAZA ANCHORAGE FIR SEV ICE FCST WI N50 E178 - N50 W178 - N54 W178 - N54 E178 - N50 E178 FL080/140 STNR NC=';
    expect((await post(warning)).answer.stored).toBe(1);
    const response = await fetch(`${instance.baseUrl}/api/brief`, {
      method: 'POST',
      body: JSON.stringify({
        route: {
          type: 'LineString',
          coordinates: [
            [177, 52],
            [178.5, 52],
          ],
        },
        departure: { atUtc: NEAR },
        aircraft: 'generic-fluid-turboprop',
      }),
      headers: { 'content-type': 'application/json' },
    });
    expect(JSON.stringify(await response.json())).toContain('SIGMET 7');
    expect((await toldOnLeg()).join()).not.toContain('SIGMET 7');
  });

  it('are deleted a day after their validity, with the schedule', async () => {
    // All of these are of January 2026, long over.
    await instance.schedule();
    expect(await toldOnLeg()).toEqual([]);
  });
});

describe('npm run ingest', () => {
  const fileOf = (name: string, text: string) => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };

  it.each([
    ['/api/reports', metar('KBGR')],
    ['/api/reports', 'TAF KBGR 141130Z 1412/1512 09010KT P6SM BKN015='],
    ['/api/reports', 'SAUS70 KWBC 141200\nMETAR KBGR 141153Z 09010KT 10SM OVC010 M02/M03 A2990='],
    ['/api/reports', 'KBTV UA /OV KBTV/TM 1150/FL080/TP ZZZZ/IC MOD RIME='],
    ['/api/soundings', 'USUS01 KWBC 141200\nTTAA 64121 72712 99987 02112 06008='],
    ['/api/soundings', '#USM00072712 2026 01 14 12 1105   10 ncdc-gts ncdc-gts  468683  -680172\n'],
    ['/api/soundings', 'HELLO'],
    ['/api/places', 'name,latDeg,lonDeg,heightM\n'],
  ])('sends to %s what begins as %j', (call, text) => {
    expect(callFor(fileOf('file', text))).toBe(call);
  });

  it('loads a file of reports', async () => {
    const path = fileOf('reports.txt', `${metar('KBGR')}\n`);
    const target = { baseUrl: instance.baseUrl, key: instance.operatorKey, query: { near: NEAR } };
    const { status, answer } = await uploadFile(path, target);
    expect([status, answer.stored]).toEqual([201, 1]);
  });
});
