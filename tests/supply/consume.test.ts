import { beforeEach, describe, expect, it } from 'vitest';
import type { SupplyHour, SupplyRepository } from '../../worker/sources/supply.ts';
import { consume, consumeDead, type QueueMessage } from '../../worker/supply/consume.ts';
import type { IngestOutcome } from '../../worker/supply/ingest-hour.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const HOUR: SupplyHour = { modelId: 'gfs-0p25', runMs: Date.UTC(2026, 0, 15), forecastHour: 6 };
const NOW = Date.UTC(2026, 0, 15, 5);

/** A message that notes what is done with it. */
function messageOf(body: unknown, attempts = 1): QueueMessage & { readonly fate: string[] } {
  const fate: string[] = [];
  return {
    body,
    attempts,
    fate,
    ack: () => fate.push('ack'),
    retry: ({ delaySeconds }) => fate.push(`again in ${delaySeconds} s`),
  };
}

let lines: string[];
beforeEach(() => {
  lines = [];
});
const log = (line: string) => lines.push(line);
const run = (messages: QueueMessage[], ingest: (hour: SupplyHour) => Promise<IngestOutcome>) =>
  consume(messages, { ingest, log });

describe('consume', () => {
  it.each(['stored', 'known', 'late', 'dead'] as const)('%s: done with the message', async (outcome) => {
    const message = messageOf(HOUR);
    await run([message], async () => outcome);
    expect(message.fate).toEqual(['ack']);
  });

  it('busy: it comes again when the other consumer is done or its lease is over', async () => {
    const message = messageOf(HOUR);
    await run([message], async () => 'busy');
    expect(message.fate).toEqual(['again in 300 s']);
  });

  it('what fails comes again, later each time and never later than a quarter of an hour', async () => {
    const waits: string[] = [];
    for (const attempts of [1, 2, 3, 6, 20]) {
      const message = messageOf(HOUR, attempts);
      await run([message], () => Promise.reject(new Error('away')));
      waits.push(...message.fate);
    }
    expect(waits).toEqual([
      'again in 30 s',
      'again in 60 s',
      'again in 120 s',
      'again in 900 s',
      'again in 900 s',
    ]);
    expect(lines[0]).toBe('supply: gfs-0p25 2026-01-15T00Z +6 h: away');
  });

  it.each([
    [undefined],
    ['text'],
    [{}],
    [{ ...HOUR, modelId: 'toString' }],
    [{ ...HOUR, forecastHour: 1.5 }],
    [{ ...HOUR, runMs: Number.NaN }],
  ])('%j names no hour: dropped with a word, and the others go on', async (body) => {
    const [odd, good] = [messageOf(body), messageOf(HOUR)];
    const ingested: SupplyHour[] = [];
    await run([odd, good], async (hour) => {
      ingested.push(hour);
      return 'stored';
    });
    expect([odd.fate, good.fate]).toEqual([['ack'], ['ack']]);
    expect(ingested).toEqual([HOUR]);
    expect(lines[0]).toContain('dropped a message that names no hour');
  });

  it('takes one hour after the other: two would not fit into one isolate', async () => {
    let working = 0;
    let most = 0;
    await run([messageOf(HOUR), messageOf({ ...HOUR, forecastHour: 7 })], async () => {
      working += 1;
      most = Math.max(most, working);
      await new Promise((resolve) => setTimeout(resolve, 5));
      working -= 1;
      return 'stored';
    });
    expect(most).toBe(1);
  });
});

describe('consumeDead', () => {
  let supply: SupplyRepository;
  beforeEach(() => {
    supply = createMemoryStores().supply;
  });
  const bury = (message: QueueMessage) => consumeDead([message], { supply, nowMs: () => NOW, log });

  const end = async (state: 'failed' | 'stored', detail: string) => {
    const claim = (await supply.claim(HOUR, { leaseMs: 1, nowMs: NOW - 1 }))!;
    await supply.settle(claim, { state, detail, nowMs: NOW - 1 });
  };

  it('remembers what was given up with its last fault', async () => {
    await end('failed', 'found 503, expected 206');
    const message = messageOf(HOUR);
    await bury(message);
    expect(message.fate).toEqual(['ack']);
    expect(lines).toEqual(['supply: gave up gfs-0p25 2026-01-15T00Z +6 h: found 503, expected 206']);
    expect(await supply.find(HOUR)).toMatchObject({
      state: 'dead',
      detail: 'found 503, expected 206',
      updatedMs: NOW,
    });
  });

  it('leaves alone an hour that another message has brought meanwhile', async () => {
    await end('stored', '153 fields');
    await bury(messageOf(HOUR));
    expect((await supply.find(HOUR))?.state).toBe('stored');
    expect(lines).toEqual([]);
  });

  it('buries nonsense without a trace', async () => {
    const message = messageOf('nonsense');
    await bury(message);
    expect(message.fate).toEqual(['ack']);
    expect(await supply.since(0)).toEqual([]);
  });
});
