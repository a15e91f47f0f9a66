/** CPU time of the workerd processes that this process started, from the kernel's scheduler statistics. */
import { readdirSync, readFileSync } from 'node:fs';

/** @returns seconds of CPU spent so far by every workerd below this process. */
export function workerdCpuS(): number {
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .filter((name) => isOurs(name))
    .reduce((sum, name) => sum + threadsCpuS(name), 0);
}

function isOurs(processId: string): boolean {
  const status = readOr(`/proc/${processId}/status`);
  return /^Name:\s+workerd/m.test(status) && new RegExp(`^PPid:\\s+${process.pid}$`, 'm').test(status);
}

/** First figure of schedstat: nanoseconds on a CPU. */
function threadsCpuS(processId: string): number {
  return readdirSync(`/proc/${processId}/task`).reduce((sum, thread) => {
    const [onCpuNs = '0'] = readOr(`/proc/${processId}/task/${thread}/schedstat`).split(' ');
    return sum + Number(onCpuNs) / 1e9;
  }, 0);
}

function readOr(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}
