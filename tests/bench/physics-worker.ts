/** The physics as a Worker of its own: runs a stage as often as asked. Its clock stands still, so the caller measures. */
import { type CurtainStages, makeStages } from './physics-curtain.ts';

const kept = new Map<string, CurtainStages>();

export default {
  fetch(request: Request): Response {
    const asked = new URL(request.url).searchParams;
    const size = `${asked.get('points')}x${asked.get('cells')}`;
    const stages = kept.get(size) ?? makeStages(Number(asked.get('points')), Number(asked.get('cells')));
    kept.set(size, stages);
    const run = stages[asked.get('stage') as keyof CurtainStages];
    let sum = 0;
    for (let count = Number(asked.get('runs')); count > 0; count -= 1) sum += run();
    return new Response(String(sum));
  },
};
