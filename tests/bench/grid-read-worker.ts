/** Reads the columns of a leg out of hours named by the caller, as a Worker of its own. Its clock stands still, so the caller measures. */
import type { R2Bucket } from '@cloudflare/workers-types';
import type { ObjectStore } from '../../worker/sources/ports.ts';
import { readGridColumns, readManifest } from '../../worker/store/grid-reader.ts';
import { createObjectStore } from '../../worker/store/object-store.ts';

/** As FINE_LEG of fine-hour.ts, which reads files and cannot be here. */
const [FROM, TO] = [
  [-87.0, 40.1],
  [-82.2, 43.4],
] as const;
const POINTS = 61;

const along = (axis: 0 | 1) =>
  Float64Array.from(
    { length: POINTS },
    (_, point) => FROM[axis] + ((TO[axis] - FROM[axis]) * point) / (POINTS - 1),
  );

/** Reads every range and gives none of them: what is left is what R2 costs. */
const forgetting = (objects: ObjectStore): ObjectStore => ({
  ...objects,
  getRange: async (key, range) => {
    await objects.getRange(key, range);
    return undefined;
  },
});

export default {
  async fetch(request: Request, { GRIDS }: { GRIDS: R2Bucket }): Promise<Response> {
    const asked = new URL(request.url).searchParams;
    const stored = createObjectStore(GRIDS);
    const objects = asked.get('what') === 'ranges' ? forgetting(stored) : stored;
    const manifests = await Promise.all(asked.getAll('key').map((key) => readManifest(objects, key)));
    const places = { lonDeg: along(0), latDeg: along(1) };
    const columns = await Promise.all(
      manifests.map((manifest) => readGridColumns(objects, manifest!, places)),
    );
    let known = 0;
    let sum = 0;
    for (const column of columns.flat()) {
      if (column.kind === 'unknown') continue;
      known += 1;
      sum += column.profile.temperatureK.reduce((total, value) => total + value, 0);
    }
    return Response.json({ known, sum });
  },
};
