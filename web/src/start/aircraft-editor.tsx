/** Every figure of the chosen aircraft, to be replaced by those of the operator's flight manual. */
import { useSignal } from '@preact/signals';
import type { AircraftProfile, OXYGEN_KINDS } from '../../../worker/schema/aircraft.ts';
import type { WingSkin } from '../../../worker/schema/ground-words.ts';
import { forgetOnDevice, keepOnDevice, keptAircraft } from '../device-aircraft.ts';
import { type AircraftDraft, type DraftReading, draftOf, isEditedId, readDraft } from './aircraft-draft.ts';
import { FIGURE_GROUPS, FIGURE_TABLES, type Figure, PROTECTION_FIGURES } from './aircraft-figures.ts';
import { FigureField } from './figure-field.tsx';
import { PerformanceRows } from './performance-rows.tsx';

interface AircraftEditorProps {
  readonly profile: AircraftProfile;
  /** The profile as text, or what cannot be taken, for the form to refuse. */
  readonly onValue: (aircraftText: string) => void;
  /** Back to the figures of the list. */
  readonly onReset: () => void;
}

export function AircraftEditor({ profile, onValue, onReset }: AircraftEditorProps) {
  const isOpen = useSignal(false);
  return (
    <details class="aircraft-editor" onToggle={(event) => (isOpen.value = event.currentTarget.open)}>
      <summary>Figures of this aircraft{isEditedId(profile.id) && ': edited'}</summary>
      {isOpen.value && <EditorBody profile={profile} onValue={onValue} onReset={onReset} />}
    </details>
  );
}

function EditorBody({ profile, onValue, onReset }: AircraftEditorProps) {
  const draft = useSignal<AircraftDraft>(
    draftOf(
      profile,
      keptAircraft.value.map(({ id }) => id),
    ),
  );
  const reading = readDraft(draft.value);
  const complaints = reading.kind === 'invalid' ? reading.complaints : {};
  const change = (changed: Partial<AircraftDraft>) => {
    draft.value = { ...draft.value, ...changed };
    takeOver(readDraft(draft.value), onValue);
  };
  const setFigure = (path: string, text: string) =>
    change({ figures: { ...draft.value.figures, [path]: text } });
  const fields = (figures: readonly Figure[]) =>
    figures.map((figure) => (
      <FigureField
        key={figure.path}
        figure={figure}
        value={draft.value.figures[figure.path] ?? ''}
        complaint={complaints[figure.path]}
        onValue={(text) => setFigure(figure.path, text)}
      />
    ));
  return (
    <div class="editor-body">
      <p class="editor-note">
        Take every figure from your flight manual before you use a brief for a flight: what you do not change
        is invented.
      </p>
      <div class="figures">
        <FigureField
          figure={{ path: 'name', label: 'Name' }}
          value={draft.value.name}
          complaint={complaints.name}
          onValue={(name) => change({ name })}
        />
        <Certified isCertified={draft.value.isCertified} onValue={(isCertified) => change({ isCertified })} />
        <Choice
          name="oxygen"
          label="Oxygen"
          words={OXYGEN_WORDS}
          value={draft.value.oxygen}
          onValue={(oxygen) => change({ oxygen })}
        />
      </div>
      {FIGURE_GROUPS.map(({ title, figures }) => (
        <fieldset key={title}>
          <legend>{title}</legend>
          <div class="figures">{fields(figures)}</div>
        </fieldset>
      ))}
      <fieldset>
        <legend>Protection: {PROTECTION_WORDS[profile.protection.kind]}</legend>
        <div class="figures">{fields(PROTECTION_FIGURES[profile.protection.kind])}</div>
      </fieldset>
      <FigureField
        figure={{ path: 'landingWithIce.flapNote', label: 'Flaps with ice left, a note' }}
        value={draft.value.flapNote}
        complaint={complaints['landingWithIce.flapNote']}
        onValue={(flapNote) => change({ flapNote })}
      />
      <OnGround draft={draft.value} complaints={complaints} change={change} />
      <div class="tables">
        {FIGURE_TABLES.map((table) => (
          <PerformanceRows
            key={table.path}
            table={table}
            rows={draft.value.tables[table.path]}
            complaints={complaints}
            onRows={(rows) => change({ tables: { ...draft.value.tables, [table.path]: rows } })}
          />
        ))}
      </div>
      <EditorFoot profile={profile} complaints={complaints} onReset={onReset} />
    </div>
  );
}

