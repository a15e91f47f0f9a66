import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

const PART_A =
  'TTAA 65123 00009 99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 88999 77999 31313 48108 81130=';
const PART_B = 'TTBB 6512/ 00009 00987 02112 11968 03506 22850 01230 21212 00987 06008 11951 07014=';

interface Answer {
  readonly stored: number;
  readonly soundings: { levels: { pressureHPa: number; temperatureC: number | null }[] }[];
}

async function post(text: string): Promise<Answer> {
  const place = 'latDeg=44.47&lonDeg=-73.15&elevationM=197&near=2026-01-15T12:00:00Z';
  const response = await fetch(`${instance.baseUrl}/api/soundings?${place}`, {
    method: 'POST',
    body: text,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  return (await response.json()) as Answer;
}

const pressures = (answer: Answer) => answer.soundings[0]?.levels.map(({ pressureHPa }) => pressureHPa);

describe('POST /api/soundings with TEMP', () => {
  it('joins parts that come one upload after the other, as bulletins do', async () => {
    expect(pressures(await post(PART_A))).toEqual([987, 925, 850]);
    expect(pressures(await post(PART_B))).toEqual([987, 968, 951, 925, 850]);
  });

  it('puts a correction in the place of what it corrects and keeps the other part', async () => {
    const answer = await post(`USXX01 XXXX 151200 CCA\n${PART_A.replace('01230', '03156')}`);
    expect(answer.stored).toBe(1);
    expect(pressures(answer)).toEqual([987, 968, 951, 925, 850]);
    expect(answer.soundings[0]?.levels.at(-1)?.temperatureC).toBe(-3.1);
  });

  it('keeps every part of uploads that run at the same time', async () => {
    const [a, b] = [PART_A, PART_B].map((text) => text.replaceAll('00009', '00008'));
    await Promise.all([post(a!), post(b!), post(a!), post(b!)]);
    expect(pressures(await post(a!))).toEqual([987, 968, 951, 925, 850]);
  });
});
