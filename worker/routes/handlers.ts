/** What answers each call of the table; one that is missing here does not compile. */
import type { CallName } from '../schema/calls.ts';
import { getAircraft } from './aircraft.ts';
import { boardHandlers, type Handler } from './board-handlers.ts';
import { postBrief } from './brief.ts';
import { getBriefLink } from './brief-link.ts';
import { postColumn } from './column.ts';
import { getDocs } from './docs.ts';
import { postGrids } from './grids.ts';
import { getHealth } from './health.ts';
import { getHoldover, postHoldover } from './holdover.ts';
import { getMetrics } from './metrics.ts';
import { getOpenapi } from './openapi.ts';
import { getPlaces, postPlaces } from './places.ts';
import { postReports } from './reports.ts';
import { postSequence } from './sequences.ts';
import {
  deleteSharedBrief,
  getAboutBrief,
  getSharedBrief,
  getSharedInputs,
  getSharedPicture,
  postProof,
  postSharedBrief,
} from './shared-briefs.ts';
import { getSkill } from './skill.ts';
import { postSoundings } from './soundings.ts';
import { getSources } from './sources.ts';

export const HANDLERS: Readonly<Record<CallName, Handler>> = {
  ...boardHandlers,
  postBrief,
  postSequence,
  postColumn,
  postSharedBrief,
  getSharedBrief,
  deleteSharedBrief,
  getAboutBrief,
  getSharedInputs,
  postProof,
  getBriefLink,
  getSharedPicture,
  postSoundings,
  postGrids,
  postReports,
  getHoldover,
  postHoldover,
  getPlaces,
  postPlaces,
  getSources,
  getSkill,
  getAircraft,
  getHealth,
  getMetrics,
  getOpenapi,
  getDocs,
};
