/** Map tiles on the ground, against the table and the checks that a maker of elevation tiles publishes. */
import {
  latDegFromWorldY,
  TILE_PIXELS,
  worldSideM,
  worldXFromLonDeg,
  worldYFromLatDeg,
} from '../../worker/science/web-mercator.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'a pixel covers as many meters as the table of ground resolution has',
  { source: 'Tilezen, data sources, ground resolution by zoom and latitude', tag: 'L', values: 12 },
  (published) => {
    const rows = [
      [6, 2446.0, 1729.6, 1223.0],
      [7, 1223.0, 864.8, 611.5],
      [9, 305.7, 216.2, 152.9],
      [12, 38.2, 27.0, 19.1],
    ] as const;
    for (const [zoom, ...printedM] of rows) {
      [0, 45, 60].forEach((latDeg, column) => {
        const found = worldSideM(latDeg) / (TILE_PIXELS * 2 ** zoom);
        // The table takes the equatorial radius, 6,378,137 m, which is 0.112 % longer than the mean one.
        published.close(found * (6_378_137 / 6_371_008.8), printedM[column]!, {
          abs: 0.07,
          why: 'a decimal printed, some of them cut',
        });
      });
    }
  },
);

testPublished(
  'a place lies in the tile that the maker’s own checks name',
  { source: 'Tilezen, checks of the terrarium tiles', tag: 'L', values: 4 },
  (published) => {
    const [column, row] = [2 ** 19 * worldXFromLonDeg(-122.39199), 2 ** 19 * worldYFromLatDeg(37.79123)].map(
      Math.floor,
    );
    published.same(column, 83_897, 'column');
    published.same(row, 202_618, 'row');
    const middleLatDeg = (latDegFromWorldY(3165 / 2 ** 13) + latDegFromWorldY(3166 / 2 ** 13)) / 2;
    const middleLonDeg = (1308.5 / 2 ** 13) * 360 - 180;
    published.same(Math.floor(2 ** 13 * worldXFromLonDeg(middleLonDeg)), 1308, 'column of a tile’s middle');
    published.same(Math.floor(2 ** 13 * worldYFromLatDeg(middleLatDeg)), 3165, 'row of a tile’s middle');
  },
);
