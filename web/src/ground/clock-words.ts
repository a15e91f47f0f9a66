/** The clock in words that nobody takes for a clearance. */
import type { HoldoverClock } from '../../../worker/ground/count-down.ts';

/** "12:05"; over an hour "1:02:05". */
export function spanText(seconds: number): string {
  const whole = Math.floor(Math.abs(seconds));
  const [hours, minutes] = [Math.floor(whole / 3600), Math.floor(whole / 60) % 60];
  const two = (number: number) => String(number).padStart(2, '0');
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

export function clockWords({ phase, toShortestS, toLongestS }: HoldoverClock): string {
  if (toShortestS === null || toLongestS === null) return 'No time to count';
  switch (phase) {
    case 'not-started':
      return 'The start lies ahead';
    case 'running':
      return `${spanText(toShortestS)} to the shortest time, ${spanText(toLongestS)} to the longest`;
    case 'may-have-ended':
      return `Past the shortest time by ${spanText(toShortestS)}: ${spanText(toLongestS)} to the longest, it may have ended`;
    default:
      return `Over for ${spanText(toLongestS)}`;
  }
}
