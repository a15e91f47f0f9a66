/** Factors of the edges' units, each way. */
import {
  ftFromM,
  inHgFromPa,
  ktFromMps,
  mFromFt,
  mFromNm,
  mpsFromInPerH,
  mpsFromKt,
  mpsFromMmPerMin,
  nmFromM,
  paFromInHg,
} from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const exact = { rel: 1e-12, why: 'exact by definition' };

testPublished(
  'a foot, a nautical mile, a knot and an inch of mercury',
  { source: 'NOAA Hurricane Research Division, questions and answers A14', tag: 'L', values: 4 },
  (published) => {
    // m, km, m/s, hPa. Read 2026-11-27.
    published.close(mFromFt(1), 0.3048, exact);
    published.close(mFromNm(1) / 1000, 1.852, exact);
    published.close(mpsFromKt(1), 0.5144, { abs: 5e-5, why: 'half of the last digit' });
    published.close(paFromInHg(1) / 100, 33.86, {
      abs: 0.005,
      why: 'half of the last digit',
    });
    assertClose(ftFromM(0.3048), 1, exact);
    assertClose(nmFromM(1852), 1, exact);
    assertClose(ktFromMps(mpsFromKt(137)), 137, exact);
    assertClose(inHgFromPa(paFromInHg(29.92)), 29.92, exact);
  },
);

testPublished(
  'an inch of mercury, conventional, to seven figures',
  { source: 'NIST Special Publication 811, appendix B', tag: 'M', values: 1 },
  (published) => {
    published.close(paFromInHg(1), 3386.389, { abs: 0.0005, why: 'half of the last digit' });
  },
);

testPublished(
  'growth of an inch an hour is 0.4233 mm a minute',
  { source: '25.4 mm to the inch, 60 minutes to the hour', tag: 'C', values: 1 },
  (published) => {
    published.close(mpsFromInPerH(1) / mpsFromMmPerMin(1), 25.4 / 60, exact);
    assertClose(mpsFromMmPerMin(60_000), 1, exact);
  },
);
