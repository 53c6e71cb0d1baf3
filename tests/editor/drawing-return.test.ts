// A drawing is found as it was left: behind another tab, and over a reload of the window.
import { expect, it } from 'vitest';
import { drawingPage } from './support/drawing.ts';
import { type Editor, personAt } from './support/editor.ts';
import { editorSuite } from './support/suite.ts';

editorSuite(
  'a drawing that was left',
  (editor) => {
    /** The editor as it is since the last reload. */
    let now: Editor | undefined;
    const person = () => now ?? editor();
    const page = drawingPage(person);

    /** All that somebody has arranged. */
    const left = async () => ({
      drawing: [await page.chosen('View'), await page.chosen('Of')],
      marks: await page.chosen('Marks'),
      lines: await page.lines(),
      group: await page.chosen('Lines'),
      here: await page.marked('here'),
      scrolled: await page.scrolled(),
    });

    it('is as it was, back from behind another tab', async () => {
      await person().open('tide-gauge/as-found.pinout');
      await page.open();
      await page.choose('Marks', 'Current');
      await page.choose('Findings', 'Any finding');
      await page.filter('ram');
      await page.clickAt('/WAIT', '5');
      await page.clickAt('GRANT', '2');
      await page.tells('GRANT in slot 2');
      await page.pointAway();
      const before = await left();
      expect(before).toMatchObject({ marks: 'Current', here: ['GRANT 2'] });
      expect(before.scrolled.top).toBeGreaterThan(0);

      const drawing = person().page.locator('.tab[aria-label^="CAGE.MAIN"]');
      await person().press('Control+2');
      await person().host((vscode) =>
        vscode.workspace
          .openTextDocument({ content: 'in front of it' })
          .then((document) => vscode.window.showTextDocument(document, vscode.ViewColumn.Two)),
      );
      await expect.poll(() => drawing.getAttribute('aria-selected')).toBe('false');
      await expect.poll(() => person().page.locator('iframe.webview:visible').count()).toBe(0);
      await drawing.click();
      await expect.poll(left).toEqual(before);
      await page.tells('GRANT in slot 2');
    });

    it('is as it was when the window is loaded anew', async () => {
      const before = await left();
      const { page: window, outside, close } = person();
      const started = window.waitForEvent('framenavigated', (frame) => frame === window.mainFrame());
      await person().command('Developer: Reload Window');
      await started;
      now = await personAt({ page: window, outside, close });
      await expect.poll(left).toEqual(before);
      await page.tells('GRANT in slot 2');
    });

    it('still follows the text, and leads to it', async () => {
      await page.clickAt('GRANT', '3');
      await page.leadsTo(/^as-found\.pinout: passes GRANT/);
      await person().goTo('title "Tide-gauge', 'after');
      await person().type(' and sluice');
      await expect.poll(async () => (await page.texts())[0]).toContain('Tide-gauge and sluice');
      await person().press('Control+Z');
    });

    it('keeps the side of a connector too, and forgets of one drawing what means nothing in the next', async () => {
      await page.choose('View', 'Connector');
      await page.choose('Of', 'GAUGE.J2');
      await page.press('Turn to wiring side');
      await expect.poll(async () => (await page.texts()).join('\n')).toContain('Seen from the wiring side');
      expect(await page.boxes('here')).toEqual([]);
      const before = await page.texts();
      await page.choose('View', 'Bus');
      await expect.poll(page.lines).toHaveLength(37);
      await page.choose('View', 'Connector');
      await page.choose('Of', 'GAUGE.J2');
      await expect.poll(page.texts).toEqual(before);
    });
  },
  { size: { width: 1400, height: 640 } },
);
