/** What becomes of a report that was sent: nothing is lost, and nothing is called stored that is not. */
import { expect, it } from 'vitest';
import type { Problem } from '../../../web/src/contract.ts';
import { outcomeOf } from '../../../web/src/flight/own-reports.ts';

const problem = (status: number): { kind: 'problem'; problem: Problem } => ({
  kind: 'problem',
  problem: { type: 'about:blank', title: 'x', status, detail: 'why' },
});
const rejected = { line: 1, reason: 'no place', text: 'UA' };

it.each([
  ['kept by the service', { kind: 'ok', value: { stored: 1, rejectedCount: 0, rejected: [] } }, 'stored'],
  [
    'read and not kept',
    { kind: 'ok', value: { stored: 0, rejectedCount: 1, rejected: [rejected] } },
    'refused',
  ],
  ['no connection', { kind: 'unreachable' }, 'waiting'],
  ['no answer in time', { kind: 'timeout', afterMs: 1 }, 'waiting'],
  ['an answer that is none', { kind: 'not-understood', where: 'stored' }, 'waiting'],
  ['a wrong key', problem(401), 'waiting'],
  ['too many', problem(429), 'waiting'],
  ['a broken service', problem(500), 'waiting'],
  ['a body that is not taken', problem(400), 'refused'],
] as const)('%s', (_, answer, state) => {
  expect(outcomeOf(answer as never).state).toBe(state);
});

it('a refusal gives the reason', () => {
  const value = { stored: 0, rejectedCount: 1, rejected: [rejected], reports: [] };
  expect(outcomeOf({ kind: 'ok', value }).why).toBe('no place');
});
