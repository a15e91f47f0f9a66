/** `npm run new:key -- OPERATOR`: a key for an operator, told once, and what the service keeps of it. */
import { createHash } from 'node:crypto';
import { newKey } from './local-instance.ts';

const [operator] = process.argv.slice(2);
if (operator === undefined || !/^[a-z0-9-]{1,40}$/.test(operator)) {
  process.stderr.write('operator: expected a name of small letters, figures and hyphens, at most 40\n');
  process.exit(2);
}
const key = newKey();
const hash = createHash('sha256').update(key).digest('hex');
process.stdout.write(`key, for whoever loads data as ${operator}; it is shown this once:\n${key}\n`);
process.stdout.write(
  `member of OPERATOR_KEY_HASHES:\n${JSON.stringify(operator)}: ${JSON.stringify(hash)}\n`,
);
