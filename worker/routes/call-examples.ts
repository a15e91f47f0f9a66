/** Bodies that show what a call takes: an invented operator, aeroplane and weather. */
import type { CallName } from '../schema/calls.ts';

const LEG = {
  label: '101',
  tail: 'DEMO1',
  route: 'KBTV DCT KBGR',
  weekdays: ['mon', 'tue', 'wed', 'thu', 'fri'],
  departureLocal: '06:30',
  timeZone: null,
  fromDate: null,
  untilDate: null,
  aircraft: 'generic-fluid-turboprop',
  plannedMinutes: 75,
  alternate: 'KPWM',
  destinationMinima: { ceilingFt: 200, visibilityM: 800 },
  alternateMinima: { ceilingFt: 600, visibilityM: 3200 },
};

const BRIEF = {
  route: 'KBTV DCT KBGR',
  departure: { atUtc: '2026-01-14T11:30:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: { fluidOnBoardL: 80 },
};

const LEVELS = [
  { pressureHPa: 900, temperatureC: -4, dewPointC: -4.2 },
  { pressureHPa: 850, temperatureC: -7, dewPointC: -7.1 },
  { pressureHPa: 700, temperatureC: -12, dewPointC: -25 },
];

/** JSON of calls that take it. */
export const EXAMPLE_BODIES: Readonly<Partial<Record<CallName, unknown>>> = {
  postBrief: BRIEF,
  postSharedBrief: BRIEF,
  postColumn: { levels: LEVELS, aircraft: 'generic-fluid-turboprop' },
  postBoards: { name: 'Winter mornings', timeZone: 'America/New_York' },
  postBoardLink: { access: 'view', label: 'Wall display' },
  postBoardLegs: { replace: false, legs: [LEG] },
  putBoardLeg: LEG,
  putBoardTail: { fluidOnBoardL: 60, inoperative: ['ice-light'], note: '', by: 'Kim' },
  postFlightMark: { mark: 'departed', atUtc: '2026-01-14T11:32:00Z', by: 'Kim' },
  postAcknowledgement: { flightId: 'LegLegLegLegLegLegLegL.2026-01-14', seq: 12, by: 'Kim' },
};

/** Of a query, where it needs one. */
export const EXAMPLE_QUERIES: Readonly<Partial<Record<CallName, string>>> = {
  getBoardChanges: 'since=12',
  importBoardLegs: 'replace=true',
  deleteBoardPerson: 'person=Kim',
  deleteBoardPush: 'endpoint=https%3A%2F%2Fpush.example%2F1',
  getPlaces: 'q=burl',
  getSkill: 'parts=skill',
};

/** In the place of each parameter of a path. */
export const EXAMPLE_PARAMETERS: Readonly<Record<string, string>> = {
  board: 'BoardBoardBoardBoardBo',
  keyId: 'LinkLinkLinkLinkLinkLi',
  leg: 'LegLegLegLegLegLegLegL',
  flight: 'LegLegLegLegLegLegLegL.2026-01-14',
  tail: 'DEMO1',
  id: 'BriefBriefBriefBriefBr',
};
