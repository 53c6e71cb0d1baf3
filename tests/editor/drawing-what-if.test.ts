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
    const text = () =>
      person().host(
        (vscode) =>
          vscode.workspace.textDocuments
            .find(({ fileName }) => fileName.endsWith('bare.pinout'))
            ?.getText() ?? '',
      );

    /** Steps until the case is the one so numbered. */
    const isAt = (number: number) =>
      expect.poll(() => page.chosen('Case')).toMatch(new RegExp(`^${number} of `));

    it('opens with the worst that nothing prevents', async () => {
      await person().create('bare.pinout', UNKEYED);
      await page.open();
      await page.choose('View', 'What if');
      expect(await page.chosen('Of')).toBe('all plugs');
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
      expect(await page.chosen('Cases')).toBe('Open: harmful or unknown');
      expect(await page.chosen('Case')).toBe('1 of 13: CPU turned in CAGE.1 and 3 more slots: foreign rail');
      expect(await isStruck()).toBe(false);
      expect(await page.texts()).toEqual(
        expect.arrayContaining([
          'Nothing that the file says prevents it.',
          'It comes to the same in CAGE.2..CAGE.4.',
        ]),
      );
    });

    it('shows the contacts that meet, tells what that does, and leads to their statements', async () => {
      await page.pointAtText('D3');
      const told = await page.tells('meets CAGE.1 3');
      expect(told).toContain('CPU.edge F meets CAGE.1 3 +12V');
      expect(told).toContain('foreign rail');
      // Both of them light.
      expect(await page.boxes('lit')).toHaveLength(2);
      await page.clickHere();
      await page.leadsTo(/^bare\.pinout: F = D3 by trace/);
      await page.pointAtText('+12V', 0);
      await page.clickHere();
      await page.leadsTo(/^bare\.pinout: 3 = \+12V by meter/);
    });

    it('steps through the cases by its buttons, worst first', async () => {
      await page.press('Next');
      await isAt(2);
      await expect.poll(heading).toBe('W1 turned at CPU.J1.');
      await page.press('Next');
      await isAt(3);
      await page.press('Previous');
      await isAt(2);
      await page.press('Previous');
      await page.press('Previous');
      await isAt(1);
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
    });

    it('steps by keys, also fast, and says aloud where it is', async () => {
      const stage = (await page.frame()).locator('.stage');
      // Each key where it is looked for: the editor may still be handing the keyboard over.
      const press = async (...keys: string[]) => {
        for (const key of keys) await stage.press(key);
      };
      await press('n', 'n', 'n');
      await isAt(4);
      const aloud = (await page.frame()).locator('[role=status]');
      await expect
        .poll(() => aloud.textContent())
        .toMatch(
          /^W1 turned and shifted by one pair of pins at CPU\.J1; nothing that the file says prevents it/,
        );
      await press('p', 'p');
      await isAt(2);
      // Down the contacts of the plug, as over any drawing.
      await press('ArrowDown', 'ArrowDown');
      await page.tells('meets CPU.J1');
      await press('p');
      await isAt(1);
      for (let i = 0; i < 14; i++) await press('n');
      await isAt(13);
    });

    it('goes through all cases where somebody asks for them', async () => {
      await page.choose('Cases', 'All cases');
      await expect.poll(() => page.chosen('Case')).toMatch(/ of [1-9]\d\d: LAMPS /);
      await page.choose('Of', 'CPU');
      await expect.poll(() => page.chosen('Cases')).toBe('All cases');
      await page.choose('Cases', 'Open: harmful or unknown');
      await isAt(1);
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
    });

    it('marks what cannot be judged, behind what does harm', async () => {
      await page.choose('Of', 'LAMPS');
      await expect.poll(heading).toMatch(/^LAMPS turned in CAGE\./);
      await expect.poll(() => page.chosen('Case')).toMatch(/: cannot be judged$/);
      expect(await page.texts()).toEqual(
        expect.arrayContaining([
          expect.stringMatching(/^Cannot be judged: meets \d+ contacts that nobody knows\.$/),
          'cannot be judged: not all there is known',
        ]),
      );
      await page.choose('Of', 'CPU');
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
    });

    it('is shown from the finding that tells of it', async () => {
      await person().toText();
      await person().goTo('end          CPU.J1');
      await person().fix('Show ribbon-turned in the what-if view');
      await expect.poll(heading).toBe('W1 turned at CPU.J1.');
      await page.choose('Of', 'CPU');
      await expect.poll(heading).toBe('CPU turned in CAGE.1.');
    });

    it('adds the key that prevents the case, which is struck out then', async () => {
      const before = await text();
      expect(await isOffered('Add this key')).toBe(true);
      await page.press('Add this key');
      await expect.poll(isStruck).toBe(true);
      expect(await heading()).toBe('CPU turned in CAGE.1.');
      expect(await page.texts()).toEqual(
        expect.arrayContaining(['Prevented by the key.', 'What it would do:', 'stands in the way']),
      );
      expect(await isOffered('Add this key')).toBe(false);
      expect(await page.chosen('Case')).toMatch(/, prevented$/);
      const after = (await text()).split('\n');
      expect(after.filter((line) => !before.split('\n').includes(line))).toEqual([
        expect.stringMatching(/^ {2}key +between 2, 3$/),
      ]);
      // The changed text is in sight; the keyboard stays in the page, also where its button has gone.
      const seen = () =>
        person().host((vscode) => vscode.window.visibleTextEditors.map(({ document }) => document.isDirty));
      expect(await seen()).toEqual([true]);
      await expect.poll(page.focused).toBe('stage');
      await expect
        .poll(async () => (await page.frame()).locator('[role=status]').textContent())
        .toMatch(/^CPU turned in CAGE\.1; prevented by the key/);
    });

    it('is open again when that is undone', async () => {
      await person().toText();
      await person().intoText();
      await person().press('Control+Z');
      await expect.poll(isStruck).toBe(false);
      await expect.poll(text).toBe(UNKEYED);
      expect(await page.texts()).toContain('Nothing that the file says prevents it.');
      expect(await isOffered('Add this key')).toBe(true);
    });

    it('pulls a pin and plugs its hole where a ribbon is concerned', async () => {
      await page.choose('Of', 'W1 at LAMPS.J1');
      await expect.poll(heading).toBe('W1 turned at LAMPS.J1.');
      await page.press('Add this key');
      await expect.poll(isStruck).toBe(true);
      expect(await text()).toMatch(/ {2}pulled +(\d.*)\n {2}plugged +\1\n/);
      expect(await page.texts()).toContain('Prevented by the plugged hole.');
    });

    it('is as it was when the window is loaded anew', async () => {
      await person().toText();
      await person().open('tide-gauge/as-found.pinout');
      await page.open();
      await page.choose('View', 'What if');
      await page.choose('Of', 'CPU');
      await page.choose('Cases', 'All cases');
      await expect.poll(async () => (await page.offered('Case')).length).toBeGreaterThan(1);
      const first = await heading();
      await page.press('Next');
      await isAt(2);
      // The list says at once what is wanted; the drawing follows.
      await expect.poll(heading).not.toBe(first);
      const left = async () => [
        await heading(),
        await page.chosen('Of'),
        await page.chosen('Cases'),
        await page.chosen('Case'),
      ];
      const before = await left();
      const { page: window, outside, close } = person();
      const started = window.waitForEvent('framenavigated', (frame) => frame === window.mainFrame());
      await person().command('Developer: Reload Window');
      await started;
      now = await personAt({ page: window, outside, close });
      await expect.poll(left).toEqual(before);
    });
  },
  { size: { width: 1400, height: 900 } },
);
