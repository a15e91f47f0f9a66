/** What a file of legs looks like: its columns and one invented example. */

/** The service says which of them a leg needs. */
export const CSV_COLUMNS = [
  'label',
  'tail',
  'route',
  'weekdays',
  'departureLocal',
  'timeZone',
  'fromDate',
  'untilDate',
  'aircraft',
  'plannedMinutes',
  'alternate',
  'destinationCeilingFt',
  'destinationVisibilityM',
  'alternateCeilingFt',
  'alternateVisibilityM',
  'takeoffWeightKg',
  'minimumAltitudes',
] as const;

/** @param aircraftId  Of a profile that the service knows. */
export function csvTemplate(aircraftId: string, timeZone: string): string {
  const example: Record<(typeof CSV_COLUMNS)[number], string> = {
    label: 'EXAMPLE 101',
    tail: 'TAIL-1',
    route: 'KBTV DCT KBGR',
    weekdays: 'mon-fri',
    departureLocal: '05:40',
    timeZone,
    fromDate: '',
    untilDate: '',
    aircraft: aircraftId,
    plannedMinutes: '75',
    alternate: 'KPWM',
    destinationCeilingFt: '400',
    destinationVisibilityM: '1200',
    alternateCeilingFt: '600',
    alternateVisibilityM: '3200',
    takeoffWeightKg: '',
    minimumAltitudes: '0-45:6500 45-130:6200',
  };
  return `${CSV_COLUMNS.join(',')}\r\n${CSV_COLUMNS.map((name) => example[name]).join(',')}\r\n`;
}

/** Legs that a file seems to have: its lines without the header and the empty ones. The service counts for good. */
export function rowsIn(csv: string): number {
  return Math.max(0, csv.split(/\r?\n/).filter((line) => line.trim() !== '').length - 1);
}
