/** Aerodromes from the bundled list, fixes and spot heights of the operators from D1. */
import type { D1Database } from '@cloudflare/workers-types';
import type { Place, PlaceRepository, SpotHeight } from '../sources/ports.ts';
import { marks } from './sql-marks.ts';

/** One aerodrome of the bundled list: identifier, name, latitude, longitude, elevation (m, null when not given). */
export type AerodromeRow = readonly [string, string, number, number, number | null];

interface FixRow {
  ident: string;
  name: string;
  lat_deg: number;
  lon_deg: number;
  elevation_m: number | null;
}

/** The bundled list with its look-up table; built once, never changed. */
export interface AerodromeIndex {
  readonly rows: readonly AerodromeRow[];
  readonly byIdent: ReadonlyMap<string, AerodromeRow>;
}

export function indexAerodromes(rows: readonly AerodromeRow[]): AerodromeIndex {
  return { rows, byIdent: new Map(rows.map((row) => [row[0], row])) };
}

export function createPlaceRepository(db: D1Database, aerodromes: AerodromeIndex): PlaceRepository {
  async function fixesWhere(
    operators: readonly string[],
    clause: string,
    bindings: readonly (string | number)[],
  ): Promise<Place[]> {
    if (operators.length === 0) return [];
    const { results } = await db
      .prepare(
        `SELECT ident, name, lat_deg, lon_deg, elevation_m FROM places
         WHERE operator IN (${marks(operators.length)}) AND ${clause}`,
      )
      .bind(...operators, ...bindings)
      .all<FixRow>();
    return results.map(fixToPlace);
  }

  return {
    async byIdent(operators, ident) {
      const row = aerodromes.byIdent.get(ident);
      if (row !== undefined) return aerodromeToPlace(row);
      for (const operator of operators) {
        const [fix] = await fixesWhere([operator], 'ident = ? LIMIT 1', [ident]);
        if (fix !== undefined) return fix;
      }
      return undefined;
    },

    async byIdents(operators, idents) {
      const wanted = JSON.stringify(idents.filter((ident) => !aerodromes.byIdent.has(ident)));
      const found = new Map<string, Place>();
      // The first of the operators that has a fix is the last to set it.
      for (const operator of [...operators].reverse()) {
        const fixes = await fixesWhere([operator], 'ident IN (SELECT value FROM json_each(?))', [wanted]);
        for (const fix of fixes) found.set(fix.ident, fix);
      }
      for (const ident of idents) {
        const row = aerodromes.byIdent.get(ident);
        if (row !== undefined) found.set(ident, aerodromeToPlace(row));
      }
      return found;
    },

    async search(operators, text, limit) {
      const wanted = text.trim().toUpperCase();
      if (wanted === '') return [];
      const own = await fixesWhere(
        operators,
        '(instr(ident, ?) = 1 OR instr(upper(name), ?) > 0) ORDER BY ident LIMIT ?',
        [wanted, wanted, limit],
      );
      return [...own, ...searchAerodromes(aerodromes.rows, wanted, limit)].slice(0, limit);
    },

    aerodromesIn: (box) => aerodromesIn(aerodromes.rows, box),
    putFixes: (operator, places) => putFixes(db, operator, places),
    putSpotHeights: (operator, spots) => putSpotHeights(db, operator, spots),

    async spotHeights(operators, { southDeg, northDeg, lonRanges }) {
      if (operators.length === 0) return [];
      const { results } = await db
        .prepare(
          `SELECT name, lat_deg, lon_deg, height_m FROM spot_heights
           WHERE operator IN (${marks(operators.length)}) AND lat_deg BETWEEN ? AND ?
             AND (${lonRanges.map(() => 'lon_deg BETWEEN ? AND ?').join(' OR ')})
           ORDER BY operator, name`,
        )
        .bind(...operators, southDeg, northDeg, ...lonRanges.flat())
        .all<{ name: string; lat_deg: number; lon_deg: number; height_m: number }>();
      return results.map(
        (row): SpotHeight => ({
          name: row.name,
          latDeg: row.lat_deg,
          lonDeg: row.lon_deg,
          heightM: row.height_m,
        }),
      );
    },
  };
}

function aerodromesIn(
  rows: readonly AerodromeRow[],
  { southDeg, northDeg, lonRanges }: Parameters<PlaceRepository['aerodromesIn']>[0],
): Place[] {
  return rows
    .filter(([, , latDeg, lonDeg, elevationM]) => {
      const isWithin = latDeg >= southDeg && latDeg <= northDeg && elevationM !== null;
      return isWithin && lonRanges.some(([west, east]) => lonDeg >= west && lonDeg <= east);
    })
    .map(aerodromeToPlace);
}

async function putFixes(db: D1Database, operator: string, places: readonly Place[]): Promise<void> {
  if (places.length === 0) return;
  const insert = db.prepare('INSERT OR REPLACE INTO places VALUES (?1, ?2, ?3, ?4, ?5, ?6)');
  await db.batch(
    places.map((place) => {
      const elevationM = Number.isFinite(place.elevationM) ? place.elevationM : null;
      return insert.bind(operator, place.ident, place.name, place.latDeg, place.lonDeg, elevationM);
    }),
  );
}

async function putSpotHeights(db: D1Database, operator: string, spots: readonly SpotHeight[]): Promise<void> {
  if (spots.length === 0) return;
  const insert = db.prepare('INSERT OR REPLACE INTO spot_heights VALUES (?1, ?2, ?3, ?4, ?5)');
  await db.batch(
    spots.map((spot) => insert.bind(operator, spot.name, spot.latDeg, spot.lonDeg, spot.heightM)),
  );
}

/** Identifiers that begin with the text come first, then names that hold it. */
function searchAerodromes(aerodromes: readonly AerodromeRow[], wanted: string, limit: number): Place[] {
  const beginning = aerodromes.filter((row) => row[0].startsWith(wanted));
  const named = aerodromes.filter(
    (row) => !row[0].startsWith(wanted) && row[1].toUpperCase().includes(wanted),
  );
  return [...beginning, ...named].slice(0, limit).map(aerodromeToPlace);
}

function aerodromeToPlace(row: AerodromeRow): Place {
  const [ident, name, latDeg, lonDeg, elevationM] = row;
  return { ident, name, latDeg, lonDeg, elevationM: elevationM ?? Number.NaN, kind: 'aerodrome' };
}

function fixToPlace(row: FixRow): Place {
  return {
    ident: row.ident,
    name: row.name,
    latDeg: row.lat_deg,
    lonDeg: row.lon_deg,
    elevationM: row.elevation_m ?? Number.NaN,
    kind: 'fix',
  };
}
