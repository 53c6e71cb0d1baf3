// What if it is plugged in wrong: a person steps through the cases, sees what meets what, and adds the key that prevents it.
import { expect, it } from 'vitest';
import { UNKEYED } from '../support/unkeyed.ts';
import { drawingPage } from './support/drawing.ts';
import { type Editor, personAt } from './support/editor.ts';
import { editorSuite } from './support/suite.ts';

editorSuite(
  'a what-if',
  (editor) => {
    /** The editor as it is since the last reload. */
    let now: Editor | undefined;
    const person = () => now ?? editor();
    const page = drawingPage(person);

    /** The case in words, at the head of the drawing. */
    const heading = async (): Promise<string> =>
      (await page.frame()).evaluate(() => {
        const all = [...document.querySelectorAll('.piece text.strong')];
        return all[0]?.firstChild?.textContent ?? '';
      });
    const isStruck = async (): Promise<boolean> =>
      (await page.frame()).evaluate(() => {
        const struck = document.querySelector('.piece text.struck');
        return struck !== null && getComputedStyle(struck).textDecorationLine === 'line-through';
      });
    const isOffered = async (button: string): Promise<boolean> =>
      (await page.frame()).locator('vscode-button', { hasText: button }).isVisible();
    const text = () => person().host((vscode) => vscode.workspace.textDocuments.find(({ fileName }) => fileName.endsWith('bare.pinout'))?.getText() ?? '');

    it('opens with the worst that nothing prevents', async () => {
      await person().create('bare.pinout', UNKEYED);
      await page.open();
      await page.choose('View', 'What if');
      await expect.poll(() => page.chosen('Of')).toBe('all plugs');
      await page.choose('Of', 'CPU');
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
      expect(await page.chosen('Cases')).toBe('Open harmful ones');
      expect(await page.chosen('Case')).toBe('1 of 5: CPU turned in CAGE.1 and 3 more slots: foreign rail');
      expect(await isStruck()).toBe(false);
      expect(await page.texts()).toContain('Nothing prevents it.');
    });
  },
  { size: { width: 1400, height: 900 } },
);
