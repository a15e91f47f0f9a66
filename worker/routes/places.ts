/** GET /api/places: find a fix or an aerodrome, or the aerodromes inside a box. POST /api/places: an operator's own fixes or spot heights as CSV. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { readPlacesCsv } from '../formats/places-csv.ts';
import { type PlaceAnswer, placesQuerySchema } from '../schema/places.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { bodyChunks, bodyText } from '../sources/body.ts';
import type { Dependencies, Place } from '../sources/ports.ts';
import { readableOperators, writingOperator } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

const MOST_FOUND = 12;
const LONGEST_QUERY = 60;
const MOST_IN_BOX = 400;
const MOST_BYTES = 4 * 1024 * 1024;

export async function getPlaces(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const { box, q = '' } = context.req.query();
  const operators = await readableOperators(context.req.raw, settings);
  const found =
    box === undefined
      ? await deps.places.search(operators, q.slice(0, LONGEST_QUERY), MOST_FOUND)
      : aerodromesInBox(deps, box);
  return context.json({ places: found.map(answerOf) });
}

/** @throws InvalidRequestError for a box with too many: a list that leaves some out would hide them. */
function aerodromesInBox(deps: Pick<Dependencies, 'places'>, text: string): readonly Place[] {
  const [west, south, east, north] = parseRequest(placesQuerySchema, { box: text }).box;
  const found = deps.places.aerodromesIn({
    southDeg: south,
    northDeg: north,
    lonRanges:
      west <= east
        ? [[west, east]]
        : [
            [west, 180],
            [-180, east],
          ],
  });
  if (found.length <= MOST_IN_BOX) return found;
  throw new InvalidRequestError({
    field: 'box',
    found: `${found.length} aerodromes in it`,
    expected: `a smaller one with at most ${MOST_IN_BOX}`,
  });
}

function answerOf({ ident, name, kind, latDeg, lonDeg, elevationM }: Place): PlaceAnswer {
  const elevationFt = Number.isFinite(elevationM) ? Math.round(ftFromM(elevationM)) : null;
  return { ident, name, kind, latDeg, lonDeg, elevationFt };
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
