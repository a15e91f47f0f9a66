/** What a page of a shared brief loads beside what every page has. */
export { openShared } from './open-shared.ts';
export { SharedBand, SharedBar } from './shared-band.tsx';
