// Drawings for everybody: axe-core finds nothing to mend in any view and theme, and what it cannot measure is measured.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { drawingPage } from './support/drawing.ts';
import type { Editor } from './support/editor.ts';
import { editorSuite } from './support/suite.ts';

/** As far as it is used here. */
interface Axe {
  run(): Promise<{ violations: { id: string; nodes: { html: string; failureSummary?: string }[] }[] }>;
}

editorSuite(
  'a drawing for everybody',
  (editor) => {
    const page = drawingPage(editor);
    const AXE = readFileSync('node_modules/axe-core/axe.min.js', 'utf8');

    const violations = async (): Promise<string[]> => {
      const frame = await page.frame();
      await frame.evaluate(AXE);
      return frame.evaluate(async () => {
        const { violations } = await (globalThis as unknown as { axe: Axe }).axe.run();
        return violations.flatMap(({ id, nodes }) =>
          nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
        );
      });
    };

    /** Texts of the drawing by how little they stand out from the page, below 4.5 : 1 (WCAG 2.2, 1.4.3). */
    const faint = async (): Promise<string[]> =>
      (await page.frame()).evaluate(() => {
        const paint = document.createElement('canvas').getContext('2d', { willReadFrequently: true })!;
        // Luminance as WCAG 2.2 defines it. The canvas knows every way to write a colour.
        const luminance = (colour: string): number => {
          paint.fillStyle = colour;
          paint.fillRect(0, 0, 1, 1);
          const [r, g, b] = [...paint.getImageData(0, 0, 1, 1).data].map((one) => {
            const share = one / 255;
            return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
          }) as [number, number, number];
          return 0.2126 * r + 0.7152 * g + 0.0722 * b;
        };
        const ground = luminance(getComputedStyle(document.body).backgroundColor);
        return [...document.querySelectorAll('.piece text')].flatMap((one) => {
          const { fill } = getComputedStyle(one);
          // A letter in a full mark stands on that.
          const mark = one.closest('.harm')?.querySelector('.full');
          const [ink, under] = [luminance(fill), mark ? luminance(getComputedStyle(mark).fill) : ground];
          const contrast = (Math.max(ink, under) + 0.05) / (Math.min(ink, under) + 0.05);
          const words = `${one.getAttribute('class') ?? ''} "${one.textContent}"`;
          return contrast < 4.5 ? [`${words}: ${fill}, ${contrast.toFixed(2)} : 1`] : [];
        });
      });

    /** Changes the theme, and waits until its colours have come to the page too. */
    const wear = async (theme: Parameters<Editor['theme']>[0]) => {
      await editor().theme(theme);
      const worn = async () => (await page.frame()).evaluate(() => document.body.dataset.vscodeThemeKind);
      await expect.poll(worn).toBe(`vscode-${theme}`);
    };

    it('opens', async () => {
      await editor().open('tide-gauge/as-found.pinout');
      await page.open();
    });

    describe.each(['light', 'dark', 'high-contrast', 'high-contrast-light'] as const)('%s', (theme) => {
      it.each(['Bus', 'Connector', 'Ribbon', 'What if'])('%s', async (view) => {
        await wear(theme);
        await page.choose('View', view);
        if (view === 'Bus') {
          // Something chosen, told and lit.
          await page.clickAt('A2', '4');
          await page.tells('A2 in slot 4');
        }
        if (view === 'What if') {
          await page.pointAtText('D0');
          await page.tells('meets');
        }
        expect(await violations()).toEqual([]);
        expect(await faint()).toEqual([]);
      });

      it('an open list', async () => {
        await page.choose('View', 'Bus');
        await (await page.frame()).locator('#marks').click();
        await (await page.frame()).locator('#marks vscode-option').first().waitFor();
        expect(await violations()).toEqual([]);
        await (await page.frame()).locator('#marks').press('Escape');
      });
    });

    it('nothing to draw any more', async () => {
      await editor().toText();
      await editor().create('soon.pinout', 'pinout 1\nconnector E {\n  shape edge 1 x 4\n}\n');
      await editor().command('Cardcage: Open drawing beside');
      await expect.poll(async () => (await page.texts())[0]).toContain('E: edge 1 x 4');
      await editor().toText();
      await editor().intoText();
      await editor().press('Control+A', 'Delete');
      await page.tells('describes no backplane with a bus, no connector and no ribbon yet');
      expect(await violations()).toEqual([]);
    });
  },
  { size: { width: 1600, height: 900 } },
);
