/** A brief made to be shared: its bytes, their picture and what they were made from, stored under a name that nobody guesses. */
import type { Brief } from '../schema/brief.ts';
import { type Invented, inventedPart } from '../schema/data-origin.ts';
import type { BriefRequest } from '../schema/request.ts';
import type { BriefReads } from '../sources/ports.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import {
  type Maker,
  randomName,
  type SharedBrief,
  type SharedBriefRepository,
} from '../sources/shared-briefs.ts';
import { briefPicture } from './brief-picture.ts';
import { makeBrief } from './make-brief.ts';
import { METHOD_VERSION } from './method.ts';
import { feetText } from './picture/words.ts';
import { recordInputs } from './recorded-inputs.ts';
import { utc } from './utc.ts';

const ID_BYTES = 16;
const KEY_BYTES = 32;
/** Long enough for whoever looks back at a flight (judgement). */
const KEPT_MS = 30 * 86_400_000;

export interface ShareOrder {
  readonly request: BriefRequest;
  /** Whose data it is made from. */
  readonly operators: readonly string[];
  readonly maker: Maker | undefined;
  readonly nowMs: number;
}

export interface MadeShare {
  readonly shared: SharedBrief;
  /** Takes it back; kept nowhere but as its hash. */
  readonly key: string;
  readonly brief: Brief;
}

/** Makes the brief of a request, with its cells, and shares it. */
export async function shareBrief(
  deps: BriefReads & { readonly sharedBriefs: SharedBriefRepository },
  { request: asked, operators, maker, nowMs }: ShareOrder,
): Promise<MadeShare> {
  const request = { ...asked, options: { ...asked.options, curtain: true } };
  const { reads, inputs: recorded } = recordInputs(deps);
  const brief = await makeBrief(reads, request, { operators });
  const text = JSON.stringify(brief);
  const key = randomName(KEY_BYTES);
  const inputs = await recorded();
  const shared: SharedBrief = {
    id: randomName(ID_BYTES),
    createdMs: nowMs,
    expiresMs: nowMs + KEPT_MS,
    revokedMs: undefined,
    sha256: await sha256Hex(text),
    keySha256: await sha256Hex(key),
    method: METHOD_VERSION,
    operators,
    request: JSON.stringify(request),
    ...previewOf(brief, nowMs),
    inputsSha256: inputs && (await sha256Hex(inputs)),
    maker,
  };
  const picture = await briefPicture(brief, utc(nowMs));
  await deps.sharedBriefs.put(shared, { brief: new TextEncoder().encode(text), picture, inputs });
  return { shared, key, brief };
}

const INVENTED_WORDS: Readonly<Record<Invented, string>> = {
  none: '',
  partly: 'Partly invented data. ',
  wholly: 'Invented data. ',
};

/** Whoever shows a preview may keep it for good: it says of when it is. */
function previewOf(
  { brief: { leg, file, verdict, data } }: Brief,
  nowMs: number,
): Pick<SharedBrief, 'title' | 'sentence'> {
  const what = file === null ? 'no altitude to file' : `file ${feetText(file.altitudeFt)} ft`;
  const invented = INVENTED_WORDS[inventedPart(data)];
  return {
    title: `${leg.from} to ${leg.to}, ${minuteUtc(leg.departureUtc)}: ${what}`,
    sentence: `${invented}As of ${minuteUtc(utc(nowMs))}: ${verdict.sentence}`,
  };
}

/** "2026-01-14 11:30 UTC". */
const minuteUtc = (text: string) => `${text.slice(0, 16).replace('T', ' ')} UTC`;
