/** Shared briefs that were opened on this device: each opens again, without a connection too. */
import { datedText, instantText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { forgetAllShared, keptSharedBriefs } from './kept-shared.ts';

export function KeptShared() {
  const open = keptSharedBriefs.value.filter(({ expiresUtc }) => Date.parse(expiresUtc) > nowMs.value);
  if (open.length === 0) return null;
  return (
    <section class="kept" aria-labelledby="kept-shared-title">
      <h2 id="kept-shared-title">Shared briefs opened on this device</h2>
      <ul>
        {open.map(({ id, from, to, departureUtc, createdUtc }) => (
          <li key={id}>
            <a class="kept-link" href={`/b/${id}`}>
              <b>
                {from} → {to}, {instantText(departureUtc)}
              </b>
              <span class="quiet"> shared {datedText(createdUtc)}</span>
            </a>
          </li>
        ))}
      </ul>
      <p>
        <button type="button" onClick={() => void forgetAllShared()}>
          Forget them
        </button>
      </p>
    </section>
  );
}
