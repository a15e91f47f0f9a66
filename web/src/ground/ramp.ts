/** The brief's ramp as the ground folder takes it, for the aeroplane as somebody found it: the same rules as the service's, offline. */
import { type Holdover, holdoverOf } from '../../../worker/ground/holdover.ts';
import { holdoverTable } from '../../../worker/ground/holdover-table.ts';
import { withinLowestUse } from '../../../worker/ground/lowest-use.ts';
import { type StandingAeroplane, type Treatment, treatmentFor } from '../../../worker/ground/treatment.ts';
import type { Mix } from '../../../worker/schema/ground-words.ts';
import type { BriefMember } from '../contract.ts';
import type { LowestUseReading } from './lowest-use-entry.ts';

export type Ground = BriefMember['ground'];
export type Table = Ground['tables'][number]['table'];

export const NOTHING_KNOWN: Ground['weather'] = {
  temperature: null,
  dewPointC: null,
  windKt: null,
  isSkyClear: null,
  falling: null,
  isRaining: null,
  also: [],
};

const known = <T>(value: T | null): T | undefined => value ?? undefined;

export function treatmentOf(
  { weather, fluids }: Ground,
  aeroplane: Pick<StandingAeroplane, 'found' | 'fuel'>,
): Treatment {
  const { temperature, dewPointC, windKt, isSkyClear, falling, isRaining, also } = weather;
  return treatmentFor(
    {
      temperature: known(temperature),
      dewPointC: known(dewPointC),
      windKt: known(windKt),
      isSkyClear: known(isSkyClear),
      falling: known(falling),
      isRaining: known(isRaining),
      also,
    },
    { ...aeroplane, fluids: known(fluids) },
  );
}

interface Applied {
  readonly table: Table;
  readonly mix: Mix;
  readonly lowestUse: LowestUseReading;
  readonly conditions: Treatment['conditions'];
  readonly isSkinColder: boolean;
  /** UTC. */
  readonly onDay: string;
}

export function holdoverFor(
  { weather }: Ground,
  { table, mix, lowestUse, conditions, isSkinColder, onDay }: Applied,
): Holdover {
  const temperature = known(weather.temperature);
  const held = holdoverOf(holdoverTable(table), { conditions, temperature, mix, isSkinColder, onDay });
  // An entry that does not read may stand for any: no time is given beside it.
  if (lowestUse.kind === 'not-read')
    return held.kind === 'none' ? held : { kind: 'unknown', why: lowestUse.why };
  return withinLowestUse(held, lowestUse.kind === 'given' ? lowestUse.lowestC : undefined, {
    temperature,
    windKt: known(weather.windKt),
    isSkyClear: known(weather.isSkyClear),
    isColdSoaked: isSkinColder,
    isFrost: conditions?.includes('frost') === true,
  });
}

/** "Type IV 100/0", each mix of each table once. */
export function fluidsOf({
  tables,
}: Ground): { readonly table: Table; readonly mix: Mix; readonly name: string }[] {
  return tables.flatMap(({ operator, table }) =>
    [...new Set(table.rows.map(({ mix }) => mix))].map((mix) => ({
      table,
      mix,
      name: fluidName(table, mix, operator),
    })),
  );
}

/** All that tells one time from another on paper; Type I is not mixed by these parts. */
function fluidName(table: Table, mix: Mix, operator: string): string {
  const { fluidType, fluidName: product, surface, issuer, season, issuedOn } = table;
  const parts = fluidType === 'I' ? '' : ` ${mix}`;
  const skin = surface === 'any' ? '' : `, ${surface} skin`;
  return `Type ${fluidType}${parts} ${product}${skin}; ${issuer}, ${season}, of ${issuedOn}, loaded by ${operator}`;
}
