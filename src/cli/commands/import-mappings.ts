import { existsSync, readFileSync } from 'node:fs';
import { HeldbyError } from '../../errors.ts';
import type { ListField } from '../../intake/list-fields.ts';
import { writeWhole } from '../../report/write-file.ts';

/** Which columns of somebody's lists are which fields, and which list it is; kept beside the ledger under a name. */
export type Mapping = {
  readonly map: ReadonlyMap<ListField, string>;
  readonly series: string | undefined;
  readonly service: string | undefined;
};

type Kept = Record<string, { map: Record<string, string>; series?: string; service?: string }>;

const fileOf = (ledger: string): string => `${ledger}.mappings.json`;

function allKept(ledger: string): Kept {
  if (!existsSync(fileOf(ledger))) return {};
  try {
    return JSON.parse(readFileSync(fileOf(ledger), 'utf8')) as Kept;
  } catch {
    throw new HeldbyError(
      'INPUT_FILE',
      `${fileOf(ledger)} is damaged.`,
      'Delete it, and give the columns again with --map.',
    );
  }
}

/**
 * The mapping of that name, under what is given now.
 * @throws HeldbyError REFERENCE where there is none and no column is given either.
 */
export function mappingNamed(ledger: string, name: string, given: Mapping): Mapping {
  const kept = allKept(ledger);
  const known = kept[name];
  if (known === undefined && given.map.size === 0)
    throw new HeldbyError(
      'REFERENCE',
      `No mapping is kept under the name "${name}".`,
      `${Object.keys(kept).length > 0 ? `There are: ${Object.keys(kept).join(', ')}. ` : ''}Give its columns once: --mapping ${name} --map FIELD=COLUMN …`,
    );
  return {
    map: new Map([...(Object.entries(known?.map ?? {}) as [ListField, string][]), ...given.map]),
    series: given.series ?? known?.series,
    service: given.service ?? known?.service,
  };
}

/** Keeps it for the next time; the file is whole at every moment. @throws HeldbyError CANNOT_WRITE */
export function keepMapping(ledger: string, name: string, { map, series, service }: Mapping): void {
  const kept: Kept = {
    ...allKept(ledger),
    [name]: {
      map: Object.fromEntries(map),
      ...(series === undefined ? {} : { series }),
      ...(service === undefined ? {} : { service }),
    },
  };
  writeWhole(fileOf(ledger), [`${JSON.stringify(kept, null, 2)}\n`]);
}
