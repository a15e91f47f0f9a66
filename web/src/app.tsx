/** The page in its states: nothing asked, asking, refused, answered. */
import { capitalized } from '../../worker/flight/words.ts';
import { Answer } from './answer/answer.tsx';
import type { Answer as ApiAnswer } from './api.ts';
import type { Brief, BriefMember, Problem } from './contract.ts';
import { DataPanel } from './data/data-panel.tsx';
import { Cautions, Notes } from './data/notes.tsx';
import { Reports } from './data/reports.tsx';
import { isTooLongForAddress } from './device-aircraft.ts';
import { WaysTable } from './later/ways-table.tsx';
import { datedText, hPaText } from './numbers.ts';
import { Plan } from './plan/plan.tsx';
import { PatternSheet } from './section/paint.tsx';
import { PrintCode } from './share/print-code.tsx';
import { SheetView } from './sheet-view.tsx';
import { DemoLegs } from './start/demo-legs.tsx';
import { LegForm } from './start/leg-form.tsx';
import { briefState, lastBrief, legReading, legText, nowMs } from './state.ts';
import { ADVICE } from './words.ts';

export function App() {
  const state = briefState.value;
  return (
    <>
      <PatternSheet />
      <header class="masthead">
        <p class="wordmark">
          <a href="/">Rimeway</a>
        </p>
        {state.kind === 'ok' && <LegLine brief={state.value.brief} />}
        {state.kind === 'ok' && <PrintCode />}
      </header>
      <main key={state.kind === 'ok' ? 'brief' : 'start'}>
        {state.kind === 'ok' ? <BriefPage brief={state.value} /> : <StartPage state={state} />}
      </main>
    </>
  );
}

function LegLine({ brief }: { readonly brief: BriefMember }) {
  const { leg } = brief;
  return (
    <div class="leg-line">
      <h1>
        {leg.from} → {leg.to}
      </h1>
      <p>{legWords(brief)}</p>
      {lastBrief.value && (
        <p class="print-only">
          Briefed {datedText(lastBrief.value.briefedMs)}, printed {datedText(nowMs.value)}
        </p>
      )}
      {isTooLongForAddress(legText.value.aircraft ?? '') && (
        <p class="on-device">The figures of this aircraft live on this device: its link opens here only.</p>
      )}
      <details class="change-leg">
        <summary>Change the leg</summary>
        <div class="change-leg-body">
          <LegForm key={JSON.stringify(legText.value)} />
          <DemoLegs />
        </div>
      </details>
    </div>
  );
}

function legWords({ leg, limits, fluid }: BriefMember): string {
  const parts = [
    datedText(leg.departureUtc),
    `${Math.round(leg.distanceNm)} NM`,
    `on ${settingWords(limits.altimeterSettingHPa)}`,
    limits.aircraftName,
  ];
  if (fluid !== null) parts.push(`fluid ${Math.round(fluid.onBoardL)} L`);
  return parts.join(', ');
}

/** Every altitude stands on it, so one that nobody gave says so. */
function settingWords(settingHPa: number): string {
  const isGiven = lastBrief.value?.request.options?.altimeterSettingHPa !== undefined;
  return `${hPaText(settingHPa)}${isGiven ? '' : ', assumed'}`;
}

function BriefPage({ brief }: { readonly brief: Brief }) {
  return (
    <div class="brief">
      <Answer brief={brief} />
      <p class="advice">{ADVICE}</p>
      <div class="brief-body">
        <div class="brief-main">
          <SheetView brief={brief} />
          <WaysTable ways={brief.brief.ways} />
        </div>
        <div class="brief-side">
          <Plan brief={brief} />
          <div class="brief-notes">
            <Notes brief={brief.brief} />
          </div>
          <Reports brief={brief} />
          <DataPanel brief={brief.brief} />
        </div>
      </div>
      <Cautions cautions={brief.brief.cautions} />
    </div>
  );
}

type NotAnswered =
  | { readonly kind: 'empty' }
  | { readonly kind: 'loading' }
  | Exclude<ApiAnswer<Brief>, { kind: 'ok' }>;

function StartPage({ state }: { readonly state: NotAnswered }) {
  const problem = state.kind === 'problem' ? state.problem : undefined;
  return (
    <>
      <div class="start">
        <h1>Which altitude keeps this leg out of the ice?</h1>
        <Message state={state} />
        <LegForm key={`${JSON.stringify(legText.value)} ${problem?.detail ?? ''}`} problem={problem} />
        <DemoLegs />
        <p class="advice">{ADVICE}</p>
      </div>
      {problem !== undefined && <LastBriefPage />}
    </>
  );
}

/** A leg that is refused takes nothing away: the brief before it stays, and says which leg it is of. */
function LastBriefPage() {
  const last = lastBrief.value;
  if (last === undefined) return null;
  const { leg } = last.brief.brief;
  return (
    <section class="last-brief" aria-labelledby="last-brief-title">
      <h2 id="last-brief-title">
        The last brief: {leg.from} → {leg.to}
      </h2>
      <p>{legWords(last.brief.brief)}</p>
      <BriefPage brief={last.brief} />
    </section>
  );
}

function Message({ state }: { readonly state: NotAnswered }) {
  if (state.kind === 'loading') {
    return (
      <p class="message" role="status">
        Reading the air along {legText.value.route ?? 'the leg'}…
      </p>
    );
  }
  if (state.kind === 'empty' || state.kind === 'abandoned') {
    if (legReading.value.kind !== 'invalid') return null;
    return <Refusal title="This link does not hold a whole leg" detail={legReading.value.sentence} />;
  }
  if (state.kind === 'problem') return <ProblemMessage problem={state.problem} />;
  if (state.kind === 'timeout') {
    const detail = `No answer within ${Math.round(state.afterMs / 1000)} seconds. Nothing is known about this leg; try again.`;
    return <Refusal title="The service did not answer in time" detail={detail} />;
  }
  if (state.kind === 'unreachable') {
    return (
      <Refusal
        title="The service is not reached"
        detail="Nothing is known about this leg; check the connection and try again."
      />
    );
  }
  const detail = `The answer does not keep to the contract${state.where === '' ? '' : ` at ${state.where}`}, so none of it is shown.`;
  return <Refusal title="The answer could not be understood" detail={detail} />;
}

function ProblemMessage({ problem }: { readonly problem: Problem }) {
  return <Refusal title={problem.title} detail={plainDetail(problem)} />;
}

/** Without the path of the member: the form marks the field itself. */
function plainDetail({ detail, field }: Problem): string {
  const start = `${field}: `;
  return capitalized(field !== undefined && detail.startsWith(start) ? detail.slice(start.length) : detail);
}

function Refusal({ title, detail }: { readonly title: string; readonly detail: string }) {
  return (
    <div class="message message-refused" role="alert">
      <p>
        <strong>{title}</strong>
      </p>
      <p>{detail}</p>
    </div>
  );
}
