/** One tap makes a link to the brief as it is: bytes that never change, a code to scan, and a key to take it back with. */
import { useSignal } from '@preact/signals';
import type { CreatedBrief } from '../../../worker/schema/shared-brief.ts';
import type { Answer } from '../client/answer.ts';
import type { BriefRequest } from '../contract.ts';
import { datedText } from '../numbers.ts';
import { lastBrief } from '../state.ts';
import { CodeDrawing } from './code-drawing.tsx';
import { linkCode } from './link-code.ts';
import { ownShares, shareNow } from './own-shares.ts';
import { OwnShares } from './own-shares-list.tsx';
import { TakeBack } from './take-back.tsx';

type State = Answer<CreatedBrief> | { readonly kind: 'idle' | 'asked' };

export function ShareCard() {
  const state = useSignal<State>({ kind: 'idle' });
  const last = lastBrief.value;
  if (last === undefined) return null;
  const { request, brief } = last;
  const start = async (asked: BriefRequest) => {
    state.value = { kind: 'asked' };
    state.value = await shareNow(asked, brief.brief.leg);
  };
  const now = state.value;
  return (
    <section class="flight-card share-card" aria-labelledby="share-title">
      <h2 id="share-title">Share this brief</h2>
      <p>
        Made anew of this leg and kept as it is then, for 30 days: whoever has the link sees the same. The
        aircraft’s figures go with it; what you typed into the other cards stays here.
      </p>
      {request === undefined ? (
        <p>Not this one: the service does not take any more what it was asked with. Its own link stays.</p>
      ) : (
        <button type="button" disabled={now.kind === 'asked'} onClick={() => void start(request)}>
          {now.kind === 'asked' ? 'Making the link' : 'Make a link'}
        </button>
      )}
      {now.kind === 'ok' &&
        (ownShares.value.some(({ id }) => id === now.value.id) ? (
          <Shared created={now.value} />
        ) : (
          <p>Taken back: the link opens nothing any more.</p>
        ))}
      {now.kind === 'problem' && <p class="complaint">{now.problem.detail}</p>}
      {['unreachable', 'timeout', 'not-understood'].includes(now.kind) && (
        <p class="complaint">No link: the service was not reached.</p>
      )}
      <OwnShares />
    </section>
  );
}

interface SharedProps {
  readonly created: CreatedBrief;
}

function Shared({ created }: SharedProps) {
  const link = new URL(created.link, location.origin).href;
  const code = linkCode(link);
  const isCopied = useSignal(false);
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
        <TakeBack share={created} />
      </p>
      <p class="quiet">
        Open until {datedText(created.expiresUtc)}. The key that takes it back is kept on this device.
        {created.inputsSha256 === null &&
          ' What it was made from is too much to be kept with it: it can be proved only while the service holds it.'}
      </p>
    </div>
  );
}
