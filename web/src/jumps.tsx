/** One tap to what a pilot wants in a hand: nothing is hidden, it only stands further down. */

const PLACES = [
  ['seen-title', 'What I see'],
  ['cue-title', 'Cue card'],
  ['report-title', 'Report it'],
  ['share-title', 'Share'],
  ['ground-title', 'Ground'],
  ['checklist-title', 'Before take-off'],
  ['skill-title', 'How the forecast did'],
  ['page', 'Top'],
] as const;

export function Jumps() {
  return (
    <nav class="jumps" aria-label="Further down">
      {PLACES.map(([id, words]) => (
        <button key={id} type="button" onClick={() => jumpTo(id)}>
          {words}
        </button>
      ))}
    </nav>
  );
}

/** Who goes by keyboard or by ear is there too. */
function jumpTo(id: string): void {
  const heading = document.getElementById(id);
  if (heading === null) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
  heading.scrollIntoView();
}
