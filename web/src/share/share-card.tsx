/** One tap makes a link to the brief as it is: bytes that never change, a code to scan, and a key to take it back with. */
import { useSignal } from '@preact/signals';
import * as z from 'zod/mini';
import { type CreatedBrief, createdBriefSchema } from '../../../worker/schema/shared-brief.ts';
import { type Answer, answerOf } from '../client/answer.ts';
import type { BriefRequest } from '../contract.ts';
import { storedText, storeText } from '../device-value.ts';
import { datedText } from '../numbers.ts';
import { lastBrief } from '../state.ts';
import { CodeDrawing } from './code-drawing.tsx';
import { linkCode } from './link-code.ts';

const TIMEOUT_MS = 60_000;
const KEY = 'rimeway-shared-briefs';
const MOST_KEPT = 50;

async function share(request: BriefRequest): Promise<Answer<CreatedBrief>> {
  const send = (signal: AbortSignal) =>
    fetch('/api/briefs', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(request),
      signal,
    });
  const answer = await answerOf(send, undefined, { timeoutMs: TIMEOUT_MS, schema: createdBriefSchema });
  if (answer.kind === 'ok') keepKey(answer.value);
  return answer;
}

/** The key is told once: this device keeps it. */
function keepKey({ id, key }: CreatedBrief): void {
  storeText(KEY, JSON.stringify([{ id, key }, ...keptKeys()].slice(0, MOST_KEPT)));
}

const keysSchema = z.array(z.object({ id: z.string(), key: z.string() }));

function keptKeys(): z.infer<typeof keysSchema> {
  try {
    return keysSchema.safeParse(JSON.parse(storedText(KEY) ?? '[]')).data ?? [];
  } catch {
    return [];
  }
}

async function takeBack({ id, key }: CreatedBrief): Promise<boolean> {
  try {
    const headers = { authorization: `Bearer ${key}` };
    const { status } = await fetch(`/api/briefs/${id}`, { method: 'DELETE', headers });
    return status === 204 || status === 410;
  } catch {
    return false;
  }
}

type State = Answer<CreatedBrief> | { readonly kind: 'idle' | 'asked' | 'taken-back' };

export function ShareCard() {
  const state = useSignal<State>({ kind: 'idle' });
  const last = lastBrief.value;
  if (last === undefined) return null;
  const start = async () => {
    state.value = { kind: 'asked' };
    state.value = await share(last.request);
  };
  const now = state.value;
  return (
    <section class="flight-card share-card" aria-labelledby="share-title">
      <h2 id="share-title">Share this brief</h2>
      <p>
        Made anew of this leg and kept as it is then, for 30 days: whoever has the link sees the same. The
        aircraft’s figures go with it; what you typed into the other cards stays here.
      </p>
      <button type="button" disabled={now.kind === 'asked'} onClick={() => void start()}>
        {now.kind === 'asked' ? 'Making the link' : 'Make a link'}
      </button>
      {now.kind === 'ok' && (
        <Shared created={now.value} onTakenBack={() => (state.value = { kind: 'taken-back' })} />
      )}
      {now.kind === 'taken-back' && <p>Taken back: the link opens nothing any more.</p>}
      {now.kind === 'problem' && <p class="complaint">{now.problem.detail}</p>}
      {['unreachable', 'timeout', 'not-understood'].includes(now.kind) && (
        <p class="complaint">No link: the service was not reached.</p>
      )}
    </section>
  );
}

interface SharedProps {
  readonly created: CreatedBrief;
  readonly onTakenBack: () => void;
}

function Shared({ created, onTakenBack }: SharedProps) {
  const link = new URL(created.link, location.origin).href;
  const code = linkCode(link);
  const isCopied = useSignal(false);
  const isLeft = useSignal(false);
  return (
    <div class="share-made">
      <p>
        <a href={created.link}>{link}</a>
      </p>
      {code !== undefined && (
        <CodeDrawing code={code} name="share-code" label="QR code of the link to the shared brief" />
      )}
      <p>
        <button
          type="button"
          onClick={() =>
            void navigator.clipboard?.writeText(link).then(
              () => (isCopied.value = true),
              () => undefined,
            )
          }
        >
          {isCopied.value ? 'Copied' : 'Copy the link'}
        </button>{' '}
        <button
          type="button"
          onClick={() =>
            void takeBack(created).then((isGone) => {
              if (isGone) onTakenBack();
              isLeft.value = !isGone;
            })
          }
        >
          Take it back
        </button>
      </p>
      {isLeft.value && <p class="complaint">Not taken back, the link is open still: try again.</p>}
      <p class="quiet">
        Open until {datedText(created.expiresUtc)}. The key that takes it back is kept on this device.
      </p>
    </div>
  );
}
