/** The demo's legs, each one tap. */
import { openLeg } from '../ask-leg.ts';
import { demoState } from '../state.ts';
import { legTextFromRequest } from '../url-state.ts';

export function DemoLegs() {
  const state = demoState.value;
  if (state.kind === 'loading') return <p class="quiet">Looking for demo legs…</p>;
  if (state.kind !== 'ok' || state.value.legs.length === 0) {
    return <p class="quiet">This instance has no demo legs.</p>;
  }
  const { scenario, legs } = state.value;
  return (
    <section class="demo" aria-labelledby="demo-title">
      <h2 id="demo-title">Demo legs</h2>
      <p class="quiet">{scenario}</p>
      <ul>
        {legs.map((leg) => (
          <li key={leg.id}>
            <button
              type="button"
              onClick={() => {
                openLeg(legTextFromRequest(leg.request));
                // The answer comes first: the list was scrolled to, the sheet begins at its top.
                window.scrollTo(0, 0);
              }}
            >
              <b>{leg.title}</b>
              <span>{leg.say}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
