/**
 * JSON Schema 2020-12 as far as our description uses it, read by the specification and not by the library that wrote the schemas. A
 * keyword that it does not know is an error: nothing passes for want of being read.
 */
export interface Schema {
  readonly [keyword: string]: unknown;
}

type Check = (value: unknown, argument: never, context: Context) => string[];

interface Context {
  readonly schema: Schema;
  readonly at: string;
  readonly root: unknown;
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const typeOf = (value: unknown): string => {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'array';
  if (typeof value === 'number') return Number.isInteger(value) ? 'integer' : 'number';
  return typeof value;
};

const sameJson = (a: unknown, b: unknown) => JSON.stringify(a) === JSON.stringify(b);
const only = (isFault: boolean, { at }: Context, words: string) => (isFault ? [`${at}: ${words}`] : []);

const CHECKS: Readonly<Record<string, Check>> = {
  type: (value, type: string | readonly string[], context) => {
    const found = typeOf(value);
    const fits = [type].flat().some((each) => each === found || (each === 'number' && found === 'integer'));
    return only(!fits, context, `${found}, not ${type}`);
  },
  const: (value, wanted: unknown, context) => only(!sameJson(value, wanted), context, 'another constant'),
  enum: (value, words: readonly unknown[], context) =>
    only(!words.some((word) => sameJson(word, value)), context, 'none of the words'),
  minimum: (value, least: number, context) =>
    only(typeof value === 'number' && value < least, context, 'too small'),
  maximum: (value, most: number, context) =>
    only(typeof value === 'number' && value > most, context, 'too great'),
  exclusiveMinimum: (value, least: number, context) =>
    only(typeof value === 'number' && value <= least, context, 'too small'),
  exclusiveMaximum: (value, most: number, context) =>
    only(typeof value === 'number' && value >= most, context, 'too great'),
  minLength: (value, least: number, context) =>
    only(typeof value === 'string' && [...value].length < least, context, 'too short'),
  maxLength: (value, most: number, context) =>
    only(typeof value === 'string' && [...value].length > most, context, 'too long'),
  pattern: (value, pattern: string, context) =>
    only(typeof value === 'string' && !new RegExp(pattern, 'u').test(value), context, 'another pattern'),
  minItems: (value, least: number, context) =>
    only(Array.isArray(value) && value.length < least, context, 'too few'),
  maxItems: (value, most: number, context) =>
    only(Array.isArray(value) && value.length > most, context, 'too many'),
  required: (value, names: readonly string[], context) =>
    isObject(value) ? names.flatMap((name) => only(!Object.hasOwn(value, name), context, `no ${name}`)) : [],
  properties: (value, properties: Readonly<Record<string, Schema>>, { at, root }) =>
    isObject(value)
      ? Object.entries(properties).flatMap(([name, schema]) =>
          Object.hasOwn(value, name) ? faultsOf(value[name], schema, root, `${at}/${name}`) : [],
        )
      : [],
  additionalProperties: (value, allowed: Schema | boolean, { schema, at, root }) => {
    if (!isObject(value)) return [];
    const known = Object.keys((schema.properties as Schema | undefined) ?? {});
    return Object.keys(value)
      .filter((name) => !known.includes(name))
      .flatMap((name) => subFaults(value[name], allowed, root, `${at}/${name}`));
  },
  propertyNames: (value, schema: Schema, { at, root }) =>
    isObject(value)
      ? Object.keys(value).flatMap((name) => faultsOf(name, schema, root, `${at}/${name}`))
      : [],
  prefixItems: (value, schemas: readonly Schema[], { at, root }) =>
    Array.isArray(value)
      ? schemas.flatMap((schema, index) =>
          index < value.length ? faultsOf(value[index], schema, root, `${at}/${index}`) : [],
        )
      : [],
  items: (value, items: Schema | boolean, { schema, at, root }) => {
    if (!Array.isArray(value)) return [];
    const first = (schema.prefixItems as readonly unknown[] | undefined)?.length ?? 0;
    return value
      .slice(first)
      .flatMap((each, index) => subFaults(each, items, root, `${at}/${first + index}`));
  },
  anyOf: (value, schemas: readonly Schema[], { at, root }) => {
    const all = schemas.map((schema) => faultsOf(value, schema, root, at));
    return all.some((faults) => faults.length === 0)
      ? []
      : [`${at}: none of ${schemas.length}`, ...all.flat()];
  },
  oneOf: (value, schemas: readonly Schema[], context) => {
    const all = schemas.map((schema) => faultsOf(value, schema, context.root, context.at));
    const fitting = all.filter((faults) => faults.length === 0).length;
    return fitting === 1
      ? []
      : [`${context.at}: ${fitting} of ${schemas.length} fit, not one`, ...all.flat()];
  },
  allOf: (value, schemas: readonly Schema[], { at, root }) =>
    schemas.flatMap((schema) => faultsOf(value, schema, root, at)),
  $ref: (value, pointer: string, { at, root }) => faultsOf(value, targetOf(pointer, root), root, at),
  description: () => [],
  // An annotation, as the specification has it; the pattern beside it is what holds.
  format: () => [],
};

function subFaults(value: unknown, schema: Schema | boolean, root: unknown, at: string): string[] {
  if (typeof schema === 'boolean') return schema ? [] : [`${at}: not expected`];
  return faultsOf(value, schema, root, at);
}

/** What of a value does not keep to a schema, each with its place; none where all does. @throws for a keyword it does not know. */
export function faultsOf(value: unknown, schema: Schema, root: unknown, at = ''): string[] {
  return Object.entries(schema).flatMap(([keyword, argument]) => {
    const check = CHECKS[keyword];
    if (check === undefined) throw new Error(`keyword ${keyword} at ${at} is not known here`);
    return check(value, argument as never, { schema, at, root });
  });
}

/** What a reference within a document leads to. @throws where it leads nowhere. */
export function targetOf(pointer: string, root: unknown): Schema {
  let target = root;
  for (const part of pointer.replace(/^#\//, '').split('/')) {
    const name = part.replaceAll('~1', '/').replaceAll('~0', '~');
    if (!isObject(target) || !Object.hasOwn(target, name)) throw new Error(`${pointer} leads nowhere`);
    target = target[name];
  }
  return target as Schema;
}
