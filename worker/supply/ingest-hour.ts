/** One message of the queue: a forecast hour out of its bucket into the store. */
import type { Area } from '../env.ts';
import { SourceError } from '../errors.ts';
import {
  DEFAULT_OPEN_MODEL_SETTINGS,
  type OpenModelFile,
  openModelFile,
  openModelItems,
} from '../sources/open-model-file.ts';
import { OPEN_MODELS } from '../sources/open-models.ts';
import type { GridRepository, ObjectStore } from '../sources/ports.ts';
import type { RangedHttp } from '../sources/ranged-http.ts';
import { nameOf, type SupplyHour, type SupplyRepository } from '../sources/supply.ts';
import { type IngestedGrid, ingestItems } from '../store/ingest-grid.ts';

/** A consumer that has held an hour longer has crashed. */
export const LEASE_MS = 15 * 60_000;
/** Refused messages send the hour back to the queue; from this attempt on it is published as it is, and says what it lacks. */
const ATTEMPTS_FOR_WHOLE = 3;

/** Names of what has been done when an ingest may be interrupted; for tests that interrupt it there. */
export const INGEST_STEPS = ['claimed', 'index', 'fields', 'chunks', 'manifest', 'row', 'stored'] as const;
export type IngestStep = (typeof INGEST_STEPS)[number];

export interface IngestDeps {
  readonly supply: SupplyRepository;
  readonly objects: ObjectStore;
  readonly grids: GridRepository;
  readonly http: RangedHttp;
  readonly operator: string;
  readonly area: Area | undefined;
  /** In the place of the model's bucket. */
  readonly baseUrl?: string | undefined;
  readonly nowMs: () => number;
  /** Called when a step is done. */
  readonly reached?: (step: IngestStep) => Promise<void> | void;
}

/** stored: published now; known: it was before; late: not in the bucket yet; busy: another consumer has it. */
export type IngestOutcome = 'stored' | 'known' | 'late' | 'busy';

/**
 * @throws SourceError, or whatever the stores throw; the row then says so, and the queue may try again. Nothing of an
 *   hour that failed is visible.
 */
export async function ingestHour(deps: IngestDeps, hour: SupplyHour): Promise<IngestOutcome> {
  const before = await deps.supply.find(hour);
  if (before?.state === 'stored') return 'known';
  const claimed = await deps.supply.claim(hour, { leaseMs: LEASE_MS, nowMs: deps.nowMs() });
  if (claimed === undefined) return 'busy';
  await deps.reached?.('claimed');
  try {
    const detail = await fetchAndPublish(deps, hour, claimed.attempts);
    await deps.supply.mark([hour], 'stored', { detail, nowMs: deps.nowMs() });
    await deps.reached?.('stored');
    return 'stored';
  } catch (error) {
    const isLate = error instanceof SourceError && error.fault === 'not-there-yet';
    const detail = error instanceof Error ? error.message : String(error);
    await deps.supply.mark([hour], isLate ? 'late' : 'failed', { detail, nowMs: deps.nowMs() });
    if (isLate) return 'late';
    throw error;
  }
}

async function fetchAndPublish(deps: IngestDeps, hour: SupplyHour, attempts: number): Promise<string> {
  const model = OPEN_MODELS[hour.modelId];
  const settings = DEFAULT_OPEN_MODEL_SETTINGS;
  const file = await openModelFile(deps.http, { ...hour, model, baseUrl: deps.baseUrl }, settings);
  await deps.reached?.('index');
  const isLastChance = attempts >= ATTEMPTS_FOR_WHOLE;
  const ingested = await ingestItems(
    openModelItems(deps.http, file, settings),
    {
      objects: deps.objects,
      grids: deps.grids,
      operator: deps.operator,
      area: deps.area,
      reached: deps.reached,
    },
    {
      nowMs: deps.nowMs(),
      mayPublish: (counts) => {
        if (counts.rejectedCount > 0 && !isLastChance) throw incomplete(file, hour, counts);
      },
    },
  );
  if (ingested.hours.length === 0) throw nothingKept(file, hour, ingested);
  return told(file, ingested);
}

function told({ plan }: OpenModelFile, { keptFields, rejectedCount, rejected }: IngestedGrid): string {
  const refused = rejectedCount === 0 ? '' : `; ${rejectedCount} refused, the first: ${rejected[0]?.reason}`;
  return `${keptFields} fields from ${plan.ranges.length} ranges${refused}`;
}

function incomplete(
  file: OpenModelFile,
  hour: SupplyHour,
  { rejectedCount, rejected }: Pick<IngestedGrid, 'rejectedCount' | 'rejected'>,
): SourceError {
  return new SourceError({
    host: new URL(file.dataUrl).host,
    fault: 'index',
    what: nameOf(hour),
    found: `${rejectedCount} refused messages, the first: ${rejected[0]?.reason}`,
    expected: `all ${file.wanted.length} wanted fields`,
    retryable: true,
  });
}

function nothingKept(file: OpenModelFile, hour: SupplyHour, { skippedFields }: IngestedGrid): SourceError {
  return new SourceError({
    host: new URL(file.dataUrl).host,
    fault: 'index',
    what: nameOf(hour),
    found: `${skippedFields} fields, none of which makes a column of air in the operating area`,
    expected: 'temperature and humidity on levels, over the operating area',
  });
}
