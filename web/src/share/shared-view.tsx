/** What a page of a shared brief loads beside what every page has. */
export { KeptShared } from '../kept/kept-shared-list.tsx';
export { openShared } from './open-shared.ts';
export { SharedBand, SharedBar } from './shared-band.tsx';
