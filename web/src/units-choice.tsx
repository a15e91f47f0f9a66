/** Units and time, chosen once for this device. */
import { chooseUnits, type Units, units } from './units.ts';

interface Question<Name extends keyof Units = keyof Units> {
  readonly name: Name;
  readonly label: string;
  readonly choices: readonly Units[Name][];
}

const QUESTIONS: readonly Question[] = [
  { name: 'time', label: 'Time', choices: ['UTC', 'local'] },
  { name: 'ice', label: 'Ice', choices: ['mm', 'in'] },
  { name: 'fluid', label: 'Fluid', choices: ['L', 'US gal'] },
];

export function UnitsChoice() {
  return (
    <footer class="units">
      <form aria-label="Units and time on this device">
        {QUESTIONS.map(({ name, label, choices }) => (
          <fieldset key={name}>
            <legend>{label}</legend>
            {choices.map((choice) => (
              <label key={choice}>
                <input
                  type="radio"
                  name={name}
                  value={choice}
                  checked={units.value[name] === choice}
                  onChange={() => chooseUnits({ [name]: choice })}
                />{' '}
                {choice}
              </label>
            ))}
          </fieldset>
        ))}
        <p class="quiet">
          Kept on this device. Altitudes are feet and flight levels, speeds knots, temperatures °C.
        </p>
      </form>
    </footer>
  );
}
