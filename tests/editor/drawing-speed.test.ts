// How fast a drawing is in a real browser: from sending a picture to the frame that shows it, and from pointing to light.
import { expect, it } from 'vitest';
import { generatedText } from '../support/generate.ts';
import { busyness } from './support/busy.ts';
import { editorSuite } from './support/suite.ts';

/** ms, medians; twice what is meant, and as many times as much as the computer is busy. `npm run bench` holds them to the half. */
const MOST = { picture: 200, edit: 50, light: 32 };
/** A bus of four times the contacts may take this many times as long; doubled here too. */
const GROWTH = 5;

interface Times {
  /** How many times as long as alone all of it takes. */
  readonly busy: number;
  readonly picture: number;
  readonly edit: number;
  readonly light: number;
}

editorSuite(
  'the speed of drawings',
  (editor) => {
    const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1]!;

    const frame = () =>
      editor().until('the page of the drawing', async () => {
        for (const one of editor().page.frames()) {
          if (!one.url().includes('/pre/fake.html')) continue;
          if (await one.locator('.stage .piece svg').count()) return one;
        }
        return undefined;
      });

    /** What the page has measured of this name since it was last asked, once there are so many. */
    const measured = async (name: string, count: number): Promise<number[]> => {
      const page = await frame();
      const all = await editor().until(`${count} measures of ${name}`, async () => {
        const times = await page.evaluate(
          (one) => performance.getEntriesByName(one).map(({ duration }) => duration),
          name,
        );
        return times.length >= count && times;
      });
      await page.evaluate((one) => performance.clearMeasures(one), name);
      return all;
    };

    async function timesOf(contacts: number): Promise<Times> {
      const file = `speed-${contacts}.pinout`;
      await editor().create(file, generatedText({ slots: 20, contacts }));
      await editor().host((vscode) => vscode.commands.executeCommand('cardcage.openDrawing'));
      await measured('cardcage:picture', 1);
      const page = await frame();
      const before = await page.evaluate(busyness);

      // Another drawing and back: the whole picture is sent anew into the open view.
      const pictures: number[] = [];
      for (let i = 0; i < 9; i++) {
        for (const view of ['connector', 'bus'] as const) {
          await page.evaluate((value) => {
            const select = document.querySelector('#view') as HTMLInputElement;
            select.value = value;
            select.dispatchEvent(new Event('change'));
          }, view);
          const times = await measured('cardcage:picture', 1);
          if (view === 'bus') pictures.push(...times);
        }
      }

      // One contact of one line is known in another way.
      const edits: number[] = [];
      for (let i = 0; i < 15; i++) {
        await editor().host(
          async (vscode, { file, word }) => {
            const shown = vscode.window.visibleTextEditors.find(({ document }) =>
              document.uri.path.endsWith(file),
            )!;
            const { document } = shown;
            const at = document.getText().lastIndexOf(' by ', document.getText().indexOf('= A_7 by') + 9) + 4;
            const range = document.getWordRangeAtPosition(document.positionAt(at))!;
            await shown.edit((edit) => edit.replace(range, word));
          },
          { file, word: i % 2 === 0 ? 'guess' : 'trace' },
        );
        edits.push(...(await measured('cardcage:picture', 1)));
      }

      // The first lines that stand together: each move leads to another crossing.
      const lines = (await page.locator('.body .piece:has(.line)').first().boundingBox())!;
      const lights: number[] = [];
      for (let i = 0; i < 25; i++) {
        await editor().page.mouse.move(lines.x + 240 + (i % 5) * 40, lines.y + 9 + (i % 2) * 18);
        lights.push(...(await measured('cardcage:light', 1)));
      }
      const busy = Math.max(before, await page.evaluate(busyness));
      await editor().host((vscode) =>
        vscode.window.tabGroups.close(vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs)),
      );
      return { busy, picture: median(pictures), edit: median(edits), light: median(lights) };
    }

    it.each([100, 400])('a bus of 20 slots and %i lines', async (contacts) => {
      const { busy, ...times } = await timesOf(contacts);
      const said = Object.entries(times).map(([what, ms]) => `${what} ${ms.toFixed(1)} ms`);
      console.log(`drawing 20 x ${contacts}: ${said.join(', ')}; busy ${busy.toFixed(1)}`);
      const most = contacts === 100 ? 1 : GROWTH;
      for (const what of ['picture', 'edit', 'light'] as const)
        expect(times[what], what).toBeLessThan(MOST[what] * most * busy);
    });

    it('asks no other machine for anything', () => {
      expect([...editor().outside]).toEqual([]);
    });
  },
  { size: { width: 1600, height: 900 } },
);
