// Drawings without a mouse: all that a hand can do there, by keys.
import { expect, it } from 'vitest';
import { drawingPage } from './support/drawing.ts';
import { editorSuite } from './support/suite.ts';

editorSuite(
  'a drawing by keys alone',
  (editor) => {
    const page = drawingPage(editor);

    /** Runs a command of the palette. */
    async function command(label: string): Promise<void> {
      const widget = editor().page.locator('.quick-input-widget:visible');
      const input = widget.locator('input:focus');
      await editor().until('the palette', async () => {
        await editor().press('F1');
        await input.waitFor({ timeout: 3000 });
        return true;
      });
      await input.pressSequentially(label);
      await widget.locator('.monaco-list-row.focused .label-name', { hasText: label }).waitFor();
      await input.press('Enter');
      await widget.waitFor({ state: 'hidden' });
    }

    /** Into the page, as one comes from the text. A text that is only just being opened takes the keyboard back once. */
    const enter = () =>
      editor().until('the page to have the keyboard', async () => {
        await editor().press('Control+2');
        return editor()
          .until('it', async () => (await page.focused()) !== '', 3000)
          .catch(() => false as const);
      });

    /** And back. */
    async function backToText(): Promise<void> {
      await editor().press('Control+1');
      await editor().page.locator('.editor-group-container.active .monaco-editor.focused').waitFor();
    }

    /** Tabs on until a control has the keyboard. */
    async function tabTo(id: string, key = 'Tab'): Promise<void> {
      for (let i = 0; i < 14 && (await page.focused()) !== id; i++) {
        // A text that is only just being opened may take the keyboard back.
        if ((await page.focused()) === '') await enter();
        const before = await page.focused();
        await editor().press(key);
        await expect.poll(page.focused).not.toBe(before);
      }
      expect(await page.focused()).toBe(id);
    }

    /** Chooses in a list that has the keyboard, and sees what each step shows. */
    async function chooseDown(label: string, says: string): Promise<void> {
      for (let i = 0; i < 60 && (await page.chosen(label)) !== says; i++) {
        const before = await page.chosen(label);
        await editor().press('ArrowDown');
        await expect.poll(() => page.chosen(label)).not.toBe(before);
        await expect.poll(page.isChosenShown).toBe(true);
      }
      expect(await page.chosen(label)).toBe(says);
    }

    it('opens a drawing, and leads through all that can be set', async () => {
      await editor().open('tide-gauge/as-found.pinout');
      await command('Cardcage: Open drawing beside');
      await page.frame();
      await enter();
      await expect.poll(page.focused).toBe('stage');
      const met: string[] = [];
      for (const key of [...Array<string>(9).fill('Shift+Tab'), ...Array<string>(10).fill('Tab')]) {
        const before = await page.focused();
        await editor().press(key);
        await expect.poll(page.focused).not.toBe(before);
        met.push(await page.focused());
      }
      const controls = ['view', 'of', 'marks', 'filter', 'group', 'evidence', 'finding', 'svg', 'png'];
      expect(met).toEqual([...[...controls].reverse(), ...controls.slice(1), 'stage', 'aside']);
    });

    it('walks over the drawing, and tells and lights what it stands on', async () => {
      await tabTo('stage', 'Shift+Tab');
      await editor().press('ArrowDown', 'ArrowDown');
      await expect.poll(() => page.marked('here')).toEqual(['+5V']);
      await editor().press('End');
      await expect.poll(() => page.marked('here')).toEqual(['+5V elsewhere']);
      await editor().press('ArrowLeft', 'ArrowLeft');
      await expect.poll(() => page.marked('here')).toEqual(['+5V 9']);
      expect(await page.tells('+5V in slot 9')).toContain('board TELE');
      expect(await page.lit()).toContain('+5V 1');
      await editor().press('ArrowUp');
      await expect.poll(() => page.marked('here')).toEqual(['GND 9']);
      await editor().press('ArrowUp');
      await expect.poll(() => page.marked('here')).toEqual(['slot 9']);
      await editor().press('Home', 'ArrowDown', 'ArrowDown', 'ArrowDown');
      await expect.poll(() => page.marked('here')).toEqual(['+12V 1']);
    });

    it('brings what it walks to into sight', async () => {
      const before = await page.scrolled();
      const row = async () => (await page.marked('here'))[0];
      for (let i = 0; i < 34; i++) await editor().press('ArrowDown');
      await expect.poll(row).toMatch(/^spare/);
      await expect.poll(async () => (await page.scrolled()).top).toBeGreaterThan(before.top + 100);
      for (let i = 0; i < 34; i++) await editor().press('ArrowUp');
      await expect.poll(row).toMatch(/^\+12V/);
      expect((await page.scrolled()).top).toBeLessThan(100);
      await editor().press('Home', 'ArrowRight');
      await expect.poll(row).toBe('+12V 1');
    });

    it('opens the statement and comes back to where it was', async () => {
      await editor().press('Enter');
      await page.leadsTo(/^as-found\.pinout: takes \+12V 150 mA/);
      await enter();
      await expect.poll(page.focused).toBe('stage');
      await editor().press('ArrowRight');
      await expect.poll(() => page.marked('here')).toEqual(['+12V 2']);
    });

    it('filters from anywhere, and lets go by Escape', async () => {
      await editor().press('/');
      await expect.poll(page.focused).toBe('filter');
      await editor().type('/r');
      await expect.poll(page.lines).toEqual(['/RD', '/RESET']);
      await editor().press('Escape');
      await expect.poll(page.focused).toBe('stage');
      expect(await page.lines()).toEqual(['/RD', '/RESET']);
      await editor().press('Escape');
      await expect.poll(page.lines).toHaveLength(37);
      expect(await page.marked('here')).toEqual([]);
      await page.tells('Point at a line');
    });

    it('chooses marks, group, evidence and findings', async () => {
      await tabTo('marks', 'Shift+Tab');
      await chooseDown('Marks', 'Current');
      await expect.poll(page.texts).toContain('2.6A');
      // Opened, walked and taken.
      await editor().press('Enter', 'ArrowUp', 'ArrowUp', 'Enter');
      await expect.poll(() => page.chosen('Marks')).toBe('What boards do');
      await tabTo('group');
      await chooseDown('Lines', 'Data');
      await expect.poll(page.lines).toEqual(['D0', 'D1', 'D2', 'D3', 'D4', 'D5', 'D6', 'D7']);
      await tabTo('finding');
      await chooseDown('Findings', 'Warnings');
      await expect.poll(page.lines).toEqual(['D5']);
      await tabTo('stage');
      await editor().press('Escape');
      await expect.poll(page.lines).toHaveLength(37);
      expect(await page.chosen('Findings')).toBe('With or without');
    });

    it('shows a connector and turns it round', async () => {
      await tabTo('view', 'Shift+Tab');
      await chooseDown('View', 'Connector');
      await tabTo('of');
      await chooseDown('Of', 'PSU.P2');
      const seen = (side: string) =>
        expect
          .poll(async () => (await page.texts()).find((text) => text.startsWith('Seen from')))
          .toContain(side);
      await seen('mating side');
      await tabTo('side');
      await editor().press('Enter');
      await seen('wiring side');
      await editor().press('Space');
      await seen('mating side');
      await tabTo('stage');
      await editor().press('s');
      await seen('wiring side');
      await editor().press('ArrowRight', 'ArrowRight');
      await page.tells('+24V');
      await editor().press('Enter');
      await page.leadsTo(/^as-found\.pinout: 1\.\.3 = \+24V/);
    });

    it('lands on what was walked to, however fast the keys', async () => {
      await enter();
      await tabTo('of', 'Shift+Tab');
      const offered = await page.offered('Of');
      const from = offered.indexOf(await page.chosen('Of'));
      await editor().press(...Array<string>(12).fill('ArrowDown'));
      await expect.poll(() => page.chosen('Of')).toBe(offered[from + 12]);
      await expect.poll(page.isChosenShown).toBe(true);
      expect(await page.chosen('Of')).toBe(offered[from + 12]);
    });

    it('shows a ribbon, and is asked for the bus from the text', async () => {
      await enter();
      await tabTo('view', 'Shift+Tab');
      await chooseDown('View', 'Ribbon');
      await expect.poll(page.texts).toContain('GAUGE.J1');
      await backToText();
      await editor().goTo('receives     CLK, SYNC, /RESET  with 74LS');
      await command('Cardcage: Reveal in bus view');
      await expect.poll(() => page.chosen('View')).toBe('Bus');
      await expect.poll(() => page.marked('here')).toEqual(['CLK 6']);
    });

    it('saves', async () => {
      await enter();
      await tabTo('svg');
      await editor().press('Enter');
      const input = editor().page.locator('.quick-input-widget input:focus');
      await input.waitFor();
      await expect.poll(() => input.inputValue()).toContain('CAGE.MAIN.svg');
      await input.press('Enter');
      const said = await editor().until('word of the file', async () =>
        (await editor().messages()).find((text) => text.startsWith('The drawing is in')),
      );
      expect(said).toContain('CAGE.MAIN.svg');
    });
  },
  { size: { width: 1600, height: 900 } },
);
