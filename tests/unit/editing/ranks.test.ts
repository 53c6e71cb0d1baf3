import { expect, test } from 'vitest';
import { ranked } from '../../../src/editing/ranks.ts';
import { statusOf } from '../../../src/editing/status.ts';
import { opened } from '../../support/project.ts';

const { project, file } = opened({
  'rack.pinout': 'use "cards.pinout"\nsuply PSU {\n}\nallow date-odd at RAM "looked at"\n',
  'cards.pinout': 'suply AUX {\n}\n',
});
const { machine, root, findings } = project.of(file)!;
const status = (ranks: Record<string, Record<string, string>>): string =>
  statusOf({
    machine,
    root,
    findings: ranked(findings, (one) => ranks[one.slice(root.lastIndexOf('/') + 1)]!),
  }).text;

test.each([
  ['as the rules say', {}, {}, '2 errors, 1 warning'],
  ['another grade', { 'word-unknown': 'note', 'allow-unused': 'error' }, {}, '2 errors'],
  ['rules that are off', { 'word-unknown': 'off', 'allow-unused': 'off' }, {}, '1 error'],
  ['set for the folder of one file', {}, { 'word-unknown': 'warning' }, '1 error, 2 warnings'],
  [
    'nothing left',
    { 'word-unknown': 'off', 'allow-unused': 'off' },
    { 'word-unknown': 'off' },
    'no findings',
  ],
  ['a grade that there is not', { 'word-unknown': 'grave' }, {}, '2 errors, 1 warning'],
])('the status counts findings as they are shown: %s', (_, rack, cards, expected) => {
  expect(status({ 'rack.pinout': rack, 'cards.pinout': cards })).toBe(expected);
});
