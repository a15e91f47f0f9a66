/** Prints the cue card alone: the brief's own print stays one page. */

const ATTRIBUTE = 'data-print-alone';
const PRINT_ALONE = 'cue-card';

export function printCueCard(): void {
  document.body.setAttribute(ATTRIBUTE, PRINT_ALONE);
  addEventListener('afterprint', () => document.body.removeAttribute(ATTRIBUTE), { once: true });
  print();
}
