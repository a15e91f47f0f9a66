/** Both writers of ascents behind one import: IGRA version 2 and WMO FM 35 TEMP text from plain levels. */
export { writeIgra } from './sounding-igra-writer.ts';
export type { PlainLevel, PlainSounding } from './sounding-plain.ts';
export { writeTemp } from './sounding-temp-writer.ts';
