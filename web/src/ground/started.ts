/** The fluid that was applied last, kept on this device: a page that is closed or sleeps loses no minute. */
import { signal } from '@preact/signals';
import * as z from 'zod/mini';
import { storedText, storeText } from '../device-value.ts';

const KEY = 'rimeway-application';

const applicationSchema = z.object({
  aerodrome: z.string(),
  fluid: z.string(),
  startMs: z.number(),
  window: z.optional(z.object({ minimumMinutes: z.number(), maximumMinutes: z.number() })),
  checkedMs: z.optional(z.number()),
  /** Lowest operational use temperature as it was entered, °C. */
  lowestUseText: z.optional(z.string()),
});
export type Application = z.infer<typeof applicationSchema>;

export const application = signal<Application | undefined>(stored());

function stored(): Application | undefined {
  try {
    return applicationSchema.safeParse(JSON.parse(storedText(KEY) ?? 'null')).data;
  } catch {
    return undefined;
  }
}

/** Older than a day it is of another flight. */
const FORGOTTEN_MS = 24 * 3_600_000;

export function isOver({ startMs }: Application): boolean {
  return Date.now() - startMs >= FORGOTTEN_MS;
}

export function startApplication(started: Application): void {
  keep(started);
}

export function noteCheck(checkedMs: number): void {
  const { value } = application;
  if (value !== undefined) keep({ ...value, checkedMs });
}

export function noteLowestUse(fluid: string, lowestUseText: string): void {
  const { value } = application;
  if (value?.fluid === fluid) keep({ ...value, lowestUseText });
}

export function forgetApplication(): void {
  keep(undefined);
}

function keep(value: Application | undefined): void {
  application.value = value;
  storeText(KEY, value && JSON.stringify(value));
}
