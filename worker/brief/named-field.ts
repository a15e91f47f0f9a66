/** A refusal of one part of a request, named by where that part stands in the whole. */
import { InvalidRequestError } from '../errors.ts';

/**
 * Runs a step whose refusals name a member of their own, as `route`, and names it as it stands in the request.
 *
 * @param pathOf  From the refusal's field to the path in the request.
 */
export async function withField<Result>(
  pathOf: (field: string) => string,
  step: () => Result | Promise<Result>,
): Promise<Result> {
  try {
    return await step();
  } catch (error) {
    if (!(error instanceof InvalidRequestError)) throw error;
    const { field, found, expected } = error;
    throw new InvalidRequestError({ field: pathOf(field), found, expected }, { cause: error });
  }
}
