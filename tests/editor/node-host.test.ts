// The packaged extension in VS Code's server, where it runs on Node.js.
import { afterAll, beforeAll, beforeEach, describe, expect, inject, it } from 'vitest';
import { serverNode } from '../../.build/editor/server.mjs';
import { bundleHostTests, hostSuite } from './support/host-tests.ts';
import { type NodeEditor, startNodeEditor } from './support/node-editor.ts';

const chromium = inject('chromium');
const node = 'missing' in chromium ? chromium : await serverNode();
const missing = 'missing' in node ? node.missing : undefined;

describe('node host', () => {
  let editor: NodeEditor;
  beforeAll(async () => {
    if ('path' in chromium && 'path' in node) editor = await startNodeEditor(node.path, chromium.path);
    // Installing, the server's start and the editor's own have their patience one after the other.
  }, 300_000);
  beforeEach(({ onTestFailed, task }) => {
    onTestFailed(() => editor?.picture(`failed-node-host-${task.name.replace(/\W+/g, '-')}`));
  });
  afterAll(() => editor?.close());

  hostSuite('tests within', async () => editor.run(await bundleHostTests()), missing);

  describe.skipIf(missing)('a person', () => {
    it('has installed the package', () => {
      expect(editor.installed).toContain("Extension 'cardcage.vsix' was successfully installed");
    });

    it('opens a file and sees its language and its findings', async () => {
      await editor.open('tide-gauge/as-found.pinout');
      await expect.poll(editor.statusBar).toContain('Pinout');
      await editor.filterProblems('supply-overload');
      expect(await editor.problem('PSU.+5V is rated 8 A')).toContain('supply-overload');
      await editor.goTo('supply PSU');
      expect(await editor.squiggles('error')).toBeGreaterThan(0);
      await editor.picture('node-host');
    });

    it('hovers over a finding', async () => {
      await editor.goTo('+5V    5 V');
      await editor.hover('PSU.+5V is rated 8 A');
    });

    it('runs a command', async () => {
      await editor.command('Cardcage: Show the net at the cursor');
      await editor.page.locator('.tab[data-resource-name*="in as-found.pinout"]').waitFor();
      await editor.picture('node-host-net');
    });
  });
});
