/**
 * The stores as one message of the queue sees them: what was read once is read no more, since its flights share stations, hours and
 * chunks. The reading counts from the first of them.
 */
import type { BriefReads, ObjectReader } from '../sources/ports.ts';

/** Bytes of ranges that are kept for the flights that follow. */
const MOST_BYTES = 24 * 1024 * 1024;

export function rememberedReads(deps: BriefReads): BriefReads {
  const answers = new Map<string, Promise<unknown>>();
  const once = <Answer>(name: string, asked: unknown, read: () => Promise<Answer>): Promise<Answer> => {
    const key = `${name} ${JSON.stringify(asked)}`;
    const known = answers.get(key);
    if (known !== undefined) return known as Promise<Answer>;
    const answer = read();
    answers.set(key, answer);
    // What failed is asked for again.
    answer.catch(() => answers.delete(key));
    return answer;
  };
  return {
    ...deps,
    objects: rememberedRanges(deps.objects, once),
    grids: {
      ...deps.grids,
      find: (operators, fromMs, toMs) =>
        once('grids', [operators, fromMs, toMs], () => deps.grids.find(operators, fromMs, toMs)),
    },
    soundings: {
      ...deps.soundings,
      find: (query) => once('soundings', query, () => deps.soundings.find(query)),
    },
    reports: {
      ...deps.reports,
      find: (query) => once('reports', query, () => deps.reports.find(query)),
      findNotes: (query) => once('notes', query, () => deps.reports.findNotes(query)),
      ofAerodrome: (query) => once('aerodrome', query, () => deps.reports.ofAerodrome(query)),
    },
    holdoverTables: {
      ...deps.holdoverTables,
      list: (operators) => once('holdover', operators, () => deps.holdoverTables.list(operators)),
    },
    places: {
      ...deps.places,
      byIdent: (operators, ident) =>
        once('place', [operators, ident], () => deps.places.byIdent(operators, ident)),
      spotHeights: (operators, box) =>
        once('spots', [operators, box], () => deps.places.spotHeights(operators, box)),
    },
  };
}

type Once = <Answer>(name: string, asked: unknown, read: () => Promise<Answer>) => Promise<Answer>;

/** Ranges of objects never change: an hour that is loaded again has other keys. */
function rememberedRanges(objects: ObjectReader, once: Once): ObjectReader {
  let keptBytes = 0;
  const kept = (key: string, range: unknown, read: () => Promise<ArrayBuffer | undefined>) => {
    if (keptBytes > MOST_BYTES) return read();
    return once('object', [key, range], async () => {
      const bytes = await read();
      keptBytes += bytes?.byteLength ?? 0;
      return bytes;
    });
  };
  return {
    ...objects,
    get: (key) => kept(key, undefined, () => objects.get(key)),
    getRange: (key, range) =>
      kept(key, [range.offsetBytes, range.lengthBytes], () => objects.getRange(key, range)),
  };
}
