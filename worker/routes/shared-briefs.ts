/**
 * Shared briefs. POST /api/briefs: the leg in, a link to bytes that never change out. GET /api/briefs/{id}: those bytes. DELETE: taken
 * back, by the key told once. POST /api/briefs/{id}/proof: made again from what it was made from, and compared.
 */
import type { Context } from 'hono';
import { proveBrief } from '../brief/prove-brief.ts';
import { shareBrief } from '../brief/share-brief.ts';
import { utc } from '../brief/utc.ts';
import { AppBug, GoneError } from '../errors.ts';
import { postSharedBrief as postCall } from '../schema/calls-brief.ts';
import type { CreatedBrief } from '../schema/shared-brief.ts';
import { endOf, isSharedBriefId, type Maker, type SharedBrief } from '../sources/shared-briefs.ts';
import { aboutAnswer } from './about-brief.ts';
import type { AppEnv } from './app-env.ts';
import { operatorOf, type Principal } from './principal.ts';
import { requestBody } from './read-call.ts';
import { mayTakeBack } from './taking-back.ts';

/** Robots and shared caches keep nothing of it; who has the link asks again whether it still stands. */
export const PRIVATE_HEADERS = {
  'cache-control': 'private, no-cache',
  'x-robots-tag': 'noindex, nofollow',
  'referrer-policy': 'no-referrer',
} as const;

export async function postSharedBrief(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators, principal } = context.var;
  const request = await requestBody(context, postCall);
  const order = { request, operators, maker: makerOf(principal), nowMs: deps.nowMs() };
  const { shared, key } = await shareBrief(deps, order);
  const answer = createdAnswer(shared, key);
  return context.json(answer, 201, { ...PRIVATE_HEADERS, location: answer.link });
}

/** Whose key came with it: undefined for nobody's. */
export function makerOf(principal: Principal): Maker | undefined {
  const operator = operatorOf(principal);
  if (operator === undefined) return undefined;
  return { operator, boardKeyId: principal.kind === 'board-key' ? principal.keyId : undefined };
}

/** The answer to whoever shared a brief, and the only one with its key. */
export function createdAnswer(shared: SharedBrief, key: string): CreatedBrief {
  return {
    id: shared.id,
    link: `/b/${shared.id}`,
    key,
    sha256: shared.sha256,
    createdUtc: utc(shared.createdMs),
    expiresUtc: utc(shared.expiresMs),
    inputsSha256: shared.inputsSha256 ?? null,
  };
}

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

/** GET /api/briefs/{id}/inputs: what it was made from, so that anybody with the link can make it again. */
export async function getSharedInputs(context: Context<AppEnv>): Promise<Response> {
  const { id, inputsSha256 } = await standing(context);
  if (inputsSha256 === undefined) throw new GoneError('without-inputs');
  const bytes = await context.var.deps.sharedBriefs.inputsOf(id);
  if (bytes === undefined) throw new AppBug(`shared brief ${id}: found no inputs, expected some`);
  const disposition = `attachment; filename="${id}-inputs.json.gz"`;
  return new Response(bytes, {
    headers: {
      ...PRIVATE_HEADERS,
      etag: `"${inputsSha256}"`,
      'content-type': 'application/gzip',
      'content-disposition': disposition,
    },
  });
}

export async function getAboutBrief(context: Context<AppEnv>): Promise<Response> {
  return context.json(aboutAnswer(await standing(context)), 200, PRIVATE_HEADERS);
}

export async function deleteSharedBrief(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const shared = await standing(context);
  await mayTakeBack(context.req.raw, shared, settings);
  await deps.sharedBriefs.revoke(shared.id, deps.nowMs());
  return new Response(null, { status: 204, headers: PRIVATE_HEADERS });
}

export async function postProof(context: Context<AppEnv>): Promise<Response> {
  const shared = await standing(context);
  return context.json(await proveBrief(context.var.deps, shared), 200, PRIVATE_HEADERS);
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
