/** Entry of the Worker: builds the real stores from the bindings and hands over to the application. */
import { createApp } from './app.ts';
import { type Bindings, readSettings } from './env.ts';
import aerodromes from './generated/aerodromes.json';
import { createGridRepository } from './store/grid-repository.ts';
import { createObjectStore } from './store/object-store.ts';
import { type AerodromeRow, createPlaceRepository, indexAerodromes } from './store/place-repository.ts';
import { createSoundingRepository } from './store/sounding-repository.ts';

const aerodromeIndex = indexAerodromes(aerodromes as unknown as AerodromeRow[]);

export default {
  fetch(request: Request, bindings: Bindings): Response | Promise<Response> {
    const deps = {
      soundings: createSoundingRepository(bindings.DB),
      grids: createGridRepository(bindings.DB),
      objects: createObjectStore(bindings.GRIDS),
      places: createPlaceRepository(bindings.DB, aerodromeIndex),
      nowMs: () => Date.now(),
    };
    return createApp(deps, readSettings(bindings)).fetch(request);
  },
};
