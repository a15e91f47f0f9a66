/** Properties try the same cases in every run; RIMEWAY_SEED tries others. */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env.RIMEWAY_SEED ?? 20260114) });
