/** Ascents into the store: parts of TEMP joined with those that came before, levels thinned, what cannot be placed refused. */
import type { Sounding } from '../formats/sounding.ts';
import { joinedSounding, type TempContext } from '../formats/temp/read-temp.ts';
import { thinnedSounding } from '../formats/thin/thin-sounding.ts';
import type { SoundingRepository } from './ports.ts';

/** Writers of one ascent at the same time settle in two rounds; more mean a fault elsewhere. */
const MOST_ROUNDS = 8;

export interface KeptSoundings {
  readonly stored: number;
  readonly refused: readonly { readonly station: string; readonly reason: string }[];
  /** Every ascent in the order given, as it is stored, or would be. */
  readonly soundings: readonly Sounding[];
}

/** Stores ascents of one operator. Each stands in the store with every part of it that was ever sent. */
export async function keepSoundings(
  repository: SoundingRepository,
  operator: string,
  soundings: readonly Sounding[],
  { context, nowMs }: { readonly context: TempContext; readonly nowMs: number },
): Promise<KeptSoundings> {
  const refused: { station: string; reason: string }[] = [];
  const result = [...soundings];
  const refuse = (index: number, reason: string) =>
    refused.push({ station: soundings[index]!.stationId, reason });
  let pending = soundings.flatMap((sounding, index) => {
    const reason = refusalOf(sounding);
    if (reason !== undefined) refuse(index, reason);
    return reason === undefined ? [index] : [];
  });
  const stored = new Set<number>();
  for (let round = 0; pending.length > 0 && round < MOST_ROUNDS; round += 1) {
    const reports = await repository.keepReports(
      operator,
      pending.map((index) => soundings[index]!),
    );
    // From the second round on: whoever wrote a part in between may have stored the ascent without ours.
    const changed = pending.flatMap((index, at) => {
      const isSettled = round > 0 && reports[at]!.length === result[index]!.reports.length;
      return isSettled ? [] : [{ index, reports: reports[at]! }];
    });
    const kept = changed.flatMap(({ index, reports: known }) => {
      const whole = thinnedSounding(joinedSounding(known, soundings[index]!, context));
      if (whole.kind === 'refused') refuse(index, whole.reason);
      else result[index] = whole.sounding;
      return whole.kind === 'kept' ? [index] : [];
    });
    await repository.put(
      operator,
      kept.map((index) => result[index]!),
      nowMs,
    );
    for (const index of kept) stored.add(index);
    pending = kept.filter((index) => result[index]!.reports.length > 0);
  }
  return { stored: stored.size, refused, soundings: result };
}

/** Why an ascent that reads cannot be kept: a brief could not place it in space or time. */
function refusalOf(sounding: Sounding): string | undefined {
  if (!Number.isFinite(sounding.timeMs)) return 'time: found none, expected a date and an hour';
  if (!Number.isFinite(sounding.latDeg) || !Number.isFinite(sounding.lonDeg)) {
    return 'position: found none, expected latitude and longitude';
  }
  if (sounding.levels.levelCount === 0) return 'levels: found none with a pressure, expected at least one';
  return undefined;
}