interface OnGroundProps {
  readonly draft: AircraftDraft;
  readonly complaints: Readonly<Record<string, string>>;
  readonly change: (changed: Partial<AircraftDraft>) => void;
}

function OnGround({ draft, complaints, change }: OnGroundProps) {
  return (
    <>
      <FigureField
        figure={{ path: 'groundFluids', label: 'Ground fluids that it lists: I, II, III, IV' }}
        value={draft.groundFluids}
        complaint={complaints['groundFluids.0'] ?? complaints.groundFluids}
        onValue={(groundFluids) => change({ groundFluids })}
      />
      <Choice
        name="wingSkin"
        label="Skin of the wing"
        words={SKIN_WORDS}
        value={draft.wingSkin}
        onValue={(wingSkin) => change({ wingSkin })}
      />
    </>
  );
}

const PROTECTION_WORDS = { fluid: 'fluid', boots: 'boots', none: 'none' } as const;

/** What does not fit goes on as it is: the form refuses it and says why. */
function takeOver(reading: DraftReading, onValue: (aircraftText: string) => void): void {
  if (reading.kind === 'profile') keepOnDevice(reading.profile);
  onValue(JSON.stringify(reading.kind === 'profile' ? reading.profile : reading.unchecked));
}

interface EditorFootProps {
  readonly profile: AircraftProfile;
  readonly complaints: Readonly<Record<string, string>>;
  readonly onReset: () => void;
}

function EditorFoot({ profile, complaints, onReset }: EditorFootProps) {
  const count = Object.keys(complaints).length;
  return (
    <div class="editor-foot">
      <p role="status">
        {count === 0
          ? isEditedId(profile.id)
            ? 'Kept on this device; sent with the leg.'
            : 'Nothing changed yet; what you change is kept on this device and sent with the leg.'
          : `${count} ${count === 1 ? 'figure does' : 'figures do'} not fit: not sent until mended.`}
      </p>
      <button
        type="button"
        onClick={() => {
          if (isEditedId(profile.id)) forgetOnDevice(profile.id);
          onReset();
        }}
      >
        Back to the invented figures
      </button>
    </div>
  );
}

interface CertifiedProps {
  readonly isCertified: boolean;
  readonly onValue: (isCertified: boolean) => void;
}

function Certified({ isCertified, onValue }: CertifiedProps) {
  return (
    <p class="figure figure-check">
      <input
        id="figure-certifiedForIcing"
        type="checkbox"
        checked={isCertified}
        onChange={(event) => onValue(event.currentTarget.checked)}
      />
      <label for="figure-certifiedForIcing">Certified for flight in icing</label>
    </p>
  );
}

const OXYGEN_WORDS: Readonly<Record<(typeof OXYGEN_KINDS)[number], string>> = {
  none: 'none on board',
  'on-board': 'on board',
  pressurized: 'cabin pressurized',
};

const SKIN_WORDS: Readonly<Record<WingSkin, string>> = { metal: 'metal', composite: 'composite' };

interface ChoiceProps {
  readonly name: string;
  readonly label: string;
  readonly words: Readonly<Record<string, string>>;
  /** Empty: not said. */
  readonly value: string;
  readonly onValue: (value: string) => void;
}

function Choice({ name, label, words, value, onValue }: ChoiceProps) {
  const id = `figure-${name}`;
  return (
    <p class="figure">
      <label for={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onValue(event.currentTarget.value)}>
        <option value="">not said</option>
        {Object.entries(words).map(([kind, word]) => (
          <option key={kind} value={kind}>
            {word}
          </option>
        ))}
      </select>
    </p>
  );
}
