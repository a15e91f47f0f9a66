/** The views of pilots' notes are asked for with the first brief that has any. */
import { signal } from '@preact/signals';
import { type Brief, featuresOf } from '../contract.ts';

type Views = typeof import('./note-views.ts');

const loaded = signal<Views | undefined>(undefined);
let isAsked = false;

export const hasNotes = (brief: Brief) => featuresOf(brief, 'pilot-note').length > 0;

/** undefined without notes, and until the views are there: whoever reads this is drawn again then. */
export function noteViews(brief: Brief): Views | undefined {
  if (!hasNotes(brief)) return undefined;
  if (!isAsked) {
    isAsked = true;
    import('./note-views.ts').then(
      (views) => (loaded.value = views),
      // Asked for again with the next drawing.
      () => (isAsked = false),
    );
  }
  return loaded.value;
}
