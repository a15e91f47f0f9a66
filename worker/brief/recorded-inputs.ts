/**
 * What a brief read, kept so that it can be made again when the stores hold it no more. A recording passes every call on and keeps its
 * answer; a replay has these answers and no others.
 */
import * as z from 'zod/mini';
import { AppBug } from '../errors.ts';
import { fromExactJson, type Json, toExactJson } from '../sources/exact-json.ts';
import type { BriefReads } from '../sources/ports.ts';
import { gunzip, gzip } from '../store/gzip.ts';
import { type PassingOn, readsThrough } from './reads-through.ts';

/** Characters of all answers of one brief, before they are compressed: more would take an isolate's memory (judgement). */
export const MOST_INPUT_CHARACTERS = 12 * 1024 * 1024;

export interface Recording {
  /** The same stores; what goes through here is kept. */
  readonly reads: BriefReads;
  /** Gzipped JSON of everything read so far; undefined where that is more than may be kept. */
  readonly inputs: () => Promise<Uint8Array | undefined>;
}

/** One call is made once: who makes it again meanwhile gets a copy of the same answer. */
export function recordInputs(stores: BriefReads, mostCharacters = MOST_INPUT_CHARACTERS): Recording {
  const kept = keepAnswers(mostCharacters);
  const running = new Map<string, Promise<void>>();
  const passingOn: PassingOn = {
    async later(call, asked, answer) {
      const key = keyOf(call, asked);
      const before = running.get(key);
      if (before !== undefined) await before;
      const copy = kept.copyOf(key);
      if (copy !== undefined) return copy.value as never;
      const value = answer(stores);
      const keeping = value.then((each) => kept.keep(key, each));
      running.set(key, keeping);
      await keeping;
      return value;
    },
    now(call, asked, answer) {
      const value = answer(stores);
      kept.keep(keyOf(call, asked), value);
      return value;
    },
  };
  const attribution = stores.terrain?.attribution;
  return { reads: readsThrough(passingOn, attribution), inputs: () => kept.document(attribution) };
}

/**
 * The stores as a brief found them.
 *
 * @throws AppBug for bytes that recordInputs did not write; so does each call that they have no answer to.
 */
export async function replayInputs(inputs: Uint8Array): Promise<BriefReads> {
  const { answers, attribution } = await readDocument(inputs);
  const known = new Map(answers.map(({ call, asked, answer }) => [keyText(call, asked as Json), answer]));
  const answerTo = (call: string, asked: readonly unknown[]) => {
    const answer = known.get(keyOf(call, asked));
    if (answer === undefined) throw new AppBug(`inputs: found no answer to ${call}, expected a recorded one`);
    return fromExactJson(answer as Json) as never;
  };
  const passingOn: PassingOn = { later: async (call, asked) => answerTo(call, asked), now: answerTo };
  return readsThrough(passingOn, attribution ?? undefined);
}

const keyOf = (call: string, asked: readonly unknown[]) => keyText(call, toExactJson(asked));
const keyText = (call: string, asked: Json) =>
  `"call":${JSON.stringify(call)},"asked":${JSON.stringify(asked)}`;

/** Answers as text, by what was asked: nothing that is done to a value afterwards is in it. */
function keepAnswers(mostCharacters: number) {
  const texts = new Map<string, string>();
  let characters = 0;
  const isFull = () => characters > mostCharacters;
  return {
    keep(key: string, value: unknown): void {
      if (isFull() || texts.has(key)) return;
      const text = JSON.stringify(toExactJson(value));
      characters += key.length + text.length;
      if (isFull()) texts.clear();
      else texts.set(key, text);
    },
    copyOf(key: string): { readonly value: unknown } | undefined {
      const text = texts.get(key);
      return text === undefined ? undefined : { value: fromExactJson(JSON.parse(text) as Json) };
    },
    /** In the order of what was asked, so that the same answers give the same text whichever came first. */
    async document(attribution: string | undefined): Promise<Uint8Array | undefined> {
      if (isFull()) return undefined;
      const answers = [...texts.keys()].sort().map((key) => `{${key},"answer":${texts.get(key)}}`);
      const head = `{"version":1,"attribution":${JSON.stringify(attribution ?? null)},"answers":[\n`;
      return gzip(new TextEncoder().encode(`${head}${answers.join(',\n')}\n]}\n`));
    },
  };
}

const documentSchema = z.object({
  version: z.literal(1),
  /** Of the elevation tiles; null where none are set. */
  attribution: z.nullable(z.string()),
  answers: z.array(z.object({ call: z.string(), asked: z.array(z.unknown()), answer: z.unknown() })),
});

async function readDocument(inputs: Uint8Array): Promise<z.infer<typeof documentSchema>> {
  const bytes = await gunzip(inputs);
  if (bytes === undefined) throw new AppBug('inputs: found broken bytes, expected gzip');
  const parsed = documentSchema.safeParse(JSON.parse(new TextDecoder().decode(bytes)));
  if (!parsed.success) throw new AppBug('inputs: found another shape, expected that of version 1');
  return parsed.data;
}
