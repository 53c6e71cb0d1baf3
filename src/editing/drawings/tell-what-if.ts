import type { View } from '../../checks/types.ts';
import { type Cell, HEAD } from '../../drawing/picture.ts';
import { unknownSaid } from '../../drawing/what-if-harms.ts';
import { CANNOT_BE_JUDGED } from '../../drawing/what-if-marks.ts';
import type { DrawnMate } from '../../drawing/what-if-mates.ts';
import type { DrawnCase, DrawnHarm, WhatIfPicture } from '../../drawing/what-if-picture.ts';
import { code, list, paragraphs, plain } from '../markdown.ts';
import { contactSaid } from './tell.ts';

/** What is told of a cell of a what-if, as Markdown: at a head the whole case, at a contact what it meets and what comes of it. */
export function tellWhatIf(view: View, { shown }: WhatIfPicture, { row, column }: Cell): string {
  const mate = shown?.mates[Math.floor(column / 2)];
  if (shown === undefined || mate === undefined) return '';
  if (row === HEAD) return caseSaid(shown);
  const contacts = [mate.plugContacts, mate.socketContacts];
  const contact = contacts[column % 2]![row];
  if (contact === undefined) return '';
  return paragraphs([
    meetingSaid(shown, mate, row, column % 2),
    'As it is described, where it belongs:',
    contactSaid(view, contact.origin.contact),
  ]);
}

const caseSaid = ({ says, also, verdict, harms, more, does, unknown, against }: DrawnCase): string =>
  paragraphs([
    `**${plain(says)}**: ${plain(verdict)}`,
    also.length === 0 ? undefined : `It comes to the same in ${also.map(code).join(', ')}`,
    unknown > 0 ? `**${unknownSaid(does, unknown)}**` : undefined,
    harms.length === 0 && unknown === 0
      ? 'Nothing is joined that does harm.'
      : list([...harms.map(harmSaid), more > 0 ? `and ${more} more` : undefined]),
    against === undefined ? undefined : plain(against),
  ]);

const harmSaid = ({ word, says, through }: DrawnHarm): string =>
  `**${word}** ${plain(says)}${through === '' ? '' : `, through ${plain(through)}`}`;

/** What a contact meets, and what that does; what does it elsewhere on the net is told by its own words. */
function meetingSaid({ harms, state }: DrawnCase, mate: DrawnMate, index: number, side: number): string {
  const [own, others] =
    side === 0 ? [mate.plugContacts, mate.socketContacts] : [mate.socketContacts, mate.plugContacts];
  const whose = [mate.plug, mate.socket];
  const place = (at: number, label: string): string => code(`${whose[at]} ${label}`);
  const here = mate.meets.filter((meet) => (side === 0 ? meet.plug : meet.socket) === index);
  const self = place(side, own[index]!.label);
  if (here.length === 0) return `**${self} meets nothing**`;
  const met = here.map((meet) => {
    const other = others[side === 0 ? meet.socket : meet.plug]!;
    const does =
      meet.state === 'blocked' ? 'stands in the way of' : state === 'prevented' ? 'would meet' : 'meets';
    return `**${self} ${does} ${place(1 - side, other.label)}** ${plain(other.name)}`;
  });
  const happens = here.flatMap(({ harm, tells }) => (harm === undefined ? [] : [harm, ...tells]));
  const doubt = here.some(({ unknown }) => unknown)
    ? `**${CANNOT_BE_JUDGED}**: what a contact carries, or whether a board has copper at it`
    : undefined;
  return paragraphs([met.join('; '), doubt, list([...new Set(happens)].map((i) => harmSaid(harms[i]!)))]);
}
