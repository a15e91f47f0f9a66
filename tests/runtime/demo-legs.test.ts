import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BandFeature, type Brief, briefSchema } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';

interface DemoLeg {
  readonly id: string;
  readonly request: BriefRequest;
}
const legs = (
  JSON.parse(readFileSync(new URL('../../sample-soundings/legs.json', import.meta.url), 'utf8')) as {
    legs: DemoLeg[];
  }
).legs;

let instance: TestInstance;
beforeAll(async () => {
  instance = await startLocalInstance();
});
afterAll(() => instance.stop());

async function briefText(request: BriefRequest): Promise<string> {
  const response = await fetch(`${instance.baseUrl}/api/brief`, {
    method: 'POST',
    body: JSON.stringify(request),
  });
  expect(response.headers.get('content-type')).toBe('application/geo+json');
  return response.text();
}

const bandsOf = (answer: Brief) =>
  answer.features.filter((each): each is BandFeature => each.properties.kind === 'icing-band');

describe('every demo leg', () => {
  it.each(legs.map((leg) => [leg.id, leg] as const))(
    '%s answers to the contract, with caution and data age',
    async (_id, leg) => {
      const answer = briefSchema.parse(JSON.parse(await briefText(leg.request)));
      expect(answer.brief.cautions.join(' ')).toContain('pilot in command');
      expect(answer.brief.data.length).toBeGreaterThan(0);
      expect(answer.brief.data.every((each) => each.invented)).toBe(true);
    },
  );

  it.each(legs.map((leg) => [leg.id, leg] as const))(
    '%s is byte-identical when asked again',
    async (_id, leg) => {
      expect(await briefText(leg.request)).toBe(await briefText(leg.request));
    },
  );

  it.each(legs.map((leg) => [leg.id, leg] as const))(
    '%s has bands that tile the curtain: no gap, no overlap',
    async (_id, leg) => {
      const answer = JSON.parse(await briefText(leg.request)) as Brief;
      const curtain = answer.brief.curtain;
      if (curtain === undefined) throw new Error('the demo legs ask for the curtain');
      const bands = bandsOf(answer).map((band) => band.properties);
      const lowestFt = curtain.lowestFt;
      const lengthNm = answer.brief.leg.distanceNm;
      const area = bands.reduce((sum, b) => sum + (b.toNm - b.fromNm) * (b.upperFt - b.lowerFt), 0);
      const whole = lengthNm * curtain.cellCount * curtain.cellDepthFt;
      expect(Math.abs(area - whole) / whole).toBeLessThan(1e-3);
      for (const distanceNm of curtain.distanceNm.slice(1, -1)) {
        for (let cell = 0; cell < curtain.cellCount; cell += 1) {
          const altitudeFt = lowestFt + (cell + 0.5) * curtain.cellDepthFt;
          const holding = bands.filter(
            (b) =>
              b.fromNm <= distanceNm &&
              distanceNm < b.toNm &&
              b.lowerFt < altitudeFt &&
              altitudeFt < b.upperFt,
          );
          expect(holding, `${distanceNm} NM ${altitudeFt} ft`).toHaveLength(1);
        }
      }
    },
  );

  it.each(legs.map((leg) => [leg.id, leg] as const))(
    '%s draws a cell as unknown exactly when the curtain says so',
    async (_id, leg) => {
      const answer = JSON.parse(await briefText(leg.request)) as Brief;
      const curtain = answer.brief.curtain;
      if (curtain === undefined) throw new Error('the demo legs ask for the curtain');
      const bands = bandsOf(answer).map((band) => band.properties);
      let compared = 0;
      for (let point = 1; point < curtain.pointCount - 1; point += 1) {
        for (let cell = 0; cell < curtain.cellCount; cell += 1) {
          const altitudeFt = curtain.lowestFt + (cell + 0.5) * curtain.cellDepthFt;
          const distanceNm = curtain.distanceNm[point]!;
          const band = bands.find(
            (b) =>
              b.fromNm <= distanceNm &&
              distanceNm < b.toNm &&
              b.lowerFt < altitudeFt &&
              altitudeFt < b.upperFt,
          );
          expect(band?.state).toBe(curtain.stateWords[curtain.state[point * curtain.cellCount + cell]!]);
          compared += 1;
        }
      }
      expect(compared).toBeGreaterThan(500);
    },
  );
});
