/** What became of the leg that was asked for, in words: being worked out, refused, not reached, not understood. */
import { capitalized } from '../../../worker/flight/words.ts';
import type { Problem } from '../contract.ts';
import { type BriefState, briefState, legReading, legText, nowMs, openedLeg } from '../state.ts';

/** After so long somebody wants to know that it is still being worked on. */
const LONG_MS = 4000;

export function StateMessage() {
  const state = briefState.value;
  if (state.kind === 'ok' || state.kind === 'kept' || state.kind === 'loading') return null;
  const words = refusalWords(state);
  return words === undefined ? null : <Refusal {...words} />;
}

/** In the place of the brief that is not there yet. */
export function Asking({ state }: { readonly state: { readonly sinceMs: number } }) {
  return (
    <p class="message asking" role="status">
      {askingWords(legText.value.route)} {longWords(state, nowMs.value)}
    </p>
  );
}

export function askingWords(route: string | undefined): string {
  return `Reading the air along ${route ?? 'the leg'}…`;
}

/** Empty at first. */
export function longWords({ sinceMs }: { readonly sinceMs: number }, now: number): string {
  const waitedMs = now - sinceMs;
  if (waitedMs < LONG_MS) return '';
  return `${Math.round(waitedMs / 1000)} s so far: data that was just loaded is read for the first time. An answer comes within a minute, or a reason why not.`;
}

interface Words {
  readonly title: string;
  readonly detail: string;
}

export function refusalWords(
  state: Exclude<BriefState, { kind: 'ok' | 'kept' | 'loading' }>,
): Words | undefined {
  switch (state.kind) {
    case 'empty':
    case 'abandoned':
      return legReading.value.kind === 'invalid'
        ? { title: 'This link does not hold a whole leg', detail: legReading.value.sentence }
        : undefined;
    case 'problem':
      return { title: state.problem.title, detail: plainDetail(state.problem) };
    case 'timeout':
      return {
        title: 'The service did not answer in time',
        detail: `No answer within ${Math.round(state.afterMs / 1000)} seconds. Nothing is known about this leg; try again.`,
      };
    case 'unreachable':
      return {
        title: 'The service is not reached',
        detail:
          'Nothing is known about this leg, and no brief of it is kept on this device; check the connection and try again.',
      };
    case 'not-understood':
      return {
        title: 'The answer could not be understood',
        detail: `The answer does not keep to the contract${state.where === '' ? '' : ` at ${state.where}`}, so none of it is shown.`,
      };
  }
}

/** Without the path of the member: the form marks the field itself. */
function plainDetail({ detail, field }: Problem): string {
  const start = `${field}: `;
  return capitalized(field !== undefined && detail.startsWith(start) ? detail.slice(start.length) : detail);
}

/** Said at once; but of a leg that is still being typed only when there is nothing else to say. */
function Refusal({ title, detail }: Words) {
  return (
    <div class="message message-refused" role={openedLeg.value.by === 'typed' ? 'status' : 'alert'}>
      <p>
        <strong>{title}</strong>
      </p>
      <p>{detail}</p>
    </div>
  );
}
