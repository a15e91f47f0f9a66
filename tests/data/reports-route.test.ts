/** Real bulletins through the service: every text answered for, and the freezing weather of a day met by legs. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { readCollective, say } from './metar-collective.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance({ demo: false });
});
afterAll(() => instance.stop());

interface Answer {
  readonly stored: number;
  readonly rejectedCount: number;
}

async function post(file: string, near: string): Promise<Answer> {
  const response = await fetch(`${instance.baseUrl}/api/reports?near=${near}`, {
    method: 'POST',
    body: readFileSync(join(directory!, file)),
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  expect(response.status).toBe(201);
  return (await response.json()) as Answer;
}

async function toldOn(route: string, atUtc: string): Promise<string[]> {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify({ route, departure: { atUtc }, aircraft: 'generic-fluid-turboprop' }),
    headers: { 'content-type': 'application/json' },
  });
  const brief = (await response.json()) as {
    features: { properties: { kind: string; severity?: string; sentence?: string } }[];
  };
  return brief.features.flatMap(({ properties: { kind, severity, sentence } }) =>
    kind === 'report' || kind === 'warning' ? [`${severity}: ${sentence}`] : [],
  );
}

describe('the collective of 2020-01-06', () => {
  test('every text is stored or rejected with its reason, and each report is kept once', async () => {
    const { items, reports } = readCollective();
    const began = performance.now();
    const answer = await post('reports/metar/collective-2020010600.wmo', '2020-01-06T00:00:00Z');
    say(
      `stored ${answer.stored}, rejected ${answer.rejectedCount}, in ${Math.round(performance.now() - began)} ms`,
    );
    expect(answer.stored + answer.rejectedCount).toBe(items.length);
    const response = await fetch(`${instance.baseUrl}/api/sources`);
    const { reports: counts } = (await response.json()) as { reports: { kind: string; count: number }[] };
    const distinct = new Set(
      reports.map(({ kind, station, timeMs, text }) => `${kind} ${station} ${timeMs} ${text}`),
    );
    expect(counts.reduce((sum, { count }) => sum + count, 0)).toBe(distinct.size);
  });

  test('legs to fields that report freezing drizzle are told', async () => {
    // By eye in the file: EFJY 060050Z ... -FZDZ; EFOU reports FZUP of the hour before.
    const told = await toldOn('EFOU EFJY', '2020-01-06T00:50:00Z');
    expect(told).toContain('large-drops: EFJY reports freezing drizzle at 00:50 UTC');
    expect(told).toContain('large-drops: EFOU reports recent freezing precipitation at 00:50 UTC');
  });

  test('a leg over warm islands is told of nothing', async () => {
    expect(await toldOn('PHNL PHOG', '2020-01-06T00:50:00Z')).toEqual([]);
  });
});

test('bulletins of pilot reports: as many reports and refusals as a reader counts', async () => {
  let [stored, rejected] = [0, 0];
  const names = readdirSync(join(directory!, 'reports/pirep')).filter((name) => name.startsWith('bulletin-'));
  for (const name of names) {
    const answer = await post(`reports/pirep/${name}`, '2015-01-15T00:00:00Z');
    stored += answer.stored;
    rejected += answer.rejectedCount;
  }
  expect([names.length, stored, rejected]).toEqual([7, 24, 1]);
  const reports = (await (await fetch(`${instance.baseUrl}/api/sources`)).json()) as {
    reports: { kind: string; count: number }[];
  };
  expect(reports.reports.find(({ kind }) => kind === 'pirep')?.count).toBe(24);
});
