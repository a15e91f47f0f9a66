/** A leg's own panel beside its brief: why it stands as it does, what changed and who saw it, marks, share, and its aeroplane. */
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { inUnits } from '../units.ts';
import { acknowledge, evaluateAgain } from './acts.ts';
import { heldEvaluation } from './held-evaluation.ts';
import { agoWords, utcClock } from './leg-times.ts';
import { MarkForm } from './mark-form.tsx';
import {
  acknowledgedBy,
  beforeWords,
  changeWords,
  fluidSaid,
  iceSaid,
  inoperativeWords,
  weatherSaid,
  weathersSaid,
} from './row-words.ts';
import { ShareLeg } from './share-leg.tsx';
import { canEdit, nowMs } from './store.ts';
import { TailForm } from './tail-form.tsx';

/** What is read first of a leg that is open. */
export function LegAnswer({ flight }: { readonly flight: BoardFlight }) {
  const { departureUtc } = flight;
  const held = heldEvaluation(flight);
  const inoperative = inoperativeWords(flight.inoperative);
  return (
    <div class="leg-answer">
      <p class="panel-sentence">{inUnits(flight.why, departureUtc)}</p>
      {held !== undefined && <p class="panel-radio">“{inUnits(held.radio, departureUtc)}”</p>}
      {inoperative !== '' && <strong class="tag-inoperative">{inoperative}</strong>}
      <ChangePart flight={flight} />
    </div>
  );
}

/** What is known and done of it besides. */
export function LegPanel({ flight }: { readonly flight: BoardFlight }) {
  const isEditor = canEdit.value;
  return (
    <div class="leg-panel">
      <Facts flight={flight} />
      {isEditor && <MarkForm flight={flight} />}
      <SharedPart flight={flight} />
      <TailForm key={flight.tail} flight={flight} />
      {isEditor && (
        <section class="panel-part">
          <h3>Work it out again</h3>
          <button type="button" onClick={() => evaluateAgain(flight)}>
            Work out again now
          </button>
        </section>
      )}
      {!isEditor && <p class="quiet">This link only reads: it marks, shares and enters nothing.</p>}
    </div>
  );
}

function evaluatedWords({ evaluation, failure }: BoardFlight): string {
  const last =
    evaluation === null ? 'never worked out' : `worked out ${agoWords(evaluation.atUtc, nowMs.value)}`;
  if (failure === null) return last;
  return `${last}; the last attempt failed at ${utcClock(failure.atUtc)} UTC: ${failure.sentence}`;
}

function Facts({ flight }: { readonly flight: BoardFlight }) {
  const held = heldEvaluation(flight);
  const before = beforeWords(flight);
  const fluidWhy = held?.fluidUnknownWhy ?? '';
  return (
    <section class="panel-part panel-facts">
      <dl>
        <dt>Ice</dt>
        <dd>{iceSaid(flight).text}</dd>
        <dt>Fluid</dt>
        <dd>
          {fluidSaid(flight).text}
          {fluidWhy === '' ? '' : `: ${fluidWhy}`}
        </dd>
        <dt>Weather</dt>
        <dd>
          {held === undefined ? (
            weathersSaid(flight)[0]!.text
          ) : (
            <>
              {weatherSaid(held.destination, '').text}: {held.destination.sentence}
              {held.alternate !== null && (
                <>
                  <br />
                  {weatherSaid(held.alternate, '').text}: {held.alternate.sentence}
                </>
              )}
            </>
          )}
        </dd>
        <dt>Route</dt>
        <dd>{flight.routeText}</dd>
      </dl>
      {before !== '' && <p class="quiet">{inUnits(before, flight.departureUtc)}.</p>}
      <p class="quiet">{evaluatedWords(flight)}</p>
    </section>
  );
}

function ChangePart({ flight }: { readonly flight: BoardFlight }) {
  const { change, acknowledged } = flight;
  const by = acknowledgedBy(flight);
  if (change === null) return null;
  return (
    <div class="answer-change">
      <p>
        <b>{changeWords(change, nowMs.value)}</b>: {inUnits(change.sentence, flight.departureUtc)}
        {by !== undefined && ` Acknowledged by ${by} at ${utcClock(acknowledged!.atUtc)} UTC.`}
      </p>
      {by === undefined && canEdit.value && (
        <button type="button" class="button-main" onClick={() => acknowledge(flight)}>
          I have seen this
        </button>
      )}
    </div>
  );
}

function SharedPart({ flight }: { readonly flight: BoardFlight }) {
  const { shared, departureUtc } = flight;
  if (shared === null && !canEdit.value) return null;
  return (
    <section class="panel-part">
      <h3>Share the brief</h3>
      <ShareLeg flight={flight} />
      {shared !== null && (
        <>
          <p>
            Shared at {utcClock(shared.atUtc)} UTC:{' '}
            <a href={`/b/${encodeURIComponent(shared.id)}`}>as it was then</a>.
          </p>
          {shared.since.length === 0 ? (
            <p class="quiet">The same verdict and altitude since.</p>
          ) : (
            <ul class="panel-since" aria-label="What differs since">
              {shared.since.map((line) => (
                <li key={line}>{inUnits(line, departureUtc)}</li>
              ))}
            </ul>
          )}
        </>
      )}
    </section>
  );
}
