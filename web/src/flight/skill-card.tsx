/** How the forecast did: cloud tops of the last day, forecast against reported, and ice forecast against ice reported. */
import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { SkillAnswer } from '../../../worker/schema/skill.ts';
import type { Brief } from '../contract.ts';
import { feetText, instantText } from '../numbers.ts';
import { clockText, zoneWord } from '../units.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { askSkill, askTops } from './skill-api.ts';
import { differenceWords, forecastWords, shareWords } from './skill-words.ts';

interface SkillCardProps {
  readonly brief: Brief;
}

type Found = Awaited<ReturnType<typeof askSkill>>;

/** Of all reports, asked for once a page: it is the same whatever the leg. */
const skill = signal<Found | undefined>(undefined);

/** Of the day before the flight, and of none after now. */
function beforeMsOf(brief: Brief): number {
  return Math.min(Date.now(), Date.parse(brief.brief.leg.departureUtc));
}

export function SkillCard({ brief }: SkillCardProps) {
  const [tops, setTops] = useState<Found | undefined>(undefined);
  const [round, setRound] = useState(0);
  useEffect(() => {
    const stop = new AbortController();
    void askTops(brief, beforeMsOf(brief), stop.signal).then((answer) => {
      if (!stop.signal.aborted) setTops(answer);
    });
    if (skill.peek()?.kind !== 'ok') void askSkill().then((answer) => (skill.value = answer));
    return () => stop.abort();
  }, [round]);
  const again = () => setRound((before) => before + 1);
  useEffect(() => {
    addEventListener('online', again);
    return () => removeEventListener('online', again);
  }, []);
  const [ofTops, ofAll] = [tops, skill.value];
  return (
    <section class="flight-card skill-card" aria-labelledby="skill-title">
      <h2 id="skill-title">How the forecast did</h2>
      {ofTops?.kind === 'ok' ? <Tops answer={ofTops.value} /> : <NotKnown what="tops" found={ofTops} />}
      {ofAll?.kind === 'ok' ? <Skill answer={ofAll.value} /> : <NotKnown what="comparison" found={ofAll} />}
      {[ofTops, ofAll].some((found) => found !== undefined && found.kind !== 'ok') && (
        <button type="button" onClick={again}>
          Ask again
        </button>
      )}
    </section>
  );
}

function NotKnown({ what, found }: { readonly what: string; readonly found: Found | undefined }) {
  if (found === undefined) return <p>Asking for the {what}</p>;
  return (
    <p class="readout-unknown">
      <span>
        {UNKNOWN_WORD}: the {what} could not be had from the service
      </span>
    </p>
  );
}

const TOPS_SHOWN = 12;

function Tops({ answer: { tops, topsArePartial, beforeUtc } }: { readonly answer: SkillAnswer }) {
  const shown = tops.slice(0, TOPS_SHOWN);
  return (
    <>
      <h3>Cloud tops of the 24 h before {instantText(beforeUtc)}, near this leg</h3>
      {tops.length === 0 ? (
        <p>No crew reported tops: nothing to compare.</p>
      ) : (
        <table class="skill-table">
          <caption class="for-ears">Cloud tops, forecast against reported</caption>
          <thead>
            <tr>
              <th scope="col">Place</th>
              <th scope="col">Time</th>
              <th scope="col">Reported ft</th>
              <th scope="col">Forecast ft</th>
              <th scope="col">Off by ft</th>
            </tr>
          </thead>
          <tbody>
            {shown.map((top) => (
              <tr key={`${top.operator} ${top.place} ${top.timeUtc} ${top.reportedTopFt}`}>
                <th scope="row">{top.place}</th>
                <td>
                  {clockText(top.timeUtc)} {zoneWord()}
                </td>
                <td>{feetText(top.reportedTopFt)}</td>
                <td>{forecastWords(top)}</td>
                <td>{differenceWords(top)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {(tops.length > shown.length || topsArePartial) && (
        <p class="quiet">The newest {shown.length} are shown; there are more.</p>
      )}
    </>
  );
}

function Skill({ answer }: { readonly answer: SkillAnswer }) {
  const { reports, sources, cautions, iceForecastFrom } = answer;
  const tooFew = [...new Set(sources.flatMap(({ caution }) => caution ?? []))];
  const unscored = reports.unscored.reduce((sum, { count }) => sum + count, 0);
  return (
    <>
      <h3>Ice, forecast against reported</h3>
      <p>
        {reports.total} reports: {reports.ice} of ice, {reports.noIce} of no ice, {unscored} that cannot be
        compared.
      </p>
      {tooFew.map((caution) => (
        <p key={caution}>
          <strong>{caution}</strong>
        </p>
      ))}
      {sources.length > 0 && (
        <table class="skill-table">
          <caption class="for-ears">Ice found, by source and lead time</caption>
          <thead>
            <tr>
              <th scope="col">Source</th>
              <th scope="col">Lead</th>
              <th scope="col">Ice that was forecast</th>
              <th scope="col">No ice that was forecast</th>
              <th scope="col">Air flagged</th>
              <th scope="col">Unknown</th>
            </tr>
          </thead>
          <tbody>
            {sources.map((row) => (
              <tr key={`${row.kind} ${row.name} ${row.lead}`}>
                <th scope="row">{row.kind === 'brief' ? 'the brief' : row.name}</th>
                <td>{row.lead ?? 'none'}</td>
                <td>{shareWords(row.podYes, row.counts.hits)}</td>
                <td>{shareWords(row.podNo, row.counts.correctNulls)}</td>
                <td>{row.volumePct === null ? UNKNOWN_WORD : `${Math.round(row.volumePct)} %`}</td>
                <td>{row.counts.unknown}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <ul class="quiet">
        <li>Ice counts as forecast from a chance of {Math.round(iceForecastFrom * 100)} in 100 on.</li>
        {cautions.map((caution) => (
          <li key={caution}>{caution}</li>
        ))}
      </ul>
    </>
  );
}
