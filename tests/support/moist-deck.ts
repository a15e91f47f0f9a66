/** A deck of cloud that a test can make moister and warmer. */
import type { Profile } from '../../worker/science/columns.ts';
import { alongPoints, makeProfile } from './make-profile.ts';

/** Moist from 860 to 740 hPa, dry above and below; so warm at 900 hPa, and 5.5 K colder by 810 hPa. */
export const moistDeck = ({ humidityPct, celsius }: { humidityPct: number; celsius: number }): Profile =>
  makeProfile({
    temperatureC: (hPa) => celsius - 52 * Math.log(900 / hPa),
    relativeHumidityPct: alongPoints([
      [1000, 40],
      [870, 40],
      [860, humidityPct],
      [740, humidityPct],
      [730, 20],
      [300, 10],
    ]),
  });
