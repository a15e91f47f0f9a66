/** Messages of the supply's queue and of its dead letters. */
import * as z from 'zod/mini';
import { OPEN_MODELS, type OpenModelId } from '../sources/open-models.ts';
import { nameOf, type SupplyHour, type SupplyRepository } from '../sources/supply.ts';
import { type IngestOutcome, LEASE_MS } from './ingest-hour.ts';

/** What a message holds. Anything else is dropped with a word: repeating would not mend it. */
const messageSchema = z.object({
  modelId: z.enum(Object.keys(OPEN_MODELS) as [OpenModelId, ...OpenModelId[]]),
  runMs: z.int(),
  forecastHour: z.int().check(z.minimum(0), z.maximum(400)),
});

/** One message as the platform hands it over. */
export interface QueueMessage {
  readonly body: unknown;
  readonly attempts: number;
  ack(): void;
  retry(options: { readonly delaySeconds: number }): void;
}

const FIRST_WAIT_S = 30;
const GREATEST_WAIT_S = 900;
/** While another consumer has the hour; if that one crashed, its lease ends meanwhile. */
const BUSY_WAIT_S = 300;

export interface ConsumeDeps {
  readonly ingest: (hour: SupplyHour) => Promise<IngestOutcome>;
  readonly log: (line: string) => void;
}

/** Messages one after the other: an hour takes most of an isolate's memory. What fails goes back to the queue, later each time. */
export async function consume(
  messages: readonly QueueMessage[],
  { ingest, log }: ConsumeDeps,
): Promise<void> {
  for (const message of messages) {
    const hour = hourOf(message.body);
    if (hour === undefined) {
      log(`supply: dropped a message that names no hour: ${JSON.stringify(message.body)?.slice(0, 200)}`);
      message.ack();
      continue;
    }
    try {
      const outcome = await ingest(hour);
      log(`supply: ${nameOf(hour)}: ${outcome}`);
      if (outcome === 'busy') message.retry({ delaySeconds: BUSY_WAIT_S });
      else message.ack();
    } catch (error) {
      log(`supply: ${nameOf(hour)}: ${error instanceof Error ? error.message : String(error)}`);
      message.retry({ delaySeconds: Math.min(GREATEST_WAIT_S, FIRST_WAIT_S * 2 ** (message.attempts - 1)) });
    }
  }
}

/** What the queue gave up: remembered with its last fault, for people to see; the schedule asks for it again later. */
export async function consumeDead(
  messages: readonly QueueMessage[],
  { supply, nowMs, log }: { supply: SupplyRepository; nowMs: () => number; log: (line: string) => void },
): Promise<void> {
  for (const message of messages) {
    const hour = hourOf(message.body);
    if (hour !== undefined) {
      // Another message may have brought the hour meanwhile, or a consumer may be at it.
      const row = await supply.bury(hour, { leaseMs: LEASE_MS, nowMs: nowMs() });
      if (row !== undefined) log(`supply: gave up ${nameOf(hour)}: ${row.detail || 'without a word'}`);
    }
    message.ack();
  }
}

function hourOf(body: unknown): SupplyHour | undefined {
  const parsed = messageSchema.safeParse(body);
  return parsed.success ? parsed.data : undefined;
}
