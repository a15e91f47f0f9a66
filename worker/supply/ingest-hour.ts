/** One message of the queue: a forecast hour out of its bucket into the store. */
import type { Area } from '../env.ts';
import { InvalidRequestError, SourceError } from '../errors.ts';
import {
  DEFAULT_OPEN_MODEL_SETTINGS,
  hourItems,
  type OpenModelFile,
  openModelFile,
} from '../sources/open-model-file.ts';
import { OPEN_MODELS, usuallyThereMs } from '../sources/open-models.ts';
import type { GridRepository, ObjectStore } from '../sources/ports.ts';
import type { RangedHttp } from '../sources/ranged-http.ts';
import { nameOf, type SupplyClaim, type SupplyHour, type SupplyRepository } from '../sources/supply.ts';
import { type IngestedGrid, ingestItems } from '../store/ingest-grid.ts';

/** A consumer that has held an hour longer has crashed. */
export const LEASE_MS = 15 * 60_000;
/** An hour with refused messages goes back to the queue so many times; then it is published as it is, and says what it lacks. */
const REFUSALS_BORNE = 2;
/** An index that lacks fields is taken for one that is still being written until so long after its usual time. */
const WRITTEN_WITHIN_MS = 60 * 60_000;

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

/**
 * stored: published now; known: it was before; late: not in the bucket yet; busy: another consumer has it; dead: no repetition
 * would bring it with these settings.
 */
export type IngestOutcome = 'stored' | 'known' | 'late' | 'busy' | 'dead';

/** The hour came, and a part of it was refused. */
class RefusedPart extends SourceError {}

/** Another consumer has the hour by now: it says what becomes of it. */
class ClaimLost extends Error {}

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
    const detail = await fetchAndPublish(deps, claimed);
    const isSettled = await deps.supply.settle(claimed, { state: 'stored', detail, nowMs: deps.nowMs() });
    await deps.reached?.('stored');
    return isSettled ? 'stored' : 'busy';
  } catch (error) {
    if (error instanceof ClaimLost) return 'busy';
    const state = stateAfter(error);
    const detail = error instanceof Error ? error.message : String(error);
    const isRefusal = error instanceof RefusedPart;
    await deps.supply.settle(claimed, { state, detail, isRefusal, nowMs: deps.nowMs() });
    if (state === 'failed') throw error;
    return state;
  }
}

/** A request that does not fit (too large an area, one outside the model) fits no better the next time. */
function stateAfter(error: unknown): 'late' | 'dead' | 'failed' {
  if (error instanceof InvalidRequestError) return 'dead';
  return error instanceof SourceError && error.fault === 'not-there-yet' ? 'late' : 'failed';
}

async function fetchAndPublish(deps: IngestDeps, claimed: SupplyClaim): Promise<string> {
  const model = OPEN_MODELS[claimed.modelId];
  const settings = DEFAULT_OPEN_MODEL_SETTINGS;
  const { runMs, forecastHour } = claimed;
  const file = await openModelFile(
    deps.http,
    { runMs, forecastHour, model, baseUrl: deps.baseUrl },
    settings,
  );
  await deps.reached?.('index');
  const isLastChance = claimed.refusals >= REFUSALS_BORNE;
  if (file.lost.length > 0) refuseCut(deps, file, claimed);
  const ingested = await ingestItems(
    hourItems(deps.http, file, settings),
    {
      objects: deps.objects,
      grids: deps.grids,
      operator: deps.operator,
      area: deps.area,
      reached: deps.reached,
      // A consumer that hung past its lease must not put what it has over what another has brought.
      beforeVisible: async () => {
        if (!(await deps.supply.holds(claimed))) throw new ClaimLost();
      },
    },
    {
      nowMs: deps.nowMs,
      mayPublish: (counts) => {
        if (counts.rejectedCount > 0 && !isLastChance) throw refusedPart(file, claimed, refusals(counts));
      },
    },
  );
  if (ingested.hours.length === 0) throw nothingKept(file, claimed, ingested);
  const fields = `${ingested.keptFields} fields from ${file.plan.ranges.length} ranges`;
  return ingested.rejectedCount === 0 ? fields : `${fields}; ${refusals(ingested)}`;
}

/** @throws SourceError: late while the index may still be written, refused when that should be over. */
function refuseCut({ nowMs }: IngestDeps, file: OpenModelFile, claimed: SupplyClaim): void {
  const found = `an index without ${file.lost.join('; ')}`;
  if (nowMs() < usuallyThereMs(OPEN_MODELS[claimed.modelId], claimed) + WRITTEN_WITHIN_MS) {
    const host = new URL(file.dataUrl).host;
    const expected = 'fields that every hour has';
    throw new SourceError({ host, fault: 'not-there-yet', what: nameOf(claimed), found, expected });
  }
  if (claimed.refusals < REFUSALS_BORNE) throw refusedPart(file, claimed, found);
}

function refusals({ rejectedCount, rejected }: Pick<IngestedGrid, 'rejectedCount' | 'rejected'>): string {
  return `${rejectedCount} refused messages, the first: ${rejected[0]?.reason}`;
}

function refusedPart(file: OpenModelFile, hour: SupplyHour, found: string): SourceError {
  return new RefusedPart({
    host: new URL(file.dataUrl).host,
    fault: 'index',
    what: nameOf(hour),
    found,
    expected: `all ${file.wanted.length} wanted fields, on every level`,
    retryable: true,
  });
}

/** Nothing was refused, and yet nothing is left: the area lies outside the model's. */
function nothingKept(file: OpenModelFile, hour: SupplyHour, ingested: IngestedGrid): Error {
  const found = `${nameOf(hour)}: ${ingested.skippedFields} fields, none of which makes a column of air`;
  const expected = 'temperature and humidity on levels, over the operating area';
  if (ingested.rejectedCount === 0) {
    return new InvalidRequestError({ field: 'OPERATING_AREA', found, expected });
  }
  const host = new URL(file.dataUrl).host;
  return new SourceError({ host, fault: 'index', what: 'fields', found, expected, retryable: true });
}
