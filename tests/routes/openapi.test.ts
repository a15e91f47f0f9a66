/** The description of the interface: it keeps to OpenAPI 3.1, leaves no call out, and says what the schemas hold. */
import { describe, expect, it } from 'vitest';
import { getOpenapi, openapiDocument } from '../../worker/routes/openapi.ts';
import { CALLS } from '../../worker/schema/calls.ts';
import { faultsOf, targetOf } from '../support/json-schema.ts';
import { gated, LET_IN } from './gated.ts';

interface Operation {
  readonly operationId: string;
  readonly tags: readonly string[];
  readonly parameters: readonly { name: string; in: string; required: boolean; schema: object }[];
  readonly requestBody?: { readonly content: Readonly<Record<string, { schema?: object }>> };
  readonly responses: Readonly<Record<string, { description?: string; $ref?: string }>>;
  readonly security: readonly Readonly<Record<string, unknown>>[];
}

/** As it travels. */
const document = JSON.parse(JSON.stringify(openapiDocument())) as ReturnType<typeof openapiDocument>;
const operations = Object.entries(document.paths).flatMap(([path, item]) =>
  Object.entries(item).map(([method, operation]) => ({ path, method, operation: operation as Operation })),
);

/** Every object in it, with its place. */
function* objectsIn(value: unknown, at = '#'): Generator<[string, Record<string, unknown>]> {
  if (typeof value !== 'object' || value === null) return;
  if (!Array.isArray(value)) yield [at, value as Record<string, unknown>];
  for (const [name, inner] of Object.entries(value)) yield* objectsIn(inner, `${at}/${name}`);
}

describe('openapiDocument', () => {
  it('has every call once, under its method and path', () => {
    const described = operations.map(({ path, method, operation }) => [
      ...[operation.operationId, method.toUpperCase(), path],
    ]);
    const expected = Object.values(CALLS).map(({ name, method, path }) => [name, method, path]);
    expect(described.sort()).toEqual(expected.sort());
  });

  it('has no reference that leads nowhere', () => {
    const references = [...objectsIn(document)].flatMap(([, { $ref }]) =>
      typeof $ref === 'string' ? [$ref] : [],
    );
    expect(references.length).toBeGreaterThan(100);
    for (const reference of references) expect(() => targetOf(reference, document)).not.toThrow();
  });

  it('has no component that nothing leads to, but the messages of a WebSocket', () => {
    const text = JSON.stringify(document);
    const unused = Object.keys(document.components.schemas).filter(
      (name) => !text.includes(`"#/components/schemas/${name}"`),
    );
    expect(unused).toEqual(['LiveMessage']);
  });

  it.each(operations)('$method $path declares each of its parameters', ({ path, operation }) => {
    const named = [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name);
    const declared = operation.parameters.filter((parameter) => parameter.in === 'path');
    expect(declared.map(({ name }) => name)).toEqual(named);
    expect(declared.every(({ required }) => required)).toBe(true);
    const places = operation.parameters.map((parameter) => `${parameter.in} ${parameter.name}`);
    expect(new Set(places).size).toBe(places.length);
  });

  it.each(operations)(
    '$method $path says what it answers, problems too, and by what it is opened',
    ({ operation }) => {
      const { default: problem, ...answers } = operation.responses;
      expect(problem).toEqual({ $ref: '#/components/responses/Problem' });
      expect(Object.keys(answers).length).toBeGreaterThan(0);
      for (const [status, { description }] of Object.entries(answers)) {
        expect(status).toMatch(/^[1-5]\d\d$/);
        expect(description).toMatch(/\S/);
      }
      const schemes = operation.security.flatMap((each) => Object.keys(each));
      for (const scheme of schemes)
        expect(Object.keys(document.components.securitySchemes)).toContain(scheme);
      expect(document.tags.map(({ name }) => name)).toContain(operation.tags[0]);
    },
  );

  it('has its fixed members as the specification names them', () => {
    expect(Object.keys(document).sort()).toEqual([
      'components',
      'info',
      'openapi',
      'paths',
      'servers',
      'tags',
    ]);
    expect(document.openapi).toBe('3.1.1');
    expect(document.info).toMatchObject({ title: 'Rimeway', version: expect.stringMatching(/\d/) });
    for (const name of Object.keys(document.components.schemas)) expect(name).toMatch(/^[\w.-]+$/);
    for (const path of Object.keys(document.paths)) expect(path).toMatch(/^\//);
  });

  it('carries the caution, and that missing is not clear', () => {
    expect(document.info.description).toContain('pilot in command');
    expect(document.info.description).toContain('Missing is not clear');
  });

  it('has no keyword that its reader does not know, and no dialect of its own', () => {
    for (const [name, schema] of Object.entries(document.components.schemas))
      expect(() => faultsOf(null, schema, document, name)).not.toThrow();
    expect(JSON.stringify(document)).not.toMatch(/"\$(id|schema|defs)"/);
  });

  it('says rules that have no keyword in words', () => {
    expect(document.components.schemas.TimeZone).toEqual({
      ...{ type: 'string', maxLength: 60, description: 'an IANA time zone such as America/New_York' },
    });
  });

  it.each([
    ['postBrief', true],
    ['getBoard', false],
    ['getHealth', true],
  ])('%s may be called without a key: %s', (name, isFree) => {
    const { security } = operations.find(({ operation }) => operation.operationId === name)!.operation;
    expect(security.length === 0 || security.some((each) => Object.keys(each).length === 0)).toBe(isFree);
  });
});

it('GET /api/openapi.json gives it as JSON', async () => {
  const { ask } = await gated({ handlers: { getOpenapi } });
  const response = await ask('/api/openapi.json');
  expect(response.status).toBe(LET_IN);
  expect(response.headers.get('content-type')).toBe('application/json');
  expect(await response.json()).toEqual(document);
});

describe('the reader of these tests', () => {
  it.each<[unknown, object, number]>([
    [1, { type: 'number' }, 0],
    [1.5, { type: 'integer' }, 1],
    [null, { type: ['number', 'null'] }, 0],
    ['1', { type: ['number', 'null'] }, 1],
    ['a', { enum: ['b'] }, 1],
    [{ a: 1 }, { type: 'object', properties: { a: { type: 'string' } } }, 1],
    [{}, { required: ['a'] }, 1],
    [{ b: 1 }, { properties: { a: {} }, additionalProperties: false }, 1],
    [[1, 2, 3], { prefixItems: [{ type: 'number' }, { type: 'number' }], items: false }, 1],
    [['a', 1], { items: { type: 'string' } }, 1],
    [null, { anyOf: [{ type: 'string' }, { type: 'null' }] }, 0],
    ['', { anyOf: [{ type: 'number' }, { minLength: 1 }] }, 3],
    [2, { $ref: '#/is' }, 1],
    [3, { oneOf: [{ type: 'number' }, { minimum: 1 }] }, 1],
  ])('finds in %j by %j %i faults', (value, schema, count) => {
    expect(faultsOf(value, schema as never, { is: { const: 1 } })).toHaveLength(count);
  });

  it('does not pass over what it does not know', () => {
    expect(() => faultsOf(1, { multipleOf: 2 }, {})).toThrow(/multipleOf/);
  });
});
