/** Weather groups in words: "heavy freezing rain", "snow and mist". */
import type { Descriptor, Phenomenon, Weather } from '../formats/aerodrome-reports/conditions.ts';

/** WMO code table 4678. */
const PHENOMENA: Readonly<Record<Phenomenon, string>> = {
  DZ: 'drizzle',
  RA: 'rain',
  SN: 'snow',
  SG: 'snow grains',
  IC: 'ice crystals',
  PL: 'ice pellets',
  GR: 'hail',
  GS: 'small hail',
  UP: 'unknown precipitation',
  BR: 'mist',
  FG: 'fog',
  FU: 'smoke',
  VA: 'volcanic ash',
  DU: 'dust',
  SA: 'sand',
  HZ: 'haze',
  PY: 'spray',
  PO: 'dust whirls',
  SQ: 'squalls',
  FC: 'funnel cloud',
  SS: 'sandstorm',
  DS: 'duststorm',
};

const DESCRIPTORS: Readonly<Record<Descriptor, string>> = {
  MI: 'shallow',
  BC: 'patches of',
  PR: 'partial',
  DR: 'drifting',
  BL: 'blowing',
  SH: 'showers of',
  TS: 'thunderstorm with',
  FZ: 'freezing',
};

const MOST_GROUPS = 2;

/** Empty for none; what is in the vicinity alone hinders no view here. */
export function weatherPhrase(weather: readonly Weather[]): string {
  return weather
    .filter(({ isInVicinity }) => !isInVicinity)
    .slice(0, MOST_GROUPS)
    .map(groupWords)
    .join(' and ');
}

function groupWords({ intensity, descriptors, phenomena }: Weather): string {
  if (phenomena.length === 0) return descriptors.includes('TS') ? 'thunderstorm' : 'showers';
  const words = [
    ...(intensity === 'moderate' ? [] : [intensity]),
    ...descriptors.map((each) => DESCRIPTORS[each]),
    phenomena.map((each) => PHENOMENA[each]).join(' and '),
  ];
  return words.join(' ');
}
