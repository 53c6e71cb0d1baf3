import type * as vscode from 'vscode';
import { RACK } from './rack.ts';
import { at, type HostTest, holds, same, type Tools } from './tools.ts';

/** What is offered behind `before` in the rack with a new line for card CPU. */
async function offered(
  { vscode, create }: Tools,
  name: string,
  line: string,
  before: string,
): Promise<vscode.CompletionItem[]> {
  const document = await create(`${name}.pinout`, RACK.replace('card CLOCK {\n', `card CLOCK {\n${line}\n`));
  const place = at(document, before, before.length);
  const list = await vscode.commands.executeCommand<vscode.CompletionList>(
    'vscode.executeCompletionItemProvider',
    document.uri,
    place,
    undefined,
    50,
  );
  return list.items;
}

const labels = (items: readonly vscode.CompletionItem[]): string[] =>
  items.map(({ label }) => (typeof label === 'string' ? label : label.label));

export const completion: HostTest[] = [
  {
    name: 'completion offers lines, names, parts and evidence where they can stand',
    async run(tools) {
      holds(labels(await offered(tools, 'line', '  ', 'card CLOCK {\n  ')), 'takes', 'receives', 'port');
      holds(labels(await offered(tools, 'name', '  drives ', '  drives ')), '/IRQ', 'D0..D7');
      holds(labels(await offered(tools, 'part', '  drives /IRQ with 74', '/IRQ with 74')), '74LS', '7406');
      holds(labels(await offered(tools, 'by', '  drives /IRQ with 7406 by ', '7406 by ')), 'trace', 'meter');
    },
  },
  {
    name: 'completion of a block brings its tab stops and what it means',
    async run(tools) {
      const items = await offered(tools, 'block', '  po', 'card CLOCK {\n  po');
      const port = items.find((one) => labels([one])[0] === 'port');
      holds((port?.insertText as vscode.SnippetString | undefined)?.value ?? '', '${1', 'port', '}');
      same(typeof port?.documentation, 'object');
    },
  },
];
