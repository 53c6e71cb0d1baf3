// How long the extension takes to wake in the real host: its code run, its tables read, everything registered. How long
// the host takes to fetch the code is not its own.
import { expect, it } from 'vitest';
import { busyness } from './support/busy.ts';
import { editorSuite } from './support/suite.ts';

/** ms; twice what is meant, and as many times as much as the computer is busy. `npm run bench` holds it to the half. */
const MOST = 100;

editorSuite('activation', (editor) => {
  it(`takes less than ${MOST} ms`, async () => {
    const times = await editor().host(async (vscode) => {
      const extension = vscode.extensions.getExtension('cardcage.cardcage')!;
      if (extension.isActive) throw new Error('it is awake already');
      const { extensionUri } = extension;
      const bytes = await vscode.workspace.fs.readFile(
        vscode.Uri.joinPath(extensionUri, 'dist/extension.js'),
      );
      const code = new TextDecoder().decode(bytes);
      const taken: number[] = [];
      for (let i = 0; i < 7; i++) {
        const subscriptions: { dispose(): void }[] = [];
        const module: { exports: { activate?: (context: object) => Promise<void> } } = { exports: {} };
        const start = performance.now();
        new Function('module', 'exports', 'require', code)(module, module.exports, () => vscode);
        await module.exports.activate!({ subscriptions, extension, extensionUri });
        taken.push(performance.now() - start);
        for (const one of subscriptions) one.dispose();
      }
      return taken.sort((a, b) => a - b);
    });
    const busy = await editor().host(busyness);
    const median = times[times.length >> 1]!;
    console.log(`activation: ${median.toFixed(1)} ms; busy ${busy.toFixed(1)}`);
    expect(median).toBeLessThan(MOST * busy);
  });
});
