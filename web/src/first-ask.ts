/**
 * The brief of the address, asked for before the page is worked out, so that it is under way meanwhile: see start-first-ask.ts. Few
 * imports, since all of them run before it.
 */
import type { BriefRequest } from '../../worker/schema/request.ts';
import { boardHeaders } from './board-key.ts';
import { aircraftFromAddress } from './device-aircraft.ts';
import { sharedBriefPath, sharedIdOf } from './shared-link.ts';
import { legTextFromQuery, readLegText } from './url-state.ts';

export const BRIEF_PATH = '/api/brief';

/** What is sent for a brief: the page always wants the cells. */
export function briefCall(request: BriefRequest): RequestInit & { readonly body: string } {
  const body = JSON.stringify({ ...request, options: { ...request.options, curtain: true } });
  return { method: 'POST', headers: { 'content-type': 'application/json', ...boardHeaders() }, body };
}

interface RunningCall {
  /** Of a leg its request, of a shared brief its path. */
  readonly body: string;
  readonly stop: AbortController;
  readonly response: Promise<Response>;
}

let first: RunningCall | undefined;

/** Asks for what the address says, where it says a leg. */
export function startFirstAsk(): void {
  const id = sharedIdOf(location.pathname);
  if (id !== undefined) {
    startCall(sharedBriefPath(id), sharedBriefPath(id), {});
    return;
  }
  const text = legTextFromQuery(location.search);
  const aircraft = text.aircraft === undefined ? {} : { aircraft: aircraftFromAddress(text.aircraft) };
  const reading = readLegText({ ...text, ...aircraft });
  if (reading.kind !== 'request') return;
  const call = briefCall(reading.request);
  startCall(call.body, BRIEF_PATH, call);
}

function startCall(body: string, path: string, call: RequestInit): void {
  const stop = new AbortController();
  const response = fetch(path, { ...call, signal: stop.signal });
  // Whoever takes it hears of its failure; nobody does when the address has changed by then.
  response.catch(() => undefined);
  first = { body, stop, response };
}

/** The answer that is under way for this very body, once; undefined when another was asked for, which is given up. */
export function takeFirstAnswer(body: string, signal: AbortSignal): Promise<Response> | undefined {
  const call = first;
  first = undefined;
  if (call === undefined) return undefined;
  if (call.body !== body) {
    call.stop.abort();
    return undefined;
  }
  signal.addEventListener('abort', () => call.stop.abort());
  return call.response;
}
