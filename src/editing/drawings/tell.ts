import { spokenAmount } from '../../checks/explain.ts';
import { spokenList } from '../../checks/lists.ts';
import type { Finding, View } from '../../checks/types.ts';
import { type ConnectorPicture, mapOf } from '../../drawing/connector-picture.ts';
import { MARKS } from '../../drawing/marks.ts';
import {
  type BusPicture,
  type Cell,
  type Crossing,
  columnOf,
  columnOfGap,
  HEAD,
  type Role,
} from '../../drawing/picture.ts';
import type { Met, RibbonPicture } from '../../drawing/ribbon-picture.ts';
import { VERDICTS_SAY } from '../../drawing/verdicts.ts';
import { contactHover } from '../hover-contact.ts';
import { netHover } from '../hover-net.ts';
import { boardHover, ribbonHover, slotHover } from '../hover-thing.ts';
import { code, list, paragraphs, plain } from '../markdown.ts';

/**
 * What is told of a cell of a drawing, as Markdown: what happens there, what is found there, and of its net all that is
 * told where somebody points at its name in the text. Empty where there is no such cell.
 */
export function tellBus(view: View, picture: BusPicture, { row, column }: Cell): string {
  if (row === HEAD) return tellSlot(view, picture, (column - 1) / 2);
  const line = picture.lines[row];
  if (line === undefined) return '';
  const { name, crossings, ends } = line;
  const nets = [...new Set(crossings.flatMap((one) => (one ? netsOf(one) : [])))];
  const slot = crossings.findIndex((_, i) => columnOf(i) === column);
  const crossing = crossings[slot];
  if (crossing)
    return paragraphs([
      crossingSaid(picture, name, crossing, slot),
      findingsSaid(crossing.origin.findings),
      netSaid(view, name, netsOf(crossing)),
    ]);
  const here = ends.filter(({ gap }) => columnOfGap(gap) === column);
  const found = column === HEAD ? line.origin.findings : here.flatMap(({ origin }) => origin.findings);
  return paragraphs([
    list(here.map(({ kind, text, guess }) => `**${kind}** ${plain(text)}${guess ? ', a guess' : ''}`)),
    findingsSaid([...new Set(found)]),
    netSaid(view, name, nets),
  ]);
}

const netsOf = ({ origin: { net, out } }: Crossing): number[] => (out === undefined ? [net] : [net, out]);

function crossingSaid(
  { slots }: BusPicture,
  name: string,
  { role, evidence, amps, reading, biases, origin }: Crossing,
  slot: number,
): string {
  const { label, board } = slots[slot]!;
  const does = role === 'open' ? 'nothing sits in this slot' : MARKS[role].says;
  const facts = [
    evidence === undefined ? 'nobody says how it is known' : `known by ${evidence}`,
    amps === undefined ? undefined : currentSaid(role, amps),
    biases &&
      `the board has ${spokenList(biases.map((one) => `a ${one === 'terminate' ? 'terminator' : one}`))} on it`,
    reading === undefined ? undefined : `last reading ${plain(reading)}`,
  ].filter((fact) => fact !== undefined);
  const who = board === '' ? '' : `, board ${code(board)}`;
  return `**${code(name)} in slot ${plain(label)}**${who}, contact ${code(origin.contacts)}: ${does}; ${facts.join('; ')}`;
}

function currentSaid(role: Role, amps: number): string {
  const amount = spokenAmount(Math.abs(amps), 'A');
  if (role === 'takes' || role === 'makes' || role === 'ground')
    return `${amps < 0 ? 'gives' : 'takes'} ${amount}`;
  return `${amps < 0 ? 'gives' : 'must sink'} ${amount} while the line is low`;
}

const findingsSaid = (findings: readonly Finding[]): string =>
  list(findings.map(({ severity, rule, message }) => `**${severity}** ${code(rule)}: ${plain(message)}`));

/** All that is joined with it; the largest net first. */
function netSaid(view: View, name: string, nets: readonly number[]): string {
  const { start } = view.machine.nets;
  const size = (net: number): number => start[net + 1]! - start[net]!;
  return netHover(
    view,
    name,
    [...nets].sort((a, b) => size(b) - size(a)),
    [],
  );
}

function tellSlot({ machine }: View, picture: BusPicture, index: number): string {
  const backplane = machine.backplanes.find(({ name }) => name === picture.backplane);
  const slot = backplane?.slots[index];
  return slot === undefined ? '' : paragraphs([slotHover(slot), slot.board && boardHover(slot.board)]);
}

/** Contact `index` of a face. */
export function tellContact(view: View, picture: ConnectorPicture, index: number): string {
  const contact = picture.contacts[index];
  if (contact === undefined) return '';
  const hazards = picture.hazards.filter(({ a, b }) => a === index || b === index);
  const connector = view.machine.connectors.find(({ name }) => name === picture.connector);
  return paragraphs([
    list(hazards.map(({ says }) => `**do not slip here** ${plain(says)}`)),
    contact.origin
      ? contactSaid(view, contact.origin.contact)
      : connector && contactHover(view, { label: contact.label, pins: mapOf(connector), index }, undefined),
  ]);
}

/** What a contact is said to be and meets, and of its net the rest. */
export function contactSaid(view: View, contact: number): string {
  const instance = view.nets.instanceOf(contact);
  const { pins, path, base } = instance;
  const index = contact - base;
  const claim = pins.claims[index];
  const label = pins.connector.labels[index]!;
  const at = { label, pins, index, instance, ...(claim ? { claim } : {}) };
  return paragraphs([
    contactHover(view, at, `${path}.${label}`),
    claim?.name ? netSaid(view, claim.name, [view.machine.nets.of[contact]!]) : undefined,
  ]);
}

export function tellRibbon(view: View, picture: RibbonPicture, { row, column }: Cell): string {
  const ribbon = view.machine.ribbons.find(({ name }) => name === picture.name);
  if (row === HEAD) return ribbon && picture.ends[column] ? ribbonHover(ribbon) : '';
  const conductor = picture.conductors[row];
  if (conductor === undefined) return '';
  const { number, meets } = conductor;
  const met = meets[column];
  if (met) return paragraphs([verdictSaid(met), contactSaid(view, met.origin.contact)]);
  const what = picture.kind === 'ribbon' ? 'conductor' : 'wire';
  return paragraphs([
    `**${what} ${number}** of ${code(picture.name)}`,
    list(
      meets.map((one, e) => {
        const place = code(one?.place ?? picture.ends[e]?.place ?? '');
        return one ? `${place} ${plain(one.name)}, ${plain(one.known)}` : `${place} meets nothing`;
      }),
    ),
    ...meets.map((one) => one && verdictSaid(one)),
  ]);
}

const verdictSaid = ({ verdict, place }: Met): string | undefined =>
  verdict && `**${VERDICTS_SAY[verdict]}** at ${code(place)}`;
