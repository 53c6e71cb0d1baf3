// A describe block with an editor: `editorSuite('writing', (editor) => { it('…', async () => { await editor().open(…) }) })`.
import { afterAll, beforeAll, beforeEach, describe, inject } from 'vitest';
import { type Editor, type Start, startEditor } from './editor.ts';

/**
 * Starts one editor for the tests within, which run in order and build on each other, and ends it after them.
 * A test that fails leaves a picture in tests/output/editor. Skipped where there is no browser.
 */
export function editorSuite(name: string, tests: (editor: () => Editor) => void, start?: Start): void {
  const chromium = inject('chromium');
  describe.skipIf('missing' in chromium)(name, () => {
    let editor: Editor;
    beforeAll(async () => {
      if ('path' in chromium) editor = await startEditor(chromium.path, start);
    });
    beforeEach(({ onTestFailed, task }) => {
      onTestFailed(() => editor.picture(`failed-${task.name.replace(/\W+/g, '-')}`));
    });
    afterAll(() => editor?.close());
    tests(() => editor);
  });
}
