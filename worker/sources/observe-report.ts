/** A stored pilot's report read again, with the places of its operator, as an observation. */
import { readPilotReports } from '../formats/pilot-reports/read-pilot-reports.ts';
import type { PlaceRepository } from './ports.ts';
import { type PilotObservation, pilotObservation } from './report-facts/pilot-observation.ts';
import { identifiersIn } from './report-facts/read-reports.ts';
import type { ReportToScore } from './scores.ts';

/** @throws RangeError for a text that does not read as one pilot's report any more. */
export async function observeReport(
  places: PlaceRepository,
  { operator, text, issuedMs, receivedMs }: ReportToScore,
): Promise<PilotObservation> {
  const context = { nearMs: issuedMs, nowMs: issuedMs, notAfterMs: Number.POSITIVE_INFINITY };
  const found = await places.byIdents([operator], identifiersIn(text, context));
  const fixes = (identifier: string) => {
    const place = found.get(identifier);
    return place === undefined ? [] : [place];
  };
  const [item] = readPilotReports(text, { referenceMs: issuedMs, fixes });
  if (item?.kind === 'pilot-report') return pilotObservation(item, receivedMs);
  throw new RangeError(`report: found ${JSON.stringify(text.slice(0, 60))}, expected a pilot's report`);
}
