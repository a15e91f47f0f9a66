/** What every handler finds in its context. */
import type { Settings } from '../env.ts';
import type { Board } from '../sources/boards.ts';
import type { Dependencies } from '../sources/ports.ts';
import type { BoardRight } from '../sources/sign-in-settings.ts';
import type { Principal } from './principal.ts';

export interface AppEnv {
  Variables: {
    deps: Dependencies;
    settings: Settings;
    /** Who calls; the gate looked whether they may. */
    principal: Principal;
    /** Whose data the call may read: the open operators, and the principal's own. */
    operators: readonly string[];
    /** Of a board call, and of no other. */
    board: Board;
    /** What the principal may do on it. */
    access: BoardRight;
    /** Set by the call that makes a board, so that the board's audit begins with it. */
    createdBoard: string | undefined;
  };
}
