/** Every call that a brief makes of the stores, led through one place. */
import type { BriefReads } from '../sources/ports.ts';

/** What becomes of a call: its name, what it asks, and how the stores themselves would answer. */
export interface PassingOn {
  later<T>(call: string, asked: readonly unknown[], answer: (stores: BriefReads) => Promise<T>): Promise<T>;
  now<T>(call: string, asked: readonly unknown[], answer: (stores: BriefReads) => T): T;
}

/**
 * The calls of BriefReads, one for one: the compiler holds this list to it.
 *
 * @param attribution  Of the elevation tiles; undefined where none are set.
 */
export function readsThrough({ later, now }: PassingOn, attribution: string | undefined): BriefReads {
  return {
    soundings: {
      find: (query) => later('soundings.find', [query], (stores) => stores.soundings.find(query)),
    },
    grids: {
      find: (...asked) => later('grids.find', asked, (stores) => stores.grids.find(...asked)),
    },
    objects: {
      get: (key) => later('objects.get', [key], (stores) => stores.objects.get(key)),
      getRange(key, { offsetBytes, lengthBytes }) {
        // Whoever asks may say more of the range than where it lies.
        const range = { offsetBytes, lengthBytes };
        return later('objects.getRange', [key, range], (stores) => stores.objects.getRange(key, range));
      },
    },
    reports: {
      find: (query) => later('reports.find', [query], (stores) => stores.reports.find(query)),
      findNotes: (query) => later('reports.findNotes', [query], (stores) => stores.reports.findNotes(query)),
      ofAerodrome: (query) =>
        later('reports.ofAerodrome', [query], (stores) => stores.reports.ofAerodrome(query)),
    },
    holdoverTables: {
      list: (operators) =>
        later('holdoverTables.list', [operators], (stores) => stores.holdoverTables.list(operators)),
    },
    places: {
      byIdent: (...asked) => later('places.byIdent', asked, (stores) => stores.places.byIdent(...asked)),
      aerodromesIn: (box) => now('places.aerodromesIn', [box], (stores) => stores.places.aerodromesIn(box)),
      spotHeights: (...asked) =>
        later('places.spotHeights', asked, (stores) => stores.places.spotHeights(...asked)),
    },
    terrain:
      attribution === undefined
        ? undefined
        : {
            attribution,
            highestGround: (...asked) =>
              later('terrain.highestGround', asked, (stores) => stores.terrain!.highestGround(...asked)),
          },
  };
}
