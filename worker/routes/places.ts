/** GET /api/places: find a fix or an aerodrome, or the aerodromes inside a box. POST /api/places: an operator's own fixes or spot heights as CSV. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { readPlacesCsv } from '../formats/places-csv.ts';
import { getPlaces as getCall } from '../schema/calls-data.ts';
import { postPlaces as postCall } from '../schema/calls-uploads.ts';
import type { PlaceAnswer } from '../schema/places.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { bodyChunks, bodyText } from '../sources/body.ts';
import type { Dependencies, Place } from '../sources/ports.ts';
import type { AppEnv } from './app-env.ts';
import { requestQuery, writingOperator } from './read-call.ts';

const MOST_FOUND = 12;
const LONGEST_QUERY = 60;
const MOST_IN_BOX = 400;

export async function getPlaces(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const { box, q = '' } = requestQuery(context, getCall);
  const found =
    box === undefined
      ? await deps.places.search(operators, q.slice(0, LONGEST_QUERY), MOST_FOUND)
      : aerodromesInBox(deps, box);
  return context.json({ places: found.map(answerOf) });
}

/** @throws InvalidRequestError for a box with too many: a list that leaves some out would hide them. */
function aerodromesInBox(
  deps: Pick<Dependencies, 'places'>,
  [west, south, east, north]: readonly [number, number, number, number],
): readonly Place[] {
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
  const { deps } = context.var;
  const operator = writingOperator(context);
  const file = readPlacesCsv(await bodyText(bodyChunks(context.req.raw, postCall.mostBytes)));
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
