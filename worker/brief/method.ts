/** What the answer says of how it was made, and the cautions that go with every one. */

/** Grows with every change that can alter an answer for the same request and data. */
export const METHOD_VERSION = '0.1.0';

export const CAUTIONS: readonly string[] = [
  'Advice only. The pilot in command, the flight manual, the operator’s manual and the official briefing decide.',
  'Missing data is shown as unknown. Unknown is not free of ice.',
  'Ground treatment and holdover are not assessed here.',
  'Low, middle and high come from fixed probability steps, not from a full error model.',
];
