/** All that is of shared briefs alone: not of the first load, since most pages are of a leg. */
import { signal } from '@preact/signals';

type SharedView = typeof import('./shared-view.tsx');

/** There before any shared brief is shown: each is shown with its band. */
export const sharedView = signal<SharedView | undefined>(undefined);

/** @returns undefined where it could not be loaded. */
export async function loadSharedView(): Promise<SharedView | undefined> {
  try {
    sharedView.value = await import('./shared-view.tsx');
    return sharedView.value;
  } catch {
    return undefined;
  }
}
