/** The fold that takes reports as text: METAR, TAF, warnings, pilots' reports in any mixture. */
import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { briefAgain } from '../ask-leg.ts';
import { OperatorKeyField } from '../flight/operator-key-field.tsx';
import { datedText } from '../numbers.ts';
import {
  addFiles,
  isPasteOpen,
  type PasteOutcome,
  pastedText,
  pasteOutcome,
  sendPasted,
} from './paste-reports.ts';

export function ReportFold({ departureUtc }: { readonly departureUtc: string }) {
  return (
    <details
      class="report-fold"
      open={isPasteOpen.value}
      onToggle={(event) => (isPasteOpen.value = event.currentTarget.open)}
    >
      <summary>
        Paste or load reports{!isPasteOpen.value && pastedText.value.trim() !== '' && ': holds a text'}
      </summary>
      {isPasteOpen.value && <Form nearMs={Date.parse(departureUtc)} />}
    </details>
  );
}

function Form({ nearMs }: { readonly nearMs: number }) {
  const isOnline = useIsOnline();
  const outcome = pasteOutcome.value;
  return (
    <div class="report-form">
      <label for="pasted-reports">METAR, TAF, SIGMET, AIRMET, pilots’ reports, in any mixture</label>
      <textarea
        id="pasted-reports"
        rows={6}
        spellcheck={false}
        autocomplete="off"
        value={pastedText.value}
        onInput={(event) => (pastedText.value = event.currentTarget.value)}
      />
      <label for="report-files">Or text files</label>
      <input
        id="report-files"
        type="file"
        multiple
        accept=".txt,.text,.metar,.taf,text/plain"
        onChange={(event) => {
          const input = event.currentTarget;
          void addFiles([...(input.files ?? [])]).then(() => (input.value = ''));
        }}
      />
      <OperatorKeyField id="ground-operator-key" />
      <button type="button" disabled={outcome?.kind === 'sending'} onClick={() => void sendAndBrief(nearMs)}>
        Store them and brief again
      </button>
      {!isOnline && <p>There is no connection now: the text stays here until it is sent.</p>}
      <div aria-live="polite">{outcome !== undefined && <Outcome outcome={outcome} />}</div>
      <p class="quiet">
        Day and hour of a report are taken near the departure, {datedText(nearMs)}. Stored under your
        operator: a brief on this page has them where its data may be read without a key.
      </p>
    </div>
  );
}

async function sendAndBrief(nearMs: number): Promise<void> {
  if ((await sendPasted(nearMs)) > 0) briefAgain();
}

function Outcome({ outcome }: { readonly outcome: PasteOutcome }) {
  if (outcome.kind === 'sending') return <p>Being sent</p>;
  if (outcome.kind === 'not-sent')
    return <p class="complaint">Not stored, the text is kept: {outcome.why}</p>;
  const { stored, rejectedCount, rejected } = outcome.reports;
  return (
    <>
      <p>
        <strong>
          {stored} stored, {rejectedCount} refused
        </strong>
        , read near {datedText(outcome.nearMs)}
      </p>
      {rejectedCount > 0 && (
        <ul class="report-refusals">
          {rejected.map(({ line, reason, text }) => (
            <li key={`${line} ${reason} ${text}`}>
              <b>Line {line}</b>: {reason}
              <br />
              <code>{text}</code>
            </li>
          ))}
          {rejectedCount > rejected.length && (
            <li>{rejectedCount - rejected.length} more were refused and are not listed</li>
          )}
        </ul>
      )}
    </>
  );
}

/** A guess of the browser: sending is tried all the same. */
function useIsOnline(): boolean {
  const isOnline = useSignal(navigator.onLine);
  useEffect(() => {
    const look = () => {
      isOnline.value = navigator.onLine;
    };
    addEventListener('online', look);
    addEventListener('offline', look);
    return () => {
      removeEventListener('online', look);
      removeEventListener('offline', look);
    };
  }, []);
  return isOnline.value;
}
