import type { Word } from '../language/tree.ts';
import { attribute, has, items, subjects } from '../language/tree.ts';
import { readKeying } from './connectors.ts';
import { isGroundName, isRailName } from './names.ts';
import {
  contacts,
  evidenceOf,
  type Named,
  names,
  namesOf,
  type Problems,
  type Said,
  sourceOf,
  statementOf,
} from './scope.ts';
import type { Chain, Claim, ClaimKind, Connector, PinMap, RailNames } from './types.ts';

/** A table of contacts as read: its claims, and those that hold in some slots only. */
interface Table {
  readonly pins: PinMap;
  readonly chains: readonly Chain[];
  /** Claims for certain slots, by contact; empty for most. */
  readonly inSlots: readonly { readonly contact: number; readonly claim: Claim }[];
}

export function claimKind(name: string, rails: RailNames): ClaimKind {
  if (rails.grounds.has(name) || isGroundName(name)) return 'ground';
  if (rails.rails.has(name) || isRailName(name)) return 'rail';
  return 'signal';
}

/** The lines of a bus, edge or port → what each contact is. `under` is the map of the bus that an edge was made for. */
export function readTable(
  lines: readonly Said[],
  connector: Connector,
  owner: string,
  rails: RailNames,
  problems: Problems,
  under?: PinMap,
): Table {
  const own = new Array<Claim | undefined>(connector.labels.length).fill(undefined);
  const chains: Chain[] = [];
  const inSlots: { contact: number; claim: Claim }[] = [];
  for (const line of lines) {
    if (statementOf(line).form !== 'entry') continue;
    for (const { contact, claim } of readEntry(line, connector, owner, rails, problems, chains)) {
      const before = own[contact];
      if (claim.slots !== undefined) inSlots.push({ contact, claim });
      if (before === undefined) own[contact] = claim;
      else if (!disjoint(before, claim))
        sayTwice(connector.labels[contact] as string, before, claim, problems);
    }
  }
  const claims = under === undefined ? own : own.map((claim, i) => claim ?? under.claims[i]);
  const keying = readKeying(lines, connector, problems);
  return { pins: { connector, claims, own, ...keying }, chains, inSlots };
}

const disjoint = (a: Claim, b: Claim): boolean =>
  a.slots !== undefined && b.slots !== undefined && ![...a.slots].some((slot) => b.slots?.has(slot));

function sayTwice(label: string, before: Claim, claim: Claim, problems: Problems): void {
  problems.add(
    'duplicate',
    claim.source,
    `contact \`${label}\` of ${claim.owner} is said twice; keep one line`,
    {
      related: [{ source: before.source, message: 'said here first' }],
    },
  );
}

function readEntry(
  line: Said,
  connector: Connector,
  owner: string,
  rails: RailNames,
  problems: Problems,
  chains: Chain[],
): { contact: number; claim: Claim }[] {
  const statement = statementOf(line);
  const is = attribute(statement, 'is')?.values ?? [];
  const word = is[0]?.kind === 'word' ? (is[0] as Word).text : undefined;
  const at = contacts(line, statement.subject, connector, problems);
  const named = word === undefined ? names(line, is, problems) : [];
  const open = notConnected(line, named, problems);
  const out = contacts(line, items(statement, 'out'), connector, problems);
  const outNames = has(statement, 'isout') ? namesOf(line, 'isout', problems) : named;
  const shared = sharedOf(line, owner, problems);
  // Written out, not spread: there is one of these for each contact of a bus.
  const claim = (name: Named | undefined, aliases: readonly string[]): Claim => ({
    evidence: shared.evidence,
    wiredOr: shared.wiredOr,
    clock: shared.clock,
    strobe: shared.strobe,
    private: shared.private,
    owner: shared.owner,
    slots: shared.slots,
    kind: name === undefined ? (word as ClaimKind) : open(name) ? 'unknown' : claimKind(name.name, rails),
    name: name === undefined || open(name) ? '' : name.name,
    aliases,
    // Each name of a list is a place of its own; unnamed contacts share their line's.
    source: name === undefined || named.length === 1 ? sourceOf(line) : name.source,
  });
  if (named.length > 1 && named.length !== at.length) {
    mismatch(line, at.length, named.length, connector, problems);
  }
  const also = namesOf(line, 'also', problems).map((one) => one.name);
  const paired = named.length > 1 && also.length === named.length;
  if (named.length > 1 && also.length > 0 && !paired)
    mismatch(line, named.length, also.length, connector, problems);
  if (has(statement, 'isout') && outNames.length > 1 && outNames.length !== out.length)
    mismatch(line, out.length, outNames.length, connector, problems);
  const list: { contact: number; claim: Claim }[] = [];
  if (named.length <= 1) {
    const one = claim(named[0], also);
    for (const { index } of at) list.push({ contact: index, claim: one });
  } else {
    at.slice(0, named.length).forEach(({ index }, i) => {
      list.push({ contact: index, claim: claim(named[i], paired ? [also[i] as string] : []) });
    });
  }
  if (has(statement, 'out')) {
    if (out.length !== at.length) mismatch(line, at.length, out.length, connector, problems);
    out.slice(0, list.length).forEach(({ index }, i) => {
      const input = list[i] as { contact: number; claim: Claim };
      const name = outNames.length > 1 ? outNames[i] : outNames[0];
      const output = name === undefined || name.name === input.claim.name ? input.claim : claim(name, []);
      list.push({ contact: index, claim: output });
      chains.push({
        name: input.claim.name,
        outName: output.name,
        input: input.contact,
        output: index,
        claim: input.claim,
      });
    });
  }
  return list;
}

