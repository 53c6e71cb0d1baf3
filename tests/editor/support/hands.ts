// What a person does with keyboard and mouse. Each waits until the editor has followed.
import type { Page } from 'playwright-core';
import type { Host } from './host.ts';
import { until } from './waiting.ts';

/** Rows of the menu of fixes. */
export const FIXES = '.action-widget .actionList .monaco-list-row';

/** The editor's own themes, and the class by which the page shows them. */
const THEMES = {
  dark: { name: 'Default Dark Modern', mark: 'vscode-theme-defaults-themes-dark_modern-json' },
  light: { name: 'Default Light Modern', mark: 'vscode-theme-defaults-themes-light_modern-json' },
  'high-contrast': { name: 'Default High Contrast', mark: 'vscode-theme-defaults-themes-hc_black-json' },
  'high-contrast-light': {
    name: 'Default High Contrast Light',
    mark: 'vscode-theme-defaults-themes-hc_light-json',
  },
};

export type Hands = ReturnType<typeof hands>;

export function hands(page: Page, host: Host) {
  /** The box in which one types a command, a name or where to go, while it has the keyboard. */
  const box = page.locator('.quick-input-widget input:focus');
  /** The text that is being edited, while it has the keyboard. */
  const focusedText = page.locator('.editor-group-container.active .monaco-editor.focused').first();

  /** Presses keys one after the other, as `Control+Shift+M` or `F8`. */
  async function press(...keys: string[]): Promise<void> {
    for (const key of keys) await page.keyboard.press(key);
  }

  /** Types text as a person would, key by key; the editor may complete and indent. */
  async function type(text: string): Promise<void> {
    await page.keyboard.type(text, { delay: 15 });
  }

  /** Types into the quick input and clicks the row with exactly this label. */
  async function choose(typed: string, label: string): Promise<void> {
    await box.waitFor();
    await box.fill(typed);
    await clickRow(label);
  }

  /** Clicks the row of the quick input with exactly this label, once it is there. */
  async function clickRow(label: string, patience?: number): Promise<void> {
    const row = page.locator('.quick-input-widget .quick-input-list .monaco-list-row:visible').filter({
      has: page.locator('.quick-input-list-row .label-name').getByText(label, { exact: true }),
    });
    await row.first().click(patience === undefined ? {} : { timeout: patience });
  }

  /**
   * Opens the quick input by its key and chooses there. Whatever takes the keyboard meanwhile closes it, and a page that has
   * just been shown in a frame may swallow the key, so it may take two goes.
   */
  async function pick(key: string, typed: string, label: string): Promise<void> {
    await until(`"${label}" in the quick input`, async () => {
      if (!(await box.isVisible())) await press(key);
      await box.waitFor({ timeout: 3000 });
      await box.fill(typed, { timeout: 3000 });
      await clickRow(label, 5000);
      return true;
    });
  }

  /** Runs the command whose row in the palette reads exactly so, as `Format Document`. */
  async function command(label: string): Promise<void> {
    await pick('F1', `>${label}`, label);
  }

  /** From whatever has the keyboard back to the texts, which are in the first group; waits until it is there. */
  async function toText(): Promise<void> {
    await until('the texts to be active', () =>
      host(async (vscode) => {
        await vscode.commands.executeCommand('workbench.action.focusFirstEditorGroup');
        return vscode.window.tabGroups.activeTabGroup.viewColumn === vscode.ViewColumn.One;
      }),
    );
  }

  /** Clicks through the explorer to a file, as `tide-gauge/bus.pinout`, and puts the cursor into it. */
  async function open(path: string): Promise<void> {
    const parts = path.split('/');
    await until(`${path} in the explorer`, async () => {
      let above: number | undefined = -1;
      for (const [depth, part] of parts.entries()) {
        above = await unfold(part, depth + 1, above);
        if (above === undefined) return false;
      }
      // Rows move while the explorer reads a folder; then the click was on another one.
      await tab(parts.at(-1)!).waitFor({ timeout: 5000 });
      return true;
    });
    await isActive(path);
    await intoText();
  }

  /** Puts the keyboard into the active text, and waits until it is there. */
  async function intoText(): Promise<void> {
    await until('the text to have the keyboard', async () => {
      await host((vscode) => vscode.commands.executeCommand('workbench.action.focusActiveEditorGroup'));
      await focusedText.waitFor({ timeout: 3000 });
      return true;
    });
  }

  const tab = (name: string) => page.locator(`.tab.active[data-resource-name="${name}"]`);

  /** Waits until the extension host knows that this is the file one works at. */
  async function isActive(path: string): Promise<void> {
    await until(`${path} to be the active editor`, () =>
      host((vscode, end) => vscode.window.activeTextEditor?.document.uri.path.endsWith(end), `/${path}`),
    );
  }

  /** Clicks the explorer's row of this name and depth below row `above`, unless it is a folder that is open; its index. */
  async function unfold(name: string, depth: number, above: number): Promise<number | undefined> {
    const list = page.locator('.explorer-folders-view');
    for (const row of await list.locator(`.monaco-list-row[aria-level="${depth}"]`).all()) {
      const index = Number(await row.getAttribute('data-index'));
      if (index <= above || spaced((await row.textContent()) ?? '') !== name) continue;
      const expanded = await row.getAttribute('aria-expanded');
      if (expanded === 'true') return index;
      await row.click({ timeout: 2000 });
      // The explorer may be opening the folder by itself at that moment; then this click has closed it again.
      if (expanded !== null)
        await list.locator(`[data-index="${index}"][aria-expanded="true"]`).waitFor({ timeout: 3000 });
      return index;
    }
    return undefined;
  }

  /** Arranges a new file in the folder, in memory, opens it and puts the cursor into it. */
  async function create(path: string, text: string): Promise<void> {
    await host(
      async (vscode, { path, text }) => {
        const uri = vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, path);
        await vscode.workspace.fs.writeFile(uri, new TextEncoder().encode(text));
        await vscode.window.showTextDocument(uri);
      },
      { path, text },
    );
    await tab(path.split('/').at(-1)!).waitFor();
    await isActive(path);
    await focusedText.waitFor();
  }

  /** Puts the cursor before the first `text` of the active file; with `after`, behind it. */
  async function goTo(text: string, side: 'before' | 'after' = 'before'): Promise<void> {
    const find = () =>
      host(
        (vscode, { text, side }) => {
          const document = vscode.window.activeTextEditor?.document;
          const at = document?.getText().indexOf(text) ?? -1;
          if (!document || at < 0) return undefined;
          const { line, character } = document.positionAt(side === 'after' ? at + text.length : at);
          return { line: line + 1, column: character + 1 };
        },
        { text, side },
      );
    const place = await until(`the active file to have "${text}"`, find);
    await goToLine(place.line, place.column);
  }

  /**
   * Puts the cursor to a line and column, counted from 1. Whatever takes the keyboard meanwhile closes the box in which one
   * types where to go, so it may take two goes; Enter is pressed in that box and nowhere else.
   */
  async function goToLine(line: number, column = 1): Promise<void> {
    const there = () =>
      host(
        (vscode, { line, column }) => {
          const at = vscode.window.activeTextEditor?.selection.active;
          return at?.line === line - 1 && at.character === column - 1;
        },
        { line, column },
      );
    await until(`the cursor at line ${line}, column ${column}`, async () => {
      await intoText();
      await press('Control+G');
      await box.waitFor({ timeout: 3000 });
      await box.fill(`:${line}:${column}`, { timeout: 3000 });
      await box.press('Enter', { timeout: 3000 });
      await box.waitFor({ state: 'hidden', timeout: 3000 });
      return until('the cursor to follow', there, 3000);
    });
    await focusedText.waitFor();
  }

  /** F2 on the cursor's word. Resolves when the box has closed. */
  async function rename(to: string): Promise<void> {
    await press('F2');
    const name = page.locator('.rename-box input:focus');
    await name.waitFor();
    await name.fill(to);
    await name.press('Enter');
    await name.waitFor({ state: 'hidden' });
  }

  /** Opens the menu of fixes at the cursor. Lenses or hints that arrive at that moment close it, so it may take two goes. */
  async function openFixes(): Promise<void> {
    await until('the menu of fixes', async () => {
      await press('Control+.');
      await page.locator(FIXES).first().waitFor({ timeout: 3000 });
      return true;
    });
  }

  /** Opens the menu of fixes at the cursor and clicks the one with this title. */
  async function fix(title: string): Promise<void> {
    await openFixes();
    const rows = page.locator(FIXES);
    const row = rows.locator('.title').getByText(title, { exact: true }).first();
    // A fresh menu takes no click before the mouse has moved over it.
    await row.hover({ force: true });
    await row.click();
    await rows.first().waitFor({ state: 'hidden' });
  }

  /** Opens the completion list and accepts the entry with this label. */
  async function complete(label: string): Promise<void> {
    await press('Control+Space');
    await accept(label);
  }

  /** Accepts an entry of the completion list, once it is there. The list may stay, with what can stand next. */
  async function accept(label: string): Promise<void> {
    const list = page.locator('.suggest-widget.visible');
    const version = () => host((vscode) => vscode.window.activeTextEditor?.document.version);
    const before = await version();
    await list.locator('.monaco-list-row .label-name').getByText(label, { exact: true }).first().click();
    await until(
      `"${label}" to be written`,
      async () => (await version()) !== before || !(await list.isVisible()),
    );
  }

  /** Sets a setting of the user, as the settings page does; undefined takes it back. */
  async function set(setting: string, value: unknown): Promise<void> {
    await host(
      (vscode, { setting, value }) =>
        vscode.workspace.getConfiguration().update(setting, value, vscode.ConfigurationTarget.Global),
      { setting, value },
    );
  }

  /** Changes the theme and waits until its colours are there. */
  async function theme(kind: keyof typeof THEMES): Promise<void> {
    const { name, mark } = THEMES[kind];
    await set('workbench.colorTheme', name);
    await page.locator(`.monaco-workbench.${mark}`).waitFor();
  }

  return {
    theme,
    press,
    create,
    toText,
    intoText,
    type,
    choose,
    pick,
    command,
    open,
    goTo,
    goToLine,
    rename,
    openFixes,
    fix,
    complete,
    accept,
    set,
  };
}

/** Rows of the editor part words with hard spaces. */
export function spaced(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
