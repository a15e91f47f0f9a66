/** Whether the screen has room for something beside the list; else it stands over it. */
import { signal } from '@preact/signals';

export const WIDE_PX = 1100;
const query = matchMedia(`(min-width: ${WIDE_PX}px)`);
export const isWide = signal(query.matches);
query.addEventListener('change', () => (isWide.value = query.matches));
