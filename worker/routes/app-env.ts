/** What every handler finds in its context. */
import type { Settings } from '../env.ts';
import type { Dependencies } from '../sources/ports.ts';

export interface AppEnv {
  Variables: {
    deps: Dependencies;
    settings: Settings;
  };
}
