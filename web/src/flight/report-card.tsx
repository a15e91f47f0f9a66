/** The report: composed in the standard coding from what was seen, to be read out on the radio, and stored with the service. */
import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { composePirep, type ReportEntry } from '../../../worker/formats/pilot-reports/compose.ts';
import { BigChoice } from '../big-choice.tsx';
import type { Brief, BriefMember, Candidate } from '../contract.ts';
import { datedText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { OperatorKeyField } from './operator-key-field.tsx';
import { forgetOwnReport, type OwnReport, ownReports, sendOwnReport, sendWaiting } from './own-reports.ts';
import {
  type IceChoice,
  iceChoiceOf,
  type KindChoice,
  NO_FIELDS,
  type ReportFields,
  reportEntryOf,
  reportPlaceAt,
  WEATHER_CHOICES,
} from './report-draft.ts';
import { type Here, judgeHere, staticOfGauge } from './seen-here.ts';
import { entryOf, type SeenState } from './seen-state.ts';

const ICE_WORDS: Readonly<Record<IceChoice, string>> = {
  'not-reported': 'not said',
  none: 'no ice met',
  trace: 'trace',
  light: 'light',
  moderate: 'moderate',
  severe: 'severe',
};
const KIND_WORDS: Readonly<Record<KindChoice, string>> = {
  unstated: 'not said',
  rime: 'rime',
  mixed: 'mixed',
  clear: 'clear ice',
};

interface ReportCardProps {
  readonly brief: Brief;
  readonly candidate: Candidate | undefined;
  readonly here: Here | undefined;
  readonly state: SeenState;
}

export function ReportCard({ brief, candidate, here, state }: ReportCardProps) {
  const typed = useSignal<Partial<ReportFields>>({ aircraftType: aircraftTypeKept() });
  useEffect(() => {
    void sendWaiting();
    const again = () => void sendWaiting();
    addEventListener('online', again);
    return () => removeEventListener('online', again);
  }, []);
  return (
    <section class="flight-card report-card" aria-labelledby="report-title">
      <h2 id="report-title">Report it</h2>
      {here === undefined || candidate === undefined ? (
        <p class="readout-unknown">
          <span>{UNKNOWN_WORD}: where you are, since this altitude was not flown</span>
        </p>
      ) : (
        <Draft brief={brief.brief} candidate={candidate} here={here} state={state} typed={typed} />
      )}
      <OwnReports />
    </section>
  );
}

interface DraftProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate;
  readonly here: Here;
  readonly state: SeenState;
  readonly typed: Signal<Partial<ReportFields>>;
}

function Draft({ brief, candidate, here, state, typed }: DraftProps) {
  const seen = entryOf(state);
  const suggested = iceChoiceOf(judgeHere(brief, here, seen), seen);
  const fields: ReportFields = { ...NO_FIELDS, ...(suggested && { ice: suggested }), ...typed.value };
  const place = reportPlaceAt(brief, candidate, { ...here, nowMs: nowMs.value });
  if (place === undefined)
    return (
      <p class="readout-unknown">
        <span>{UNKNOWN_WORD}: the leg has no fix that a report can name</span>
      </p>
    );
  const temperatureC = seen.gaugeC === undefined ? undefined : staticOfGauge(here, seen.gaugeC);
  const entry = reportEntryOf(place, fields, { temperatureC, signs: seen.signs });
  return (
    <>
      <Fields
        fields={fields}
        isSuggested={suggested !== undefined && typed.value.ice === undefined}
        typed={typed}
      />
      <Composed entry={entry} />
    </>
  );
}

interface FieldsProps {
  readonly fields: ReportFields;
  /** The word for the ice is that of what was seen. */
  readonly isSuggested: boolean;
  readonly typed: Signal<Partial<ReportFields>>;
}

