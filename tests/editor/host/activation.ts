import { type HostTest, same, type Tools, until } from './tools.ts';

function extension({ vscode }: Tools) {
  const found = vscode.extensions.getExtension('cardcage.cardcage');
  if (!found) throw new Error('the extension is not there');
  return found;
}

/** They come first: nothing before them may have woken the extension. */
export const activation: HostTest[] = [
  {
    name: 'a text file does not wake the extension',
    async run(tools) {
      const document = await tools.create('notes.txt', 'supply PSU {\n}\n');
      same(document.languageId, 'plaintext');
      same(extension(tools).isActive, false);
    },
  },
  {
    name: 'a pinout file has its language and wakes the extension',
    async run(tools) {
      const document = await tools.open('tide-gauge/bus.pinout');
      same(document.languageId, 'pinout');
      await until('the extension to wake', () => extension(tools).isActive);
    },
  },
];
