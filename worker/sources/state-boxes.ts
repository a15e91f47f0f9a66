/**
 * Boxes around the states that bulletins of the contiguous United States name before an area: where it is when one of its
 * fixes has no known place.
 *
 * @source  U.S. Census Bureau, cartographic boundaries 1:10,000,000, in whole degrees outwards.
 * @checked tests/sources/state-boxes.test.ts, against the same boundaries as the page draws them
 */
import type { Box } from '../flight/hazard-areas.ts';

type Edges = readonly [southDeg: number, northDeg: number, westDeg: number, eastDeg: number];

const STATES: ReadonlyMap<string, Edges> = new Map<string, Edges>([
  ['AL', [30, 36, -89, -84]],
  ['AR', [33, 37, -95, -89]],
  ['AZ', [31, 38, -115, -109]],
  ['CA', [32, 43, -125, -114]],
  ['CO', [36, 42, -110, -102]],
  ['CT', [40, 43, -74, -71]],
  ['DC', [38, 39, -78, -76]],
  ['DE', [38, 40, -76, -75]],
  ['FL', [24, 32, -88, -80]],
  ['GA', [30, 36, -86, -80]],
  ['IA', [40, 44, -97, -90]],
  ['ID', [41, 50, -118, -111]],
  ['IL', [36, 43, -92, -87]],
  ['IN', [37, 42, -89, -84]],
  ['KS', [36, 41, -103, -94]],
  ['KY', [36, 40, -90, -81]],
  ['LA', [28, 34, -95, -88]],
  ['MA', [41, 43, -74, -69]],
  ['MD', [37, 40, -80, -75]],
  ['ME', [43, 48, -72, -66]],
  ['MI', [41, 49, -91, -82]],
  ['MN', [43, 50, -98, -89]],
  ['MO', [35, 41, -96, -89]],
  ['MS', [30, 35, -92, -88]],
  ['MT', [44, 50, -117, -104]],
  ['NC', [33, 37, -85, -75]],
  ['ND', [45, 50, -105, -96]],
  ['NE', [40, 44, -105, -95]],
  ['NH', [42, 46, -73, -70]],
  ['NJ', [38, 42, -76, -73]],
  ['NM', [31, 38, -110, -103]],
  ['NV', [35, 43, -121, -114]],
  ['NY', [40, 46, -80, -71]],
  ['OH', [38, 42, -85, -80]],
  ['OK', [33, 38, -104, -94]],
  ['OR', [41, 47, -125, -116]],
  ['PA', [39, 43, -81, -74]],
  ['RI', [41, 43, -72, -71]],
  ['SC', [32, 36, -84, -78]],
  ['SD', [42, 46, -105, -96]],
  ['TN', [34, 37, -91, -81]],
  ['TX', [25, 37, -107, -93]],
  ['UT', [36, 43, -115, -109]],
  ['VA', [36, 40, -84, -75]],
  ['VT', [42, 46, -74, -71]],
  ['WA', [45, 50, -125, -116]],
  ['WI', [42, 48, -93, -86]],
  ['WV', [37, 41, -83, -77]],
  ['WY', [40, 46, -112, -104]],
]);
/** All of the Great Lakes, whichever is named. */
const LAKES = new Set(['LO', 'LE', 'LH', 'LM', 'LS']);
const LAKE_EDGES: Edges = [41, 50, -93, -75];
const SEA_WORDS = new Set(['AND', 'ADJ', 'CSTL', 'WTRS']);
/** Areas reach over the borders of their states a little, and over the sea further; degrees. */
const MARGIN_DEG = 2;
const SEA_MARGIN_DEG = 6;

/** @returns undefined where a word is no state, lake or coastal waters: nothing can be left out then. */
export function statesBox(places: string | undefined): Box | undefined {
  const words = (places ?? '').split(/\s+/).filter((word) => word !== '');
  const hasSea = words.includes('WTRS');
  const named = words.filter((word) => !SEA_WORDS.has(word));
  const edges: Edges[] = [];
  for (const word of named) {
    const found = LAKES.has(word) ? LAKE_EDGES : STATES.get(word);
    if (found === undefined) return undefined;
    edges.push(found);
  }
  if (edges.length === 0) return undefined;
  const marginDeg = hasSea ? SEA_MARGIN_DEG : MARGIN_DEG;
  return {
    southDeg: Math.min(...edges.map(([south]) => south)) - marginDeg,
    northDeg: Math.max(...edges.map(([, north]) => north)) + marginDeg,
    westDeg: Math.min(...edges.map(([, , west]) => west)) - marginDeg,
    eastDeg: Math.max(...edges.map(([, , , east]) => east)) + marginDeg,
  };
}
