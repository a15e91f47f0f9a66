/** Positions of a few upper-air stations, for bulletins that give only a station number. */

export interface Station {
  /** Five-figure WMO number. */
  readonly wmoNumber: string;
  readonly name: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Height above mean sea level, m. */
  readonly elevationM: number;
}

/**
 * Real stations: public station lists, from memory. Block 00 belongs to no country; its stations are INVENTED for the
 * demonstration, at places where no such station stands.
 */
const STATIONS: readonly Station[] = [
  { wmoNumber: '02963', name: 'Jokioinen', latDeg: 60.81, lonDeg: 23.5, elevationM: 103 },
  { wmoNumber: '11035', name: 'Vienna', latDeg: 48.25, lonDeg: 16.36, elevationM: 200 },
  { wmoNumber: '70398', name: 'Annette Island', latDeg: 55.04, lonDeg: -131.57, elevationM: 37 },
  { wmoNumber: '00901', name: 'Demonstration 1', latDeg: 44.47, lonDeg: -73.15, elevationM: 101 },
  { wmoNumber: '00902', name: 'Demonstration 2', latDeg: 44.39, lonDeg: -74.2, elevationM: 506 },
  { wmoNumber: '00903', name: 'Demonstration 3', latDeg: 42.75, lonDeg: -73.8, elevationM: 85 },
  { wmoNumber: '00904', name: 'Demonstration 4', latDeg: 43.65, lonDeg: -70.31, elevationM: 22 },
  { wmoNumber: '00905', name: 'Demonstration 5', latDeg: 44.81, lonDeg: -68.83, elevationM: 58 },
  { wmoNumber: '00906', name: 'Demonstration 6', latDeg: 46.69, lonDeg: -68.04, elevationM: 163 },
  { wmoNumber: '00907', name: 'Demonstration 7', latDeg: 43.63, lonDeg: -72.3, elevationM: 184 },
  { wmoNumber: '00908', name: 'Demonstration 8', latDeg: 44.94, lonDeg: -74.85, elevationM: 65 },
];

const BY_NUMBER: ReadonlyMap<string, Station> = new Map(
  STATIONS.map((station) => [station.wmoNumber, station]),
);

/**
 * @param wmoNumber  five figures, leading zeros kept.
 * @returns          the station, or undefined when the table does not hold it.
 * @source           public station lists, from memory; block 00 invented here.
 */
export function findStation(wmoNumber: string): Station | undefined {
  return BY_NUMBER.get(wmoNumber);
}
