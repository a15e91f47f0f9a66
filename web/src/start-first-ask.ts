/** The first thing that the page does: main.tsx imports it before all else. */
import { startFirstAsk } from './first-ask.ts';
import { loadSharedView } from './share/late-shared.ts';
import { sharedIdOf } from './shared-link.ts';

startFirstAsk();
if (sharedIdOf(location.pathname) !== undefined) void loadSharedView();
