/** Land, borders and states from the bundled atlases; loaded only once the plan view asks. */
import type { FeatureCollection, MultiLineString } from 'geojson';
import type { GeometryCollection, Topology } from 'topojson-specification';

export interface BaseMap {
  readonly land: FeatureCollection;
  readonly borders: MultiLineString;
  readonly states: MultiLineString;
}

export const BASE_MAP_ATTRIBUTION = 'Base map: Natural Earth; U.S. Census Bureau';

let loading: Promise<BaseMap> | undefined;

/** Once for all who ask; what could not be loaded is asked for again. */
export function loadBaseMap(): Promise<BaseMap> {
  loading ??= readAtlases().catch((error: unknown) => {
    loading = undefined;
    throw error;
  });
  return loading;
}

async function readAtlases(): Promise<BaseMap> {
  const [{ feature, mesh }, world, us] = await Promise.all([
    import('topojson-client'),
    import('world-atlas/countries-50m.json'),
    import('us-atlas/states-10m.json'),
  ]);
  const countries = world.default as unknown as Topology;
  const states = us.default as unknown as Topology;
  const countryObjects = countries.objects.countries as GeometryCollection;
  const stateObjects = states.objects.states as GeometryCollection;
  return {
    land: feature(countries, countries.objects.land as GeometryCollection),
    borders: mesh(countries, countryObjects, (a, b) => a !== b),
    states: mesh(states, stateObjects, (a, b) => a !== b),
  };
}
