/** A shared brief made again and compared: from what it was made from, kept beside it, or from what the stores still hold of that. */
import { briefRequestSchema } from '../schema/request.ts';
import type { ProofAnswer } from '../schema/shared-brief.ts';
import { storesAsOf } from '../sources/as-of.ts';
import type { BriefReads } from '../sources/ports.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import type { SharedBrief, SharedBriefRepository } from '../sources/shared-briefs.ts';
import { makeBrief } from './make-brief.ts';
import { METHOD_VERSION } from './method.ts';
import { replayInputs } from './recorded-inputs.ts';

const CHANGED_STORES =
  'Data that it was made from may have been loaded again, replaced or retired since, or have come while it was made';
const OTHER_BYTES = 'The stored brief is not the one that was shared: it is gone or has another hash';
const OTHER_INPUTS =
  'The stored inputs are not those that it was made from: they are gone or have another hash';
const OTHER_REQUEST = 'What was asked then does not fit the contract of this service any more';
const NOT_AGAIN = 'It cannot be made again from its inputs: this service reads what was not read then';
const OTHER_RESULT = 'From the same inputs this service makes another brief';

type ProofStores = BriefReads & { readonly sharedBriefs: SharedBriefRepository };

/** What was worked out again, or why nothing could be. */
interface Again {
  readonly sha256: string | null;
  /** Holds where the hash is not that of the brief. */
  readonly why: string;
}

/** What is wrong with the shared brief is its answer, no failure. */
export async function proveBrief(deps: ProofStores, shared: SharedBrief): Promise<ProofAnswer> {
  const { sha256, method, inputsSha256 } = shared;
  const over = inputsSha256 === undefined ? ('stores' as const) : ('inputs' as const);
  const common = { sha256, methodVersion: method, over };
  if (method !== METHOD_VERSION) {
    const why = `It was made by version ${method} of the method, this service has ${METHOD_VERSION}`;
    return { ...common, outcome: 'other-method', againSha256: null, why };
  }
  const again = await madeAgain(deps, shared);
  if (again.sha256 === sha256) return { ...common, outcome: 'equal', againSha256: sha256, why: '' };
  return { ...common, outcome: 'different', againSha256: again.sha256, why: again.why };
}

async function madeAgain(deps: ProofStores, shared: SharedBrief): Promise<Again> {
  const stored = await deps.sharedBriefs.bytesOf(shared.id);
  if (!(await isOf(stored, shared.sha256))) return { sha256: null, why: OTHER_BYTES };
  const request = briefRequestSchema.safeParse(JSON.parse(shared.request)).data;
  if (request === undefined) return { sha256: null, why: OTHER_REQUEST };
  const hashOver = async (reads: BriefReads) =>
    sha256Hex(JSON.stringify(await makeBrief(reads, request, { operators: shared.operators })));
  if (shared.inputsSha256 === undefined)
    return { sha256: await hashOver(storesAsOf(deps, shared.createdMs)), why: CHANGED_STORES };
  const inputs = await deps.sharedBriefs.inputsOf(shared.id);
  if (!(await isOf(inputs, shared.inputsSha256))) return { sha256: null, why: OTHER_INPUTS };
  try {
    return { sha256: await hashOver(await replayInputs(new Uint8Array(inputs!))), why: OTHER_RESULT };
  } catch (error) {
    console.error('a shared brief that is not made again from its inputs', error);
    return { sha256: null, why: NOT_AGAIN };
  }
}

async function isOf(bytes: ArrayBuffer | undefined, sha256: string): Promise<boolean> {
  return bytes !== undefined && (await sha256Hex(new Uint8Array(bytes))) === sha256;
}
