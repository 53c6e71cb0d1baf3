// npm run pictures: takes README's pictures from the real editor. A picture is a function that brings the editor there.
import { expect, it } from 'vitest';
import type { Editor } from './support/editor.ts';
import { editorSuite } from './support/suite.ts';

const FOLDER = 'media/pictures';

/** By the file's name. Each starts where the one before it left the editor. */
const pictures: Record<string, (editor: Editor) => Promise<void>> = {
  'as-found': async (editor) => {
    await editor.open('tide-gauge/as-found.pinout');
    await editor.problems();
    await editor.goTo('supply PSU');
  },
};

editorSuite(
  'pictures',
  (editor) => {
    it.each(Object.entries(pictures))('%s', async (name, arrange) => {
      await arrange(editor());
      await editor().picture(name, FOLDER);
      expect([...editor().outside]).toEqual([]);
    });
  },
  {
    size: { width: 1200, height: 750 },
    scale: 1.5,
    settings: {
      'workbench.colorTheme': 'Default Dark Modern',
      'window.commandCenter': false,
      'editor.minimap.enabled': false,
    },
  },
);
