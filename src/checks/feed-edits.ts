import type { Backplane, Feed, Supply } from '../machine/types.ts';
import { edit, saying } from './edits.ts';
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

/** A feed at contacts that the bus does not have for its rail, put where the bus has it. */
export function refeeding(backplane: Backplane, { rail, contacts, source }: Feed): Edit[] {
  const right = contactsOf(backplane, rail);
  const isRight = contacts.every(
    ({ instanceBus, contact }) => instanceBus.pins.claims[contact]?.name === rail,
  );
  if (right.length === 0 || (contacts.length > 0 && isRight)) return [];
  const at = `at ${right.join(', ')}`;
  return [edit(`write \`${at}\`, where the bus has ${rail}`, saying(source, { at }))];
}

/** The feeds of a rail from a supply that name other contacts than the bus has for it, put right. */
export const correcting = (backplane: Backplane, rail: string, supply: Supply): Edit[] =>
  backplane.feeds
    .filter((feed) => feed.rail === rail && feed.supply === supply)
    .flatMap((feed) => refeeding(backplane, feed));

/**
 * The line by which a supply's rail or ground enters a backplane at every contact that the bus has for it. Where there is
 * one that names other contacts, a second would leave the rail on those: the one there is corrected.
 */
export function feeding(backplane: Backplane, rail: string, supply: Supply): Edit[] {
  const corrected = correcting(backplane, rail, supply);
  if (corrected.length > 0) return corrected;
  const contacts = contactsOf(backplane, rail);
  if (contacts.length === 0) return [];
  const line = `feed ${rail} from ${supply.name} at ${contacts.join(', ')}`;
  return [edit(`add \`${line}\` to ${backplane.name}`, { kind: 'add', line, into: backplane.source })];
}
