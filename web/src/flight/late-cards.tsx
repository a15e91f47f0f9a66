/** The cards that come once the brief is drawn, since nobody needs them in the first second: ground, and those for the flight. */
import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { isInvented } from '../answer/age-line.ts';
import type { Brief, BriefMember } from '../contract.ts';
import { whenIdle } from '../when-idle.ts';

type Cards = typeof import('./cards.tsx');

const cards = signal<Cards | 'asked' | 'failed' | undefined>(undefined);

function askForCards(): void {
  if (cards.peek() !== undefined && cards.peek() !== 'failed') return;
  cards.value = 'asked';
  import('./cards.tsx').then(
    (loaded) => (cards.value = loaded),
    () => (cards.value = 'failed'),
  );
}

/** The page waits for them at one place. */
export function FlightCards({ brief }: { readonly brief: Brief }) {
  useEffect(() => whenIdle(askForCards), []);
  const loaded = cards.value;
  if (typeof loaded !== 'object') return <NotYet title="Cards for the flight" />;
  return (
    <div class="flight-cards">
      <loaded.Cards brief={brief} />
    </div>
  );
}

export function Ramp({ brief: { ground, leg, data } }: { readonly brief: BriefMember }) {
  const loaded = cards.value;
  if (typeof loaded !== 'object') return <NotYet title={`Ground, ${ground.aerodrome}`} />;
  return (
    <loaded.GroundCard ground={ground} departureUtc={leg.departureUtc} isInvented={isInvented({ data })} />
  );
}

/** Nothing known yet must not look like nothing to say. */
function NotYet({ title }: { readonly title: string }) {
  return (
    <section class="late-card">
      <h2>{title}</h2>
      <p>
        {cards.value === 'failed' ? 'Not loaded: nothing is known of it. Load the page again.' : 'Loading'}
      </p>
    </section>
  );
}
