/** A board as GeoJSON (RFC 7946): one feature a flight, worst first. */
import type { FeatureCollection, LineString, MultiLineString } from 'geojson';
import { routeLine } from '../flight/antimeridian.ts';
import type { BoardAnswer, BoardFlight } from '../schema/board.ts';
import { type ExportedValue, exportedFlights } from './exported-flight.ts';

export interface BoardCollection
  extends FeatureCollection<LineString | MultiLineString | null, Record<string, ExportedValue>> {
  /** Foreign members: what is true of all of it. */
  readonly board: { readonly id: string; readonly name: string; readonly standsAtUtc: string | null };
  readonly asOfUtc: string;
  readonly cautions: readonly string[];
}

/** A flight that was not worked out yet has no line, and stands here all the same. */
export function boardToGeoJson(answer: BoardAnswer): BoardCollection {
  const { id, name, standsAtUtc } = answer.board;
  return {
    type: 'FeatureCollection',
    board: { id, name, standsAtUtc },
    asOfUtc: answer.asOfUtc,
    cautions: answer.cautions,
    features: exportedFlights(answer).map(({ flight, values }) => ({
      type: 'Feature' as const,
      id: flight.id,
      geometry: lineOf(flight),
      properties: values,
    })),
  };
}

function lineOf({ evaluation }: BoardFlight): LineString | MultiLineString | null {
  const line = evaluation?.line ?? [];
  return line.length < 2 ? null : routeLine(line);
}
