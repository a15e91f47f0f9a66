/** The first thing that the page does: main.tsx imports it before all else. */
import { startFirstAsk } from './first-ask.ts';

startFirstAsk();