function Fields({ fields, isSuggested, typed }: FieldsProps) {
  const change = (changed: Partial<ReportFields>) => {
    typed.value = { ...typed.value, ...changed };
  };
  const toggle = (group: ReportFields['weather'][number]) =>
    change({
      weather: fields.weather.includes(group)
        ? fields.weather.filter((each) => each !== group)
        : [...fields.weather, group],
    });
  return (
    <div class="seen-form">
      <BigChoice
        label={isSuggested ? 'Ice, by what you entered above' : 'Ice'}
        words={ICE_WORDS}
        value={fields.ice}
        onChoose={(ice) => change({ ice })}
      />
      {fields.ice !== 'not-reported' && fields.ice !== 'none' && (
        <>
          <BigChoice
            label="Kind"
            words={KIND_WORDS}
            value={fields.kind}
            onChoose={(kind) => change({ kind })}
          />
          <TextField label="Ice from, ft" value={fields.fromFt} onText={(fromFt) => change({ fromFt })} />
          <TextField label="Ice to, ft" value={fields.toFt} onText={(toFt) => change({ toFt })} />
        </>
      )}
      <TextField label="Cloud tops, ft" value={fields.topsFt} onText={(topsFt) => change({ topsFt })} />
      <TextField label="Cloud bases, ft" value={fields.basesFt} onText={(basesFt) => change({ basesFt })} />
      <fieldset class="big-choice">
        <legend>Weather</legend>
        {WEATHER_CHOICES.map((group) => (
          <button
            key={group}
            type="button"
            aria-pressed={fields.weather.includes(group)}
            onClick={() => toggle(group)}
          >
            {group}
          </button>
        ))}
      </fieldset>
      <TextField
        label="Type of aeroplane, up to 4 letters"
        value={fields.aircraftType}
        isWord
        onText={(aircraftType) => {
          keepAircraftType(aircraftType);
          change({ aircraftType });
        }}
      />
      <TextField label="Remarks" value={fields.remarks} isWord onText={(remarks) => change({ remarks })} />
    </div>
  );
}

interface TextFieldProps {
  readonly label: string;
  readonly value: string;
  readonly isWord?: boolean;
  readonly onText: (text: string) => void;
}

function TextField({ label, value, isWord = false, onText }: TextFieldProps) {
  const id = `report-${label.toLowerCase().replaceAll(/[^a-z]+/g, '-')}`;
  return (
    <p class="seen-measured">
      <label for={id}>{label}</label>
      <input
        id={id}
        autocomplete="off"
        inputmode={isWord ? 'text' : 'numeric'}
        value={value}
        onInput={(event) => onText(event.currentTarget.value)}
      />
    </p>
  );
}

function Composed({ entry }: { readonly entry: ReportEntry }) {
  const composed = composePirep(entry);
  if (composed.kind === 'faults')
    return (
      <ul class="report-faults" aria-live="polite">
        {composed.faults.map(({ field, found, expected }) => (
          <li key={field} class="complaint">
            {field}: found {found}, expected {expected}
          </li>
        ))}
      </ul>
    );
  return (
    <div class="report-composed">
      <p>
        {composed.isUrgent && <strong>Urgent. </strong>}
        For {datedText(entry.timeMs)}, to read out or to send:
      </p>
      <p>
        <code>{composed.text}</code>
      </p>
      <Sending text={composed.text} timeMs={entry.timeMs} />
    </div>
  );
}

function Sending({ text, timeMs }: { readonly text: string; readonly timeMs: number }) {
  return (
    <>
      <OperatorKeyField id="operator-key" />
      <button type="button" class="report-send" onClick={() => void sendOwnReport({ text, timeMs })}>
        Keep and send
      </button>
      <p class="quiet">Kept on this device until it is stored. This sends nothing to a controller.</p>
    </>
  );
}

const STATE_WORDS: Readonly<Record<OwnReport['state'], string>> = {
  waiting: 'waiting',
  stored: 'stored',
  refused: 'refused',
};

function OwnReports() {
  const reports = ownReports.value;
  if (reports.length === 0) return null;
  return (
    <div class="own-reports">
      <h3>Your reports</h3>
      <ul aria-live="polite">
        {reports.map((report) => (
          <li key={`${report.timeMs} ${report.text}`} data-state={report.state}>
            <code>{report.text}</code>
            <p>
              <b>{STATE_WORDS[report.state]}</b>
              {report.why !== '' && `: ${report.why}`}{' '}
              {report.state === 'waiting' && (
                <button type="button" onClick={() => void sendWaiting()}>
                  Send now
                </button>
              )}{' '}
              <button type="button" onClick={() => forgetOwnReport(report)}>
                Forget
              </button>
            </p>
          </li>
        ))}
      </ul>
    </div>
  );
}

const TYPE_KEY = 'rimeway-aircraft-type';

function aircraftTypeKept(): string {
  try {
    return (localStorage.getItem(TYPE_KEY) ?? '').slice(0, 4);
  } catch {
    return '';
  }
}

function keepAircraftType(text: string): void {
  try {
    localStorage.setItem(TYPE_KEY, text);
  } catch {
    // Storage may be refused: it is typed again then.
  }
}
