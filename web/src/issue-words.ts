/** What a number should have been, from what the contract's schema says against it. */

/** The parts of a schema's issue that sentences are made of. */
interface Issue {
  readonly code?: string;
  readonly input?: unknown;
  readonly minimum?: number | bigint;
  readonly maximum?: number | bigint;
  readonly inclusive?: boolean;
  readonly expected?: string;
  readonly values?: readonly unknown[];
}

export function issueWords(issue: object): string {
  const { code, minimum, maximum, inclusive, expected, values } = issue as Issue;
  if (code === 'too_small')
    return inclusive === false ? `more than ${minimum} is needed` : `at least ${minimum} is needed`;
  if (code === 'too_big')
    return inclusive === false ? `less than ${maximum} is needed` : `at most ${maximum} is allowed`;
  if (code === 'invalid_type' && expected === 'number') return 'a number is needed';
  if (code === 'invalid_type') return `${expected ?? 'something else'} is needed`;
  if (code === 'invalid_value' && values !== undefined) return `one of ${values.join(', ')} is needed`;
  if (code === 'invalid_union') return 'a number, or rows of altitude and value, is needed';
  if (code === 'unrecognized_keys') return 'holds members that are not known';
  return 'does not fit';
}
