// What a person sees on the page, as text.
import type { Locator, Page } from 'playwright-core';
import { FIXES, type Hands, spaced } from './hands.ts';
import type { Host } from './host.ts';
import { until } from './waiting.ts';

export type Eyes = ReturnType<typeof eyes>;

export function eyes(page: Page, host: Host, { openFixes }: Pick<Hands, 'openFixes'>) {
  /** Texts of all elements, in the order of the screen. */
  async function texts(elements: Locator): Promise<string[]> {
    return (await elements.allInnerTexts()).map(spaced).filter((text) => text !== '');
  }

  /** The text of the active file. */
  function text(): Promise<string> {
    return host((vscode) => vscode.window.activeTextEditor?.document.getText() ?? '');
  }

  /** What was last typed into the filter of the problems panel. */
  let filter = '';

  /** The findings in the problems panel, which is opened for it, as far as they fit: message, rule and `[Ln 3, Col 1]`. */
  async function problems(): Promise<string[]> {
    const panel = page.locator('.markers-panel');
    await until('the problems panel', async () => {
      if (await panel.isVisible()) return true;
      await page.keyboard.press('Control+Shift+M');
      await panel.waitFor({ timeout: 5000 });
      return true;
    });
    // A panel that is just being built forgets what was typed into it.
    const input = page.locator('.panel .viewpane-filter input').first();
    if ((await input.inputValue()) !== filter) await input.fill(filter);
    return texts(panel.locator('.monaco-list-row').filter({ has: page.locator('.marker-icon') }));
  }

  /** Waits until the problems panel has a row with this text, and returns it. */
  function problem(part: string): Promise<string> {
    return until(`a problem with "${part}"`, async () =>
      (await problems()).find((row) => row.includes(part)),
    );
  }

  /** Types into the filter of the problems panel; nothing shows all again. */
  async function filterProblems(words: string): Promise<void> {
    filter = words;
    await problems();
  }

  /** Waits for wavy lines of a kind on the visible part of the file; how many there are. */
  async function squiggles(kind: 'error' | 'warning' | 'info' | 'hint'): Promise<number> {
    const lines = page.locator(`.squiggly-${kind}`);
    await lines.first().waitFor({ state: 'attached' });
    return lines.count();
  }

  /** The labels of the completion list at the cursor, as far as they fit on the screen. */
  async function completions(): Promise<string[]> {
    const rows = page.locator('.suggest-widget.visible .monaco-list-row');
    await page.keyboard.press('Control+Space');
    await rows.first().waitFor();
    return texts(rows.locator('.label-name'));
  }

  /** The titles of the menu of fixes at the cursor. Closes it again. */
  async function fixes(): Promise<string[]> {
    await openFixes();
    const rows = page.locator(FIXES);
    const titles = await texts(rows.locator('.title'));
    await page.keyboard.press('Escape');
    await rows.first().waitFor({ state: 'hidden' });
    return titles;
  }

  /**
   * Opens the hover at the cursor, waits until it says this, and returns all that it says. Closes it again. Whatever moves the
   * text at that moment closes it too, so it may take two goes.
   */
  async function hover(part: string): Promise<string> {
    const card = page.locator(
      '.monaco-editor .monaco-hover:not(.hidden) .hover-contents, .monaco-resizable-hover .hover-contents',
    );
    const said = await until(`a hover with "${part}"`, async () => {
      if (!(await card.first().isVisible())) {
        await page.keyboard.press('Control+K');
        await page.keyboard.press('Control+I');
        await card.first().waitFor({ timeout: 5000 });
      }
      const now = (await texts(card)).join('\n');
      return now.includes(part) && now;
    });
    await page.keyboard.press('Escape');
    return said;
  }

  /** Waits for lenses above lines on the visible part of the file; their texts. */
  function lenses(): Promise<string[]> {
    return some('a code lens', page.locator('.codelens-decoration a, .codelens-decoration > span'));
  }

  /** Waits for hints within lines on the visible part of the file; their texts. */
  function hints(): Promise<string[]> {
    return some('an inlay hint', page.locator('.view-line [class*="dyn-rule"]'));
  }

  /** The texts of the status bar. */
  function statusBar(): Promise<string[]> {
    return texts(page.locator('.statusbar-item:visible'));
  }

  /** The texts of the messages in the corner. */
  function messages(): Promise<string[]> {
    return texts(page.locator('.notification-list-item-message'));
  }

  function some(what: string, elements: Locator): Promise<string[]> {
    return until(what, async () => {
      const found = await texts(elements);
      return found.length > 0 && found;
    });
  }

  return {
    text,
    problems,
    problem,
    filterProblems,
    squiggles,
    completions,
    fixes,
    hover,
    lenses,
    hints,
    statusBar,
    messages,
  };
}
