/** The contract's schemas as JSON Schema, each under the name that the contract has for it. */
import * as z from 'zod/mini';
import * as aircraft from '../schema/aircraft.ts';
import * as audit from '../schema/audit.ts';
import * as board from '../schema/board.ts';
import * as brief from '../schema/brief.ts';
import type { Call, CallAnswer } from '../schema/call.ts';
import * as cellWords from '../schema/cell-words.ts';
import * as column from '../schema/column.ts';
import * as ground from '../schema/ground.ts';
import * as holdover from '../schema/holdover.ts';
import * as places from '../schema/places.ts';
import * as request from '../schema/request.ts';
import * as sequence from '../schema/sequence.ts';
import * as sharedBrief from '../schema/shared-brief.ts';
import * as skill from '../schema/skill.ts';
import * as sources from '../schema/sources.ts';
import * as uploads from '../schema/uploads.ts';

/** What of JSON Schema the contract comes to. */
export interface JsonSchema {
  readonly [keyword: string]: unknown;
  readonly $ref?: string;
  /** Several: one of them. */
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema | false;
  readonly anyOf?: readonly JsonSchema[];
}

const REF = '#/components/schemas/';
const MODULES = [
  ...[aircraft, audit, board, brief, cellWords, column, ground, holdover, places, request, sequence],
  ...[sharedBrief, skill, sources, uploads],
];
const NAME = /^(.+)Schema$/;

export interface Schemas {
  readonly components: Readonly<Record<string, JsonSchema>>;
  /** A reference to one of the components, or the schema itself where it has no name. */
  readonly of: (schema: z.ZodMiniType) => JsonSchema;
}

/** Of all that these calls take and answer; nothing else is among the components. */
export function schemasOf(calls: readonly Call[]): Schemas {
  const names = namesOf(calls);
  const registry = z.registry<{ id: string }>();
  for (const [schema, id] of names) registry.add(schema, { id });
  const { schemas } = z.toJSONSchema(registry, { ...OPTIONS, uri: (id) => REF + id });
  const all = Object.fromEntries(
    Object.entries(schemas).map(([id, { $schema: _, $id: __, ...schema }]) => [id, schema as JsonSchema]),
  );
  const used = new Set<string>();
  const roots = [...rootsOf(calls), brief.problemSchema, board.liveMessageSchema];
  for (const root of roots) addUsed(names.get(root)!, all, used);
  return {
    components: Object.fromEntries([...used].sort().map((id) => [id, all[id]!])),
    of: (schema) => (names.has(schema) ? { $ref: REF + names.get(schema) } : plainSchema(schema)),
  };
}

/** What stands in a request is described as it is sent; answers are the same either way. */
const OPTIONS: z.core.ToJSONSchemaParams = {
  io: 'input',
  unrepresentable: 'any',
  override: ({ zodSchema, jsonSchema }) => {
    const said = ruleWords(zodSchema);
    if (said !== '') jsonSchema.description = said;
  },
};

/** Of a schema without a name: those of queries. */
export function plainSchema(schema: z.ZodMiniType): JsonSchema {
  const { $schema: _, ...plain } = z.toJSONSchema(schema, OPTIONS);
  return plain as JsonSchema;
}

/** Rules that JSON Schema has no keyword for, in their own words. */
function ruleWords({ _zod: { def } }: z.core.$ZodType): string {
  const rules = (def.checks ?? []).flatMap((check) => {
    const { check: kind, error } = check._zod.def;
    const words = kind === 'custom' ? error?.({} as never) : undefined;
    return typeof words === 'string' ? [words] : [];
  });
  return rules.join('; ');
}

function rootsOf(calls: readonly Call[]): z.ZodMiniType[] {
  return calls.flatMap(({ request: asked, answer }) => [
    ...(asked === undefined ? [] : [asked]),
    ...Object.values(answer).flatMap(schemaOf),
  ]);
}

function schemaOf(answer: CallAnswer): z.ZodMiniType[] {
  if (answer === null || typeof answer === 'string') return [];
  return ['contentType' in answer ? answer.schema : answer];
}

/** By the contract's own names; what a call alone has is named after it. */
function namesOf(calls: readonly Call[]): ReadonlyMap<z.core.$ZodType, string> {
  const names = new Map<z.core.$ZodType, string>();
  for (const exported of MODULES)
    for (const [name, value] of Object.entries(exported)) {
      const stem = NAME.exec(name)?.[1];
      if (stem !== undefined && !names.has(value as z.ZodMiniType))
        names.set(value as z.ZodMiniType, capitalized(stem));
    }
  for (const { name, request: asked, answer } of calls) {
    if (asked !== undefined && !names.has(asked)) names.set(asked, `${capitalized(name)}Request`);
    for (const schema of Object.values(answer).flatMap(schemaOf))
      if (!names.has(schema)) names.set(schema, `${capitalized(name)}Answer`);
  }
  return names;
}

function addUsed(name: string, all: Readonly<Record<string, JsonSchema>>, used: Set<string>): void {
  if (used.has(name)) return;
  used.add(name);
  for (const [, next = ''] of JSON.stringify(all[name]).matchAll(/"\$ref":"#\/components\/schemas\/(\w+)"/g))
    addUsed(next, all, used);
}

const capitalized = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
