/** The report: composed in the standard coding from what was seen, to be read out on the radio, and stored with the service. */
import { batch, type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { composePirep, type EntryFault } from '../../../worker/formats/pilot-reports/compose.ts';
import { isInvented } from '../answer/age-line.ts';
import { BigChoice } from '../big-choice.tsx';
import type { Brief, BriefMember } from '../contract.ts';
import { storedText, storeText } from '../device-value.ts';
import { LabelledInput } from '../labelled-input.tsx';
import { datedText, feetText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { UNKNOWN_WORD } from '../words.ts';
import { OperatorKeyField } from './operator-key-field.tsx';
import { forgetOwnReport, type OwnReport, ownReports, sendOwnReport, sendWaiting } from './own-reports.ts';
import {
  type AmountChoice,
  type IceChoice,
  iceChoiceOf,
  isLighter,
  type KindChoice,
  NO_FIELDS,
  type ReportDraft,
  type ReportFields,
  reportEntryOf,
  reportPlaceAt,
  WEATHER_CHOICES,
} from './report-draft.ts';
import { type Here, judgeHere, staticOfGauge } from './seen-here.ts';
import { entryOf, forgetSeen, type SeenState } from './seen-state.ts';

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

const AMOUNT_WORDS: Readonly<Record<AmountChoice, string>> = {
  unstated: 'not said',
  few: 'few',
  scattered: 'scattered',
  broken: 'broken',
  overcast: 'overcast',
};

interface ReportCardProps {
  readonly brief: Brief;
  readonly here: Here | undefined;
  readonly state: SeenState;
}

export function ReportCard({ brief, here, state }: ReportCardProps) {
  const typed = useSignal<Partial<ReportFields>>(freshFields());
  useEffect(() => {
    const again = () => void sendWaiting();
    again();
    addEventListener('online', again);
    return () => removeEventListener('online', again);
  }, []);
  return (
    <section class="flight-card report-card" aria-labelledby="report-title">
      <h2 id="report-title">Report it</h2>
      {here === undefined ? (
        <p class="readout-unknown">
          <span>{UNKNOWN_WORD}: where you are, since this altitude was not flown</span>
        </p>
      ) : (
        <Draft brief={brief.brief} here={here} state={state} typed={typed} />
      )}
      <OwnReports />
    </section>
  );
}

interface DraftProps {
  readonly brief: BriefMember;
  readonly here: Here;
  readonly state: SeenState;
  readonly typed: Signal<Partial<ReportFields>>;
}

function Draft({ brief, here, state, typed }: DraftProps) {
  const atMs = nowMs.value;
  const seen = entryOf(state, here, atMs);
  const suggested = iceChoiceOf(judgeHere(brief, here, seen), seen);
  const fields: ReportFields = { ...NO_FIELDS, ...(suggested && { ice: suggested }), ...typed.value };
  const place = reportPlaceAt(brief, { here, nowMs: atMs, isInvented: isInvented(brief) });
  if (place === undefined)
    return (
      <p class="readout-unknown">
        <span>{UNKNOWN_WORD}: the leg has no fix that a report can name</span>
      </p>
    );
  const draft = reportEntryOf(place, fields, {
    temperatureC: seen.gaugeC === undefined ? undefined : staticOfGauge(here, seen.gaugeC),
    signs: seen.signs,
    isIceSeen: seen.thicknessMm > 0,
  });
  const isOwnWord = typed.value.ice !== undefined;
  return (
    <>
      <Fields
        fields={fields}
        plannedFt={place.plannedFt}
        iceLabel={suggested !== undefined && !isOwnWord ? 'Ice, by what you entered above' : 'Ice'}
        warning={
          isOwnWord && isLighter(fields.ice, suggested)
            ? `What you entered above is ${ICE_WORDS[suggested!]}`
            : ''
        }
        typed={typed}
      />
      <Composed
        draft={draft}
        onSent={() =>
          batch(() => {
            typed.value = freshFields();
            forgetSeen(state);
          })
        }
      />
    </>
  );
}

interface FieldsProps {
  readonly fields: ReportFields;
  readonly plannedFt: number;
  readonly iceLabel: string;
  /** '' for none. */
  readonly warning: string;
  readonly typed: Signal<Partial<ReportFields>>;
}

function Fields({ fields, plannedFt, iceLabel, warning, typed }: FieldsProps) {
  const change = (changed: Partial<ReportFields>) => {
    typed.value = { ...typed.value, ...changed };
  };
  const text = (
    name: 'fromFt' | 'toFt' | 'altitudeFt' | 'time' | 'topsFt' | 'basesFt',
    label: string,
    hint = '',
  ) => (
    <LabelledInput
      id={`report-${name}`}
      label={label}
      hint={hint}
      inputMode="numeric"
      value={fields[name]}
      onText={(value) => change({ [name]: value })}
    />
  );
  return (
    <div class="seen-form">
      <BigChoice label={iceLabel} words={ICE_WORDS} value={fields.ice} onChoose={(ice) => change({ ice })} />
      {warning !== '' && <p class="complaint">{warning}</p>}
      {fields.ice !== 'not-reported' && fields.ice !== 'none' && (
        <>
          <BigChoice
            label="Kind"
            words={KIND_WORDS}
            value={fields.kind}
            onChoose={(kind) => change({ kind })}
          />
          {text('fromFt', 'Ice from, ft')}
          {text('toFt', 'Ice to, ft')}
        </>
      )}
      {text('altitudeFt', 'Your altitude, ft', 'unknown')}
      {fields.altitudeFt === '' && (
        <button type="button" onClick={() => change({ altitudeFt: String(plannedFt) })}>
          {feetText(plannedFt)} ft, as planned here
        </button>
      )}
      {text('time', 'Time, UTC hhmm')}
      {text('topsFt', 'Cloud tops, ft')}
      {text('basesFt', 'Cloud bases, ft')}
      {(fields.topsFt !== '' || fields.basesFt !== '') && (
        <BigChoice
          label="How much cloud"
          words={AMOUNT_WORDS}
          value={fields.amount}
          onChoose={(amount) => change({ amount })}
        />
      )}
      <WeatherGroups weather={fields.weather} onWeather={(weather) => change({ weather })} />
      <LabelledInput
        id="report-type"
        label="Type of aeroplane, up to 4 letters"
        value={fields.aircraftType}
        onText={(aircraftType) => {
          storeText(TYPE_KEY, aircraftType);
          change({ aircraftType });
        }}
      />
      <LabelledInput
        id="report-remarks"
        label="Remarks"
        value={fields.remarks}
        onText={(remarks) => change({ remarks })}
      />
    </div>
  );
}

interface WeatherGroupsProps {
  readonly weather: ReportFields['weather'];
  readonly onWeather: (weather: ReportFields['weather']) => void;
}

function WeatherGroups({ weather, onWeather }: WeatherGroupsProps) {
  const toggled = (group: (typeof WEATHER_CHOICES)[number]) =>
    weather.includes(group) ? weather.filter((each) => each !== group) : [...weather, group];
  return (
    <fieldset class="big-choice">
      <legend>Weather</legend>
      {WEATHER_CHOICES.map((group) => (
        <button
          key={group}
          type="button"
          aria-pressed={weather.includes(group)}
          onClick={() => onWeather(toggled(group))}
        >
          {group}
        </button>
      ))}
    </fieldset>
  );
}

const FIELD_WORDS: Readonly<Record<string, string>> = {
  time: 'Time',
  altitudeFt: 'Your altitude',
  icing: 'Ice',
  'icing.lowerFt': 'Ice from',
  'icing.upperFt': 'Ice to',
  'sky.0.topFt': 'Cloud tops',
  'sky.0.baseFt': 'Cloud bases',
  aircraftType: 'Type of aeroplane',
  temperatureC: 'Temperature',
  remarks: 'Remarks',
};

function Composed({ draft, onSent }: { readonly draft: ReportDraft; readonly onSent: () => void }) {
  if (draft.kind === 'faults') return <Faults faults={draft.faults} />;
  const { entry } = draft;
  const composed = composePirep(entry);
  if (composed.kind === 'faults') return <Faults faults={composed.faults} />;
  return (
    <div class="report-composed">
      <p>
        {composed.isUrgent && <strong>Urgent. </strong>}
        For {datedText(entry.timeMs)}, to read out or to send:
      </p>
      <p>
        <code>{composed.text}</code>
      </p>
      <OperatorKeyField id="operator-key" />
      <button
        type="button"
        class="report-send"
        onClick={() => {
          void sendOwnReport({ text: composed.text, timeMs: entry.timeMs });
          onSent();
        }}
      >
        Keep and send
      </button>
      <p class="quiet">Kept on this device until it is stored. This sends nothing to a controller.</p>
    </div>
  );
}

function Faults({ faults }: { readonly faults: readonly EntryFault[] }) {
  return (
    <ul class="report-faults" aria-live="polite">
      {faults.map(({ field, found, expected }) => (
        <li key={field} class="complaint">
          {FIELD_WORDS[field] ?? field}: found {found}, expected {expected}
        </li>
      ))}
    </ul>
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

/** The next report begins empty, but for the aeroplane. */
function freshFields(): Partial<ReportFields> {
  return { aircraftType: (storedText(TYPE_KEY) ?? '').slice(0, 4) };
}
