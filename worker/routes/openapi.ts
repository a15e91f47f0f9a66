/** GET /api/openapi.json: every call in OpenAPI 3.1, made from the one table. */
import type { Context } from 'hono';
import { CAUTIONS, METHOD_VERSION } from '../brief/method.ts';
import { problemSchema } from '../schema/brief.ts';
import type { Call, CallAnswer } from '../schema/call.ts';
import { CALL_GROUPS } from '../schema/calls.ts';
import { PATH_PARAMETERS, type PathParameterName } from '../schema/path-parameters.ts';
import type { AppEnv } from './app-env.ts';
import { ACCESS_WORDS, limitWords, STATUS_WORDS, UNITS } from './call-words.ts';
import { type JsonSchema, plainSchema, type Schemas, schemasOf } from './openapi-schemas.ts';

let written: string | undefined;

/** The same for everybody: made once an isolate, when somebody asks for it first. */
export function getOpenapi(_context: Context<AppEnv>): Response {
  written ??= JSON.stringify(openapiDocument());
  return new Response(written, {
    headers: { 'content-type': 'application/json', 'cache-control': 'no-cache' },
  });
}

/** The description itself, as the specification has its members. */
export function openapiDocument() {
  const calls = CALL_GROUPS.flatMap((group) => group.calls);
  const schemas = schemasOf(calls);
  return {
    openapi: '3.1.1',
    info: {
      title: 'Rimeway',
      version: METHOD_VERSION,
      description: `${CAUTIONS.slice(0, 2).join(' ')} ${UNITS}`,
    },
    servers: [{ url: '/' }],
    tags: CALL_GROUPS.map(({ title }) => ({ name: title })),
    paths: pathsOf(schemas),
    components: {
      schemas: schemas.components,
      responses: { Problem: problemAnswer(schemas) },
      securitySchemes: {
        key: {
          type: 'http',
          scheme: 'bearer',
          description: 'A key of an operator, of a board or of a shared brief; or a token of a sign-in.',
        },
        subprotocol: {
          type: 'apiKey',
          in: 'header',
          name: 'Sec-WebSocket-Protocol',
          description: 'rimeway-board, key.{secret}',
        },
      },
    },
  };
}

function problemAnswer(schemas: Schemas) {
  return {
    description: 'It could not be done, and why (RFC 9457)',
    content: { 'application/problem+json': { schema: schemas.of(problemSchema) } },
  };
}

function pathsOf(schemas: Schemas): Record<string, Record<string, object>> {
  const paths: Record<string, Record<string, object>> = {};
  for (const { title, calls } of CALL_GROUPS)
    for (const call of calls) {
      paths[call.path] ??= {};
      paths[call.path]![call.method.toLowerCase()] = operationOf(call, title, schemas);
    }
  return paths;
}

function operationOf(call: Call, tag: string, schemas: Schemas): object {
  const body = bodyOf(call, schemas);
  return {
    operationId: call.name,
    tags: [tag],
    summary: call.summary,
    description: `${ACCESS_WORDS[call.access]} ${limitWords(call)}`.trim(),
    parameters: parametersOf(call),
    ...(body === undefined ? {} : { requestBody: body }),
    responses: {
      ...Object.fromEntries(
        Object.entries(call.answer).map(([status, answer]) => [
          status,
          responseOf(Number(status), answer, schemas),
        ]),
      ),
      default: { $ref: '#/components/responses/Problem' },
    },
    security: securityOf(call),
  };
}

function securityOf({ access, keyIn }: Call): readonly object[] {
  if (access === 'open') return [];
  const needed = keyIn === 'subprotocol' ? { subprotocol: [] } : { key: [] };
  return access === 'read' ? [{}, needed] : [needed];
}

interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query' | 'header';
  readonly required: boolean;
  readonly schema: JsonSchema;
}

/** Of the path, the query, and the header that names a board where a key of one may be used elsewhere. */
export function parametersOf({ path, query, access }: Call): Parameter[] {
  const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, name = '']) => ({
    name,
    in: 'path' as const,
    required: true,
    schema: plainSchema(PATH_PARAMETERS[name as PathParameterName]),
  }));
  const { properties = {}, required = [] } = query === undefined ? {} : plainSchema(query);
  const inQuery = Object.entries(properties).map(([name, schema]) => ({
    name,
    in: 'query' as const,
    required: required.includes(name),
    schema,
  }));
  const boardSchema = plainSchema(PATH_PARAMETERS.board);
  const inHeader = { name: 'X-Rimeway-Board', in: 'header' as const, required: false, schema: boardSchema };
  return [...inPath, ...inQuery, ...(access === 'read' ? [inHeader] : [])];
}

function bodyOf({ request, raw }: Call, schemas: Schemas): object | undefined {
  if (request === undefined && raw === undefined) return undefined;
  const content = [
    ...(request === undefined ? [] : [['application/json', { schema: schemas.of(request) }] as const]),
    ...(raw?.contentTypes ?? []).map((type) => [type, textOrBytes(type)] as const),
  ];
  return { required: true, content: Object.fromEntries(content) };
}

/** Bytes have no schema of JSON. */
const textOrBytes = (type: string) => (type.startsWith('text/') ? { schema: { type: 'string' } } : {});

function responseOf(status: number, answer: CallAnswer, schemas: Schemas): object {
  const description = STATUS_WORDS[status] ?? 'Done';
  if (answer === null) return { description };
  if (typeof answer === 'string') return { description, content: { [answer]: textOrBytes(answer) } };
  const [type, schema] =
    'contentType' in answer ? [answer.contentType, answer.schema] : ['application/json', answer];
  return { description, content: { [type]: { schema: schemas.of(schema) } } };
}
