/**
 * Shared briefs. POST /api/briefs: the leg in, a link to bytes that never change out. GET /api/briefs/{id}: those bytes. DELETE: taken
 * back, by the key told once. POST /api/briefs/{id}/proof: made again from what was held then, and compared.
 */
import type { Context } from 'hono';
import { briefPicture } from '../brief/brief-picture.ts';
import { makeBrief } from '../brief/make-brief.ts';
import { METHOD_VERSION } from '../brief/method.ts';
import { feetText } from '../brief/picture/words.ts';
import { utc } from '../brief/utc.ts';
import { AccessError, AppBug, GoneError } from '../errors.ts';
import type { Brief } from '../schema/brief.ts';
import { postSharedBrief as postCall } from '../schema/calls-brief.ts';
import { type Invented, inventedPart } from '../schema/data-origin.ts';
import { briefRequestSchema } from '../schema/request.ts';
import type { AboutBrief, CreatedBrief, ProofAnswer } from '../schema/shared-brief.ts';
import { storesAsOf } from '../sources/as-of.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import { endOf, isSharedBriefId, randomName, type SharedBrief } from '../sources/shared-briefs.ts';
import { bearerKey, isHashOf } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';
import { requestBody } from './read-call.ts';

const ID_BYTES = 16;
const KEY_BYTES = 32;
/** Long enough for whoever looks back at a flight (judgement). */
const KEPT_MS = 30 * 86_400_000;

/** Robots and shared caches keep nothing of it; who has the link asks again whether it still stands. */
export const PRIVATE_HEADERS = {
  'cache-control': 'private, no-cache',
  'x-robots-tag': 'noindex, nofollow',
  'referrer-policy': 'no-referrer',
} as const;

export async function postSharedBrief(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const nowMs = deps.nowMs();
  const asked = await requestBody(context, postCall);
  const request = { ...asked, options: { ...asked.options, curtain: true } };
  const brief = await makeBrief(deps, request, { operators });
  const text = JSON.stringify(brief);
  const key = randomName(KEY_BYTES);
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
  };
  await deps.sharedBriefs.put(shared, {
    brief: new TextEncoder().encode(text),
    picture: await briefPicture(brief, utc(nowMs)),
  });
  const answer: CreatedBrief = {
    id: shared.id,
    link: `/b/${shared.id}`,
    key,
    sha256: shared.sha256,
    createdUtc: utc(shared.createdMs),
    expiresUtc: utc(shared.expiresMs),
  };
  return context.json(answer, 201, { ...PRIVATE_HEADERS, location: answer.link });
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

export async function getSharedBrief(context: Context<AppEnv>): Promise<Response> {
  const shared = await standing(context);
  const etag = `"${shared.sha256}"`;
  const headers = { ...PRIVATE_HEADERS, etag, 'content-type': 'application/geo+json' };
  if (context.req.header('if-none-match') === etag) return new Response(null, { status: 304, headers });
  const bytes = await context.var.deps.sharedBriefs.bytesOf(shared.id);
  if (bytes === undefined) throw new AppBug(`shared brief ${shared.id}: found no bytes, expected some`);
  return new Response(bytes, { headers });
}

/** GET /b/{id}/picture.png: 1200 × 630, made with the brief and kept as long. */
export async function getSharedPicture(context: Context<AppEnv>): Promise<Response> {
  const shared = await standing(context);
  const bytes = await context.var.deps.sharedBriefs.pictureOf(shared.id);
  if (bytes === undefined) throw new AppBug(`shared brief ${shared.id}: found no picture, expected one`);
  return new Response(bytes, { headers: { ...PRIVATE_HEADERS, 'content-type': 'image/png' } });
}

export async function getAboutBrief(context: Context<AppEnv>): Promise<Response> {
  const { id, createdMs, expiresMs, sha256, method, request } = await standing(context);
  const answer: AboutBrief = {
    id,
    createdUtc: utc(createdMs),
    expiresUtc: utc(expiresMs),
    sha256,
    methodVersion: method,
    request: parseRequest(briefRequestSchema, JSON.parse(request)),
  };
  return context.json(answer, 200, PRIVATE_HEADERS);
}

/** A wrong key and a missing one are told apart from nothing but each other: the link is known to whoever asks. */
export async function deleteSharedBrief(context: Context<AppEnv>): Promise<Response> {
  const shared = await standing(context);
  const key = bearerKey(context.req.raw);
  if (key === undefined) throw new AccessError('missing');
  if (!isHashOf(await sha256Hex(key), shared.keySha256)) throw new AccessError('wrong');
  await context.var.deps.sharedBriefs.revoke(shared.id, context.var.deps.nowMs());
  return new Response(null, { status: 204, headers: PRIVATE_HEADERS });
}

export async function postProof(context: Context<AppEnv>): Promise<Response> {
  const answer = await proofOf(await standing(context), context);
  return context.json(answer, 200, PRIVATE_HEADERS);
}

async function proofOf(shared: SharedBrief, context: Context<AppEnv>): Promise<ProofAnswer> {
  const { sha256, method, operators, createdMs } = shared;
  const common = { sha256, methodVersion: method };
  if (method !== METHOD_VERSION) {
    const why = `It was made by version ${method} of the method, this service has ${METHOD_VERSION}`;
    return { ...common, outcome: 'other-method', againSha256: null, why };
  }
  const request = parseRequest(briefRequestSchema, JSON.parse(shared.request));
  const stores = storesAsOf(context.var.deps, createdMs);
  const againSha256 = await sha256Hex(JSON.stringify(await makeBrief(stores, request, { operators })));
  if (againSha256 === sha256) return { ...common, outcome: 'equal', againSha256, why: '' };
  const why =
    'Data that it was made from may have been loaded again, replaced or retired since, or have come while it was made';
  return { ...common, outcome: 'different', againSha256, why };
}

/** @throws GoneError for what never was, has expired or was taken back. */
async function standing(context: Context<AppEnv>): Promise<SharedBrief> {
  const { deps } = context.var;
  const id = context.req.param('id') ?? '';
  const shared = isSharedBriefId(id) ? await deps.sharedBriefs.find(id) : undefined;
  const end = endOf(shared, deps.nowMs());
  if (shared === undefined || end !== undefined) throw new GoneError(end ?? 'unknown');
  return shared;
}
