/** What boards keep as JSON, checked when it is read back: undefined for what does not read. */
import * as z from 'zod/mini';
import { changeSchema, evaluationSchema, ICE_EQUIPMENT, scheduleLegSchema } from '../schema/board.ts';

/** The zone was checked when it was stored; asking the runtime again for thousands of legs takes longer than all else. */
const legSchema = z.extend(scheduleLegSchema, { timeZone: z.nullable(z.string()) });
const markSchema = z.object({ atMs: z.number(), by: z.string() });
const acknowledgedSchema = z.object({ seq: z.number(), by: z.string(), atMs: z.number() });
const failureSchema = z.object({ atMs: z.number(), sentence: z.string() });
const sharedSchema = z.object({
  id: z.string(),
  atMs: z.number(),
  evaluation: z.pick(evaluationSchema, {
    ...{ verdict: true, altitudeFt: true, acceptFt: true, exposure: true },
    ...{ reasonCodes: true, destination: true, alternate: true },
  }),
});
const inoperativeSchema = z.array(z.enum(ICE_EQUIPMENT));

type Text = string | null;

export const readLeg = (text: Text) => read(legSchema, text);
export const readEvaluation = (text: Text) => read(evaluationSchema, text);
export const readChange = (text: Text) => read(changeSchema, text);
export const readMark = (text: Text) => read(markSchema, text);
export const readAcknowledged = (text: Text) => read(acknowledgedSchema, text);
export const readFailure = (text: Text) => read(failureSchema, text);
export const readShared = (text: Text) => read(sharedSchema, text);
export const readInoperative = (text: Text) => read(inoperativeSchema, text);

function read<Schema extends z.ZodMiniType>(schema: Schema, text: Text): z.output<Schema> | undefined {
  if (text === null) return undefined;
  try {
    const parsed = schema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : undefined;
  } catch {
    return undefined;
  }
}
