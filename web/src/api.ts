/** What the page asks of the network, but for the very first call: see first-ask.ts. Every answer is checked against the contract before the page sees it. */
import * as z from 'zod/mini';
import { type AircraftProfile, aircraftSchema } from '../../worker/schema/aircraft.ts';
import { type Brief, type BriefMember, briefSchema, type Candidate } from '../../worker/schema/brief.ts';
import { type PlaceAnswer, placesAnswerSchema } from '../../worker/schema/places.ts';
import { type BriefRequest, briefRequestSchema } from '../../worker/schema/request.ts';
import { type Answer, answerOf } from './client/answer.ts';
import { hasConsistentLengths } from './curtain.ts';
import { BRIEF_PATH, briefCall, takeFirstAnswer } from './first-ask.ts';

const BRIEF_TIMEOUT_MS = 60_000;
export const LIST_TIMEOUT_MS = 10_000;

export type Place = PlaceAnswer;

const ascentsSchema = z.object({
  soundings: z.array(z.object({ latDeg: z.number(), lonDeg: z.number() })),
});
type AscentsAnswer = z.infer<typeof ascentsSchema>;

const aircraftListSchema = z.object({ aircraft: z.array(aircraftSchema) });

const demoLegsSchema = z.object({
  scenario: z.string(),
  legs: z.array(
    z.object({ id: z.string(), title: z.string(), say: z.string(), request: briefRequestSchema }),
  ),
});
export type DemoLegs = z.infer<typeof demoLegsSchema>;

export function askBrief(request: BriefRequest, signal: AbortSignal): Promise<Answer<Brief>> {
  const call = briefCall(request);
  const send = (both: AbortSignal) =>
    takeFirstAnswer(call.body, both) ?? fetch(BRIEF_PATH, { ...call, signal: both });
  return briefOf(send, signal, BRIEF_TIMEOUT_MS);
}

/** What a brief is answered with, held to the contract and to itself. */
export async function briefOf(
  send: (signal: AbortSignal) => Promise<Response>,
  asked: AbortSignal,
  timeoutMs: number,
): Promise<Answer<Brief>> {
  const answer = await answerOf(send, asked, { timeoutMs, schema: briefSchema });
  if (answer.kind !== 'ok') return answer;
  const where = unevenLists(answer.value.brief);
  return where === undefined ? answer : { kind: 'not-understood', where };
}

/** A brief as it was answered once, kept since; undefined where it does not keep to today's contract. */
export function checkedBrief(body: unknown): Brief | undefined {
  const { data } = briefSchema.safeParse(body);
  return data !== undefined && unevenLists(data.brief) === undefined ? data : undefined;
}

function unevenLists(brief: BriefMember): string | undefined {
  const { curtain } = brief;
  if (curtain !== undefined && !hasConsistentLengths(curtain))
    return 'brief.curtain: lengths that do not belong together';
  return unevenPlaces(brief);
}

/** What is not one a route point would stand at the wrong place. */
function unevenPlaces({ alternatives, stepped, recommended, leg }: BriefMember): string | undefined {
  const count = leg.points.length;
  const isUneven = (candidate: Candidate | null) =>
    candidate !== null &&
    [candidate.flownFt, ...Object.values(candidate.ways ?? {})].some(
      (list) => list !== null && list.length !== count,
    );
  const found = [...alternatives, stepped, recommended].find(isUneven);
  return found
    ? `brief.alternatives: path or ways out at ${found.altitudeFt} ft are not one a route point`
    : undefined;
}

export function findPlaces(text: string, signal: AbortSignal): Promise<Answer<{ places: Place[] }>> {
  return getJson(`/api/places?q=${encodeURIComponent(text)}`, placesAnswerSchema, signal);
}

/** @param box  West, south, east, north, degrees. */
export function aerodromesIn(
  box: readonly [number, number, number, number],
  signal: AbortSignal,
): Promise<Answer<{ places: Place[] }>> {
  const text = box.map((degrees) => degrees.toFixed(3)).join(',');
  return getJson(`/api/places?box=${text}`, placesAnswerSchema, signal);
}

/** Where the newest ascents were made: where something is known. */
export function listAscents(): Promise<Answer<AscentsAnswer>> {
  return getJson('/api/sources', ascentsSchema);
}

export function listAircraft(): Promise<Answer<{ aircraft: AircraftProfile[] }>> {
  return getJson('/api/aircraft', aircraftListSchema);
}

export function listDemoLegs(): Promise<Answer<DemoLegs>> {
  return getJson('/demo-legs.json', demoLegsSchema);
}

/** A short answer, held to its schema. */
export function getJson<Schema extends z.ZodMiniType>(
  path: string,
  schema: Schema,
  signal?: AbortSignal,
): Promise<Answer<z.infer<Schema>>> {
  return answerOf((both) => fetch(path, { signal: both }), signal, { timeoutMs: LIST_TIMEOUT_MS, schema });
}