/** What the trade writes for a contact without a line. Taken as a name, it would join all of them. */
const NOT_CONNECTED = /^n\/?c$/i;

/** Which of an entry's names are no names; reported at the first of them. A quoted one, and a chain's, is a name. */
function notConnected(line: Said, named: readonly Named[], problems: Problems): (name: Named) => boolean {
  const first = named.find(({ name }) => NOT_CONNECTED.test(name));
  const statement = statementOf(line);
  if (first === undefined || has(statement, 'out')) return () => false;
  const quoted = new Set(
    items(statement, 'is').flatMap((item) => (item.quoted ? [sourceOf(line, item).from] : [])),
  );
  const isOpen = ({ name, source }: Named): boolean => NOT_CONNECTED.test(name) && !quoted.has(source.from);
  const found = named.find(isOpen);
  if (found === undefined) return isOpen;
  const { name, source } = found;
  const alone = named.length === 1;
  const where = alone ? '' : ' on a line of its own';
  problems.add(
    'pasted-form',
    source,
    `\`${name}\` is no line, and contacts of one name are joined; write \`unknown\`, \`spare\` or \`private\`${where}, or \`"${name}"\` where a line has this name`,
    alone ? { fix: { title: 'write `unknown`', text: 'unknown', source } } : {},
  );
  return isOpen;
}

function sharedOf(
  line: Said,
  owner: string,
  problems: Problems,
): Omit<Claim, 'kind' | 'name' | 'aliases' | 'source'> {
  const statement = statementOf(line);
  const slots = has(statement, 'in')
    ? new Set(namesOf(line, 'in', problems).map((one) => one.name))
    : undefined;
  return {
    evidence: evidenceOf(statement),
    wiredOr: has(statement, 'wired-or'),
    clock: has(statement, 'clock'),
    strobe: has(statement, 'strobe'),
    private: has(statement, 'private') || said(statement.attributes, 'private'),
    owner,
    slots,
  };
}

const said = (attributes: readonly { key: string; values: readonly unknown[] }[], text: string): boolean =>
  attributes.some(({ key, values }) => key === 'is' && (values[0] as Word | undefined)?.text === text);

function mismatch(
  line: Said,
  contactCount: number,
  nameCount: number,
  connector: Connector,
  problems: Problems,
): void {
  const lettered = subjects(statementOf(line)).filter(
    ({ first, last }) => last !== undefined && !/\d/.test(first),
  );
  const meant = lettered.map(({ first, last }) => {
    const [from, to] = [connector.indexOf.get(first) ?? 0, connector.indexOf.get(last as string) ?? -1];
    return ` (\`${first}..${last}\` is ${connector.labels.slice(from, to + 1).join(' ')})`;
  });
  problems.add(
    'range-mismatch',
    sourceOf(line),
    `${contactCount} contact${contactCount === 1 ? '' : 's'} left of \`=\`${meant.join('')}, but ${nameCount} on the other side; they pair off one to one`,
  );
}

/**
 * Where each name stands in a map: contact indices by name and by alias, without the contacts of chains – unless a card
 * says that a rail is there.
 */
export function contactsByName(pins: PinMap, chains: readonly Chain[]): Map<string, number[]> {
  const chained = new Set(chains.flatMap(({ input, output }) => [input, output]));
  const table = new Map<string, number[]>();
  pins.claims.forEach((claim, contact) => {
    if (claim === undefined || claim.name === '') return;
    if (chained.has(contact) && claim.kind === 'signal') return;
    for (const name of [claim.name, ...claim.aliases]) {
      const list = table.get(name);
      if (list === undefined) table.set(name, [contact]);
      else list.push(contact);
    }
  });
  return table;
}

/** The one chain of which a name says the beginning only, as `IACK` of `IACKIN > IACKOUT`, by its in. */
export function chainBegunBy(name: string, chains: Iterable<Chain>): string | undefined {
  const begun = [...chains].filter((chain) =>
    [chain.name, chain.outName].some((one) => one.toLowerCase().startsWith(name.toLowerCase())),
  );
  const [only, ...others] = new Set(begun.map((chain) => chain.name));
  return others.length === 0 ? only : undefined;
}

/** Whether a name means a chain: by its in, its out or an alias. */
export const isOfChain = (name: string, { name: inside, outName, claim }: Chain): boolean =>
  name === inside || name === outName || claim.aliases.includes(name);
