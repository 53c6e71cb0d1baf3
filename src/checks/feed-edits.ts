import type { Backplane, Supply } from '../machine/types.ts';
import { edit } from './edits.ts';
import type { Edit } from './types.ts';

/** Contacts of the backplane's buses that are said to be a rail or ground, as a `feed` line names them. */
export function contactsOf({ buses }: Backplane, rail: string): string[] {
  const labels = buses.flatMap(({ place, bus }) =>
    bus.pins.claims.flatMap((claim, i) => {
      const label = bus.pins.connector.labels[i]!;
      return claim?.name === rail && claim.slots === undefined
        ? [place === '' ? label : `${place}.${label}`]
        : [];
    }),
  );
  return [...new Set(labels)];
}

/** The line by which a supply's rail or ground enters a backplane at every contact that the bus has for it. */
export function feeding(backplane: Backplane, rail: string, { name }: Supply): Edit[] {
  const contacts = contactsOf(backplane, rail);
  if (contacts.length === 0) return [];
  const line = `feed ${rail} from ${name} at ${contacts.join(', ')}`;
  return [edit(`add \`${line}\` to ${backplane.name}`, { kind: 'add', line, into: backplane.source })];
}
