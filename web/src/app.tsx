/** The page in its states: nothing asked, asking, refused, answered, or answered from what this device keeps. */
import { durationWords } from '../../worker/flight/words.ts';
import { Answer } from './answer/answer.tsx';
import { openLeg } from './ask-leg.ts';
import { AskingBar } from './asking-bar.tsx';
import type { Brief, BriefMember } from './contract.ts';
import { DataPanel } from './data/data-panel.tsx';
import { Cautions, Notes } from './data/notes.tsx';
import { Reports } from './data/reports.tsx';
import { isTooLongForAddress } from './device-aircraft.ts';
import { FlightCards, Ramp } from './flight/late-cards.tsx';
import { Jumps } from './jumps.tsx';
import { KeptBand, KeptBar } from './kept/kept-band.tsx';
import { DepartureSlider } from './later/departure-slider.tsx';
import { WaysTable } from './later/ways-table.tsx';
import { NextPicture, useNextPicture } from './next-picture.tsx';
import { datedText, hPaText } from './numbers.ts';
import { Plan } from './plan/plan.tsx';
import { PatternSheet } from './section/paint.tsx';
import { sharedView } from './share/late-shared.ts';
import { PrintCode } from './share/print-code.tsx';
import { SheetView } from './sheet-view.tsx';
import { LegEntry } from './start/leg-entry.tsx';
import { Asking } from './start/state-message.tsx';
import { briefState, isBehind, lastBrief, leadingBrief, legText, nowMs, shownBrief } from './state.ts';
import { amountText, clockText, dateText, zoneWord } from './units.ts';
import { UnitsChoice } from './units-choice.tsx';
import { ADVICE } from './words.ts';

export function App() {
  const leading = leadingBrief.value;
  const state = briefState.value;
  const shared = sharedView.value;
  return (
    <>
      <PatternSheet />
      <header class="masthead">
        <p class="wordmark">
          <a href="/">Rimeway</a>
        </p>
        {leading !== undefined && <LegLine brief={leading.brief} />}
        {leading !== undefined && <PrintCode />}
        {leading === undefined && state.kind === 'loading' && <AskedLine />}
        <LegEntry isLeading={leading === undefined && state.kind !== 'loading'} />
      </header>
      <AskingBar />
      <KeptBar />
      {shared && <shared.SharedBar />}
      <main key={leading === undefined ? 'start' : 'brief'} aria-busy={state.kind === 'loading'}>
        {leading === undefined ? <NoBrief /> : <BriefPage brief={leading} />}
      </main>
      <NextPicture isFirst={leading === undefined && state.kind !== 'loading'}>
        <UnitsChoice />
      </NextPicture>
    </>
  );
}

/** Holds the place of the leg's line until the brief is there. */
function AskedLine() {
  return (
    <div class="leg-line leg-line-asked">
      <h1>{legText.value.route ?? ''}</h1>
      <p>{legText.value.departure ?? ''}</p>
    </div>
  );
}

function LegLine({ brief }: { readonly brief: BriefMember }) {
  const { leg } = brief;
  return (
    <div class="leg-line">
      <h1>
        {leg.from} → {leg.to}
      </h1>
      <p>
        {legWords(brief)}
        {lastBrief.value && <BriefedAt briefedMs={lastBrief.value.briefedMs} />}
      </p>
      {lastBrief.value?.request && <DepartureSlider />}
      {lastBrief.value && (
        <p class="print-only">
          Briefed {datedText(lastBrief.value.briefedMs)}, printed {datedText(nowMs.value)}
        </p>
      )}
      {isTooLongForAddress(legText.value.aircraft ?? '') && (
        <p class="on-device">The figures of this aircraft live on this device: its link opens here only.</p>
      )}
    </div>
  );
}

/** A page that was left open looks like one made now: how long ago stands in bold once it is long. */
function BriefedAt({ briefedMs }: { readonly briefedMs: number }) {
  const ageMs = nowMs.value - briefedMs;
  const isOld = ageMs > OLD_PAGE_MS;
  return (
    <span class="briefed-at">
      , briefed {isOld && `${dateText(briefedMs)} `}
      {clockText(briefedMs)} {zoneWord()}
      {isOld && <strong>, {durationWords(ageMs)} ago</strong>}
    </span>
  );
}
const OLD_PAGE_MS = 20 * 60_000;

function legWords({ leg, limits, fluid }: BriefMember): string {
  const parts = [
    datedText(leg.departureUtc),
    `${Math.round(leg.distanceNm)} NM`,
    `on ${settingWords(limits.altimeterSettingHPa)}`,
    limits.aircraftName,
  ];
  if (fluid !== null) parts.push(`fluid ${amountText(String(Math.round(fluid.onBoardL)), 'L')}`);
  return parts.join(', ');
}

/** Every altitude stands on it, so one that nobody gave says so. */
function settingWords(settingHPa: number): string {
  const request = lastBrief.value?.request;
  if (request === undefined) return `${hPaText(settingHPa)}, given or assumed`;
  const isGiven = request.options?.altimeterSettingHPa !== undefined;
  return `${hPaText(settingHPa)}${isGiven ? '' : ', assumed'}`;
}

function BriefPage({ brief }: { readonly brief: Brief }) {
  const shared = sharedView.value;
  useNextPicture();
  return (
    <div class={isBehind.value ? 'brief brief-behind' : 'brief'}>
      <KeptBand />
      {shared && <shared.SharedBand onBriefNow={openLeg} />}
      <Answer brief={brief} />
      <p class="advice">{ADVICE}</p>
      <Jumps />
      <div class="brief-body">
        <div class="brief-main">
          <SheetView brief={brief} />
          <NextPicture>
            <WaysTable ways={brief.brief.ways} />
          </NextPicture>
        </div>
        <div class="brief-side">
          <NextPicture>
            <Plan brief={brief} />
            <div class="brief-notes">
              <Notes brief={brief.brief} />
              <Ramp brief={brief.brief} />
            </div>
            <Reports brief={brief} />
            <DataPanel brief={brief.brief} />
          </NextPicture>
        </div>
      </div>
      <NextPicture>
        <FlightCards brief={brief} />
        <Cautions cautions={brief.brief.cautions} />
      </NextPicture>
    </div>
  );
}

/** A leg that is refused takes nothing away: the brief before it stays, and says which leg it is of. While one is asked for, that is said. */
function NoBrief() {
  const state = briefState.value;
  if (state.kind === 'loading') return <Asking state={state} />;
  const last = shownBrief.value;
  if (last === undefined || state.kind === 'empty') return <p class="advice">{ADVICE}</p>;
  const { leg } = last.brief;
  return (
    <section class="last-brief" aria-labelledby="last-brief-title">
      <h2 id="last-brief-title">
        The last brief: {leg.from} → {leg.to}
      </h2>
      <p>{legWords(last.brief)}</p>
      <BriefPage brief={last} />
    </section>
  );
}
