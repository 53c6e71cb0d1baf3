import { claimOf, placeOf, spokenClaim, spokenEvidence } from '../checks/explain.ts';
import type { View } from '../checks/types.ts';
import { harmless, placeIn, type Texts } from './places.ts';

export interface NetContact {
  readonly contact: string;
  readonly signal: string;
  readonly evidence: string;
  readonly file?: string;
  readonly line?: number;
}

export interface NetReport {
  readonly net: number;
  /** Every name said of it, in order of its contacts. */
  readonly names: readonly string[];
  readonly contacts: readonly NetContact[];
}

/** Nets that hold contacts, or the one that a contact (`CAGE.3.14`) is on, or those that carry a name. */
export function netReports(
  view: View,
  texts: Texts,
  nameOf: (file: string) => string,
  of?: string,
): NetReport[] {
  const { machine } = view;
  const reports: NetReport[] = [];
  const { start, members, count } = machine.nets;
  for (let net = 0; net < count; net++) {
    if (members[start[net]!]! >= machine.contactCount) break;
    const contacts: NetContact[] = [];
    const names = new Set<string>();
    for (let i = start[net]!; i < start[net + 1]!; i++) {
      const node = members[i]!;
      if (node >= machine.contactCount) break;
      const claim = claimOf(view, node);
      if (claim && claim.name !== '') for (const name of [claim.name, ...claim.aliases]) names.add(name);
      contacts.push({
        contact: placeOf(view, node),
        signal: claim ? spokenClaim(claim) : 'unlisted',
        evidence: claim ? spokenEvidence(claim.evidence) : 'not said',
        ...(claim ? { file: nameOf(claim.source.file), line: placeIn(texts, claim.source).line } : {}),
      });
    }
    if (of !== undefined && !names.has(of) && !contacts.some(({ contact }) => contact === of)) continue;
    reports.push({ net, names: [...names], contacts });
  }
  return reports;
}

/** Nets as text: a heading each, contacts by connector. Contacts joined to nothing and named nothing are counted. */
export function netsText(reports: readonly NetReport[], all: boolean): string {
  const shown = all
    ? reports
    : reports.filter(({ contacts, names }) => contacts.length > 1 || names.length > 0);
  const blocks = shown.map(({ names, contacts }) => {
    const title = names.length > 0 ? names.join(' = ') : (contacts[0]?.signal ?? '');
    const kinds = [...new Set(contacts.map(({ evidence }) => evidence))].join(', ');
    return (
      harmless(`${title}  ${contacts.length} contact${contacts.length === 1 ? '' : 's'}  (${kinds})`) +
      contactLines(contacts)
    );
  });
  const rest = reports.length - shown.length;
  if (rest > 0)
    blocks.push(`${rest} more contact${rest === 1 ? ' is' : 's are'} unnamed and joined to nothing`);
  return `${blocks.join('\n')}\n`;
}

const WIDTH = 100;

function contactLines(contacts: readonly NetContact[]): string {
  const groups = new Map<string, string[]>();
  for (const { contact } of contacts) {
    const dot = contact.lastIndexOf('.');
    const owner = contact.slice(0, dot);
    groups.set(owner, [...(groups.get(owner) ?? []), contact.slice(dot + 1)]);
  }
  let text = '';
  let line = '\n ';
  for (const [owner, labels] of groups) {
    const group = ` ${owner}.${labels.length > 1 ? `(${labels.join(' ')})` : labels[0]}`;
    if (line.length + group.length > WIDTH) {
      text += line;
      line = '\n ';
    }
    line += group;
  }
  return harmlessLines(text + line);
}

const harmlessLines = (text: string): string => text.split('\n').map(harmless).join('\n');
