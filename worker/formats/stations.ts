/** Positions of upper-air stations, for bulletins that give only a station number. */
import { STATION_POSITIONS } from './station-positions.ts';

export interface Station {
  /** Five-figure WMO number. */
  readonly wmoNumber: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Height above mean sea level, m. */
  readonly elevationM: number;
}

/**
 * Real stations: public station lists, from memory (Vienna 11035, Jokioinen 02963, Annette Island 70398). Block 00 belongs to no country; its stations are INVENTED for the
 * demonstration, at places where no such station stands.
 */
const STATIONS: readonly Station[] = [
  { wmoNumber: '02963', latDeg: 60.81, lonDeg: 23.5, elevationM: 103 },
  { wmoNumber: '11035', latDeg: 48.25, lonDeg: 16.36, elevationM: 200 },
  { wmoNumber: '70398', latDeg: 55.04, lonDeg: -131.57, elevationM: 37 },
  { wmoNumber: '00901', latDeg: 44.47, lonDeg: -73.15, elevationM: 101 },
  { wmoNumber: '00902', latDeg: 44.39, lonDeg: -74.2, elevationM: 506 },
  { wmoNumber: '00903', latDeg: 42.75, lonDeg: -73.8, elevationM: 85 },
  { wmoNumber: '00904', latDeg: 43.65, lonDeg: -70.31, elevationM: 22 },
  { wmoNumber: '00905', latDeg: 44.81, lonDeg: -68.83, elevationM: 58 },
  { wmoNumber: '00906', latDeg: 46.69, lonDeg: -68.04, elevationM: 163 },
  { wmoNumber: '00907', latDeg: 43.63, lonDeg: -72.3, elevationM: 184 },
  { wmoNumber: '00908', latDeg: 44.94, lonDeg: -74.85, elevationM: 65 },
];

const BY_NUMBER: ReadonlyMap<string, Station> = new Map(
  [...listedStations(), ...STATIONS].map((station) => [station.wmoNumber, station]),
);

function listedStations(): Station[] {
  return STATION_POSITIONS.trim()
    .split('\n')
    .map((line) => {
      const [wmoNumber = '', latDeg, lonDeg, elevationM] = line.split(' ');
      return { wmoNumber, latDeg: Number(latDeg), lonDeg: Number(lonDeg), elevationM: Number(elevationM) };
    });
}

/**
 * @param wmoNumber  five figures, leading zeros kept.
 * @returns          the station, or undefined when the table does not hold it.
 * @source           station-positions.ts; a few from memory; block 00 invented here.
 */
export function findStation(wmoNumber: string): Station | undefined {
  return BY_NUMBER.get(wmoNumber);
}
