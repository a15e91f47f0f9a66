/** GET /api/places: find a fix or an aerodrome. POST /api/places: an operator's own fixes or spot heights as CSV. */
import type { Context } from 'hono';
import { readPlacesCsv } from '../formats/places-csv.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { bodyChunks, bodyText } from '../sources/body.ts';
import { readableOperators, writingOperator } from './access.ts';
import type { AppEnv } from './app-env.ts';

const MOST_FOUND = 12;
const LONGEST_QUERY = 60;
const MOST_BYTES = 4 * 1024 * 1024;

export async function getPlaces(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const text = (context.req.query('q') ?? '').slice(0, LONGEST_QUERY);
  const found = await deps.places.search(
    await readableOperators(context.req.raw, settings),
    text,
    MOST_FOUND,
  );
  return context.json({
    places: found.map((place) => ({
      ident: place.ident,
      name: place.name,
      kind: place.kind,
      latDeg: place.latDeg,
      lonDeg: place.lonDeg,
      elevationFt: Number.isFinite(place.elevationM) ? Math.round(ftFromM(place.elevationM)) : null,
    })),
  });
}

export async function postPlaces(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const operator = await writingOperator(context.req.raw, settings);
  const file = readPlacesCsv(await bodyText(bodyChunks(context.req.raw, MOST_BYTES)));
  if (file.kind === 'fixes') {
    await deps.places.putFixes(
      operator,
      file.rows.map((row) => ({ ...row, elevationM: Number.NaN, kind: 'fix' })),
    );
  } else {
    await deps.places.putSpotHeights(
      operator,
      file.rows.map((row) => ({ ...row, heightM: mFromFt(row.heightFt) })),
    );
  }
  return context.json(
    { kind: file.kind, stored: file.rows.length, rejected: file.rejected },
    file.rows.length > 0 ? 201 : 422,
  );
}
