/** A request checked against its schema; the first fault becomes an error with the member's path. */
import type * as z from 'zod/mini';
import { InvalidRequestError } from '../errors.ts';

/** @throws InvalidRequestError with the path of the first member that does not fit. */
export function parseRequest<Schema extends z.core.$ZodType>(
  schema: Schema & { safeParse(value: unknown): z.core.util.SafeParseResult<z.core.output<Schema>> },
  value: unknown,
): z.core.output<Schema> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const issue = deepestIssue(result.error.issues);
  const path = issue?.code === 'unrecognized_keys' ? [...issue.path, issue.keys[0]!] : (issue?.path ?? []);
  throw new InvalidRequestError({
    field: path.length === 0 ? 'body' : path.map(String).join('.'),
    found: describe(valueAt(value, path)),
    expected: issue === undefined ? 'another shape' : expectation(issue),
  });
}

/** What would have fitted, in words. */
function expectation(issue: Issue): string {
  switch (issue.code) {
    case 'too_small':
      return `at least ${issue.minimum}${issue.origin === 'number' ? '' : ' entries'}`;
    case 'too_big':
      return `at most ${issue.maximum}${issue.origin === 'number' ? '' : ' entries'}`;
    case 'invalid_type':
      return `a value of type ${issue.expected}`;
    case 'invalid_value':
      return `one of ${issue.values.map(String).join(', ')}`;
    case 'invalid_format':
      return issue.pattern === undefined ? `the format ${issue.format}` : `text like ${issue.pattern}`;
    case 'unrecognized_keys':
      return 'only members of the contract';
    case 'invalid_union':
      return 'one of the shapes of the contract';
    default:
      return issue.message ?? 'another value';
  }
}

type Issue = z.core.$ZodIssue;

/** Inside a union the issue that went furthest is the one that helps. */
function deepestIssue(issues: readonly Issue[]): Issue | undefined {
  let best: Issue | undefined;
  for (const issue of issues) {
    const candidates = issue.code === 'invalid_union' ? issue.errors.flat() : [];
    const inner = deepestIssue(candidates);
    const found =
      inner !== undefined && inner.path.length > 0
        ? ({ ...inner, path: [...issue.path, ...inner.path] } as Issue)
        : issue;
    if (best === undefined || found.path.length > best.path.length) best = found;
  }
  return best;
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let current = value;
  for (const key of path) {
    if (typeof current !== 'object' || current === null) return undefined;
    current = (current as Record<PropertyKey, unknown>)[key];
  }
  return current;
}

const LONGEST_SHOWN = 60;

function describe(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null) return 'an object';
  return JSON.stringify(value)?.slice(0, LONGEST_SHOWN) ?? typeof value;
}
