/** Network boards on D1: the register, the flights, the records and what is to be told, as one. */
import type { D1Database } from '@cloudflare/workers-types';
import type { BoardRepository } from '../sources/boards.ts';
import { createBoardFlights } from './board-flights.ts';
import { createBoardOutbox } from './board-outbox.ts';
import { createBoardRecords } from './board-records.ts';
import { createBoardRegister } from './board-register.ts';

export function createBoardRepository(db: D1Database): BoardRepository {
  return {
    ...createBoardRegister(db),
    ...createBoardFlights(db),
    ...createBoardRecords(db),
    ...createBoardOutbox(db),
  };
}
