/** What one call of the interface is: everything that routing, access, documentation and the typed client need to know of it. */
import type * as z from 'zod/mini';

/**
 * Who may make a call. `open`: anybody; `read`: anybody, and a key lets its operator's own data be read too, while a wrong one is
 * refused; `operator`: whoever writes for an operator; `board-view`, `board-edit`, `board-own`: whoever may do that on the board of the
 * path; `brief-key`: whoever has the key of that one shared brief, which its handler checks.
 */
export const ACCESS_KINDS = [
  'open',
  'read',
  'operator',
  'board-view',
  'board-edit',
  'board-own',
  'brief-key',
] as const;
export type AccessKind = (typeof ACCESS_KINDS)[number];

export const METHODS = ['GET', 'POST', 'PUT', 'DELETE'] as const;
export type Method = (typeof METHODS)[number];

/** Text or bytes that are no JSON, with the type that is sent for them where several are taken the first. */
export interface RawBody {
  readonly contentTypes: readonly [string, ...string[]];
}

/** JSON of that schema; text or bytes of a type; JSON under a type of its own; null: no body. */
export type CallAnswer =
  | z.ZodMiniType
  | string
  | { readonly contentType: string; readonly schema: z.ZodMiniType }
  | null;

export interface Call {
  readonly name: string;
  readonly method: Method;
  /** Parts in braces are parameters: see path-parameters.ts. */
  readonly path: `/${string}`;
  /** One plain sentence, without its full stop. */
  readonly summary: string;
  readonly access: AccessKind;
  /** JSON body. */
  readonly request?: z.ZodMiniType;
  /** Another body: in the place of JSON, or beside it. */
  readonly raw?: RawBody;
  /** Greatest body, bytes; MOST_BODY_BYTES where it says nothing. */
  readonly mostBytes?: number;
  /** Members are what stands in the address: texts. */
  readonly query?: z.ZodMiniObject;
  /** By HTTP status; every other answer is a problem. */
  readonly answer: Readonly<Record<number, CallAnswer>>;
}

export const MOST_BODY_BYTES = 64 * 1024;

/** Names of the parameters in a path. */
export type PathParameter<Path extends string> = Path extends `${string}{${infer Name}}${infer Rest}`
  ? Name | PathParameter<Rest>
  : never;

type Typed<Answer> = Answer extends z.ZodMiniType
  ? z.output<Answer>
  : Answer extends { readonly schema: infer Schema extends z.ZodMiniType }
    ? z.output<Schema>
    : Answer extends string
      ? string
      : undefined;

/** What a call answers when it succeeds. */
export type AnswerOf<C extends Call> = Typed<C['answer'][keyof C['answer']]>;
