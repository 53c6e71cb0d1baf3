// The work of a day, as a person does it: see what is wrong, mend it, write a card, rename a line, format, undo.
import { expect, it } from 'vitest';
import { editorSuite } from './support/suite.ts';

editorSuite('a day at the editor', (editor) => {
  const ROWS = '.markers-panel .monaco-list-row';

  /** The line and file of the cursor. */
  const place = () =>
    editor().host((vscode) => {
      const active = vscode.window.activeTextEditor!;
      const { line } = active.selection.active;
      return `${active.document.uri.path.split('/').at(-1)}: ${active.document.lineAt(line).text.trim()}`;
    });

  const textOf = (path: string) =>
    editor().host(
      async (vscode, path) =>
        (
          await vscode.workspace.openTextDocument(
            vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, path),
          )
        ).getText(),
      path,
    );

  /** A line by what is taken from the lists that come while it is written; where a space stands first, it is typed. */
  async function line(first: string, ...rest: string[]): Promise<void> {
    await editor().complete(first);
    for (const label of rest) {
      if (label.startsWith(' ')) await editor().type(' ');
      await editor().accept(label.trim());
    }
    await editor().press('Enter');
  }

  it('opens the machine as found and sees its problems', async () => {
    await editor().open('tide-gauge/as-found.pinout');
    expect(await editor().problem('PSU.+5V is rated 8 A')).toContain('supply-overload');
    await editor().goTo('supply PSU');
    expect(await editor().squiggles('error')).toBeGreaterThan(0);
    await expect.poll(editor().statusBar).toContain('16 errors, 11 warnings, 3 questions · 97 % known');
  });

  it('jumps to a problem, and along its path into another file', async () => {
    await editor().filterProblems('rail-conflict');
    await editor().problem('-12V at ADC.edge.W');
    await editor().page.locator(ROWS).filter({ hasText: 'rail-conflict' }).dblclick();
    await editor().until('the place of the problem', async () =>
      (await place()).startsWith('as-found.pinout: W             = -12V'),
    );
    const path = editor().page.locator(ROWS).filter({ hasText: 'CAGE.7.W -5V' });
    if (!(await path.isVisible())) {
      await editor().page.locator(ROWS).filter({ hasText: 'rail-conflict' }).click();
      await editor().press('ArrowRight');
    }
    expect(await path.textContent()).toContain('bus.pinout');
    await path.dblclick();
    await editor().until('the other end', async () =>
      (await place()).startsWith('bus.pinout: V, W          = -5V'),
    );
  });

  it('applies the fix of another, and the finding goes', async () => {
    await editor().filterProblems('pull-up-out-of-range');
    await editor().problem('356 ohm to 3.91 kohm');
    await editor().page.locator(ROWS).filter({ hasText: 'pull-up-out-of-range' }).dblclick();
    await editor().page.locator('.monaco-editor.focused').first().waitFor();
    expect(await editor().fixes()).toEqual([
      'Fit 1 kohm',
      'Explain pull-up-out-of-range',
      'Allow pull-up-out-of-range at /RESET, with the reason',
    ]);
    await editor().fix('Fit 1 kohm');
    await editor().until('the finding to go', async () => (await editor().problems()).length === 0);
    await expect.poll(editor().text).toContain('pull-up      /RESET             1 kohm to +5V  after 10');
    await editor().filterProblems('');
  });

  it('writes a card by completion only', async () => {
    await editor().open('tide-gauge/tide-gauge.pinout');
    await editor().goTo('# Boards outside the cage.');
    await editor().press('Enter', 'ArrowUp');
    await editor().complete('card');
    await editor().type('WIND');
    await editor().press('Tab');
    await editor().type('Wind vane');
    await editor().press('Tab', 'Tab');
    // A choice taken moves on by itself.
    await editor().accept('+5V');
    await editor().type('300');
    await editor().press('Tab', 'End', 'Enter');

    await line('receives', 'A0..A7', ' with', '74LS244', ' by', ' trace');
    await line('transceives', 'D0..D7', ' with', '74LS245', ' by', ' trace');
    await editor().type('po');
    await editor().complete('port');
    await editor().type('J7');
    await editor().press('Tab');
    await editor().accept('IDC10');
    await editor().press('Tab');
    await editor().accept('unknown');
    await editor().picture('card-by-completion');

    const card = `card WIND "Wind vane" {
  edge         on MAIN
  takes        +5V                300 mA
  receives A0..A7 with 74LS244 by trace
  transceives D0..D7 with 74LS245 by trace
  port J7 on IDC10 {
    1..10         = unknown
  }
}
`;
    await expect.poll(editor().text).toContain(card);
    const text = await editor().text();
    const [first, last] = [text.indexOf(card), text.indexOf(card) + card.length];
    const problems = () =>
      editor().host(
        (vscode, [first, last]) => {
          const { document } = vscode.window.activeTextEditor!;
          const offsets = vscode.languages
            .getDiagnostics(document.uri)
            .map(({ range }) => document.offsetAt(range.start));
          return offsets.filter((at) => at >= first! && at < last!).length;
        },
        [first, last],
      );
    // A slip is seen, so the findings are those of this very text; once it is gone, the card has none.
    await editor().type(' ?');
    await editor().until('a problem in the card', async () => (await problems()) > 0);
    await editor().press('Escape', 'Backspace', 'Backspace');
    await expect.poll(editor().text).toBe(text);
    await editor().until('no problem in the card', async () => (await problems()) === 0);
  });

  it('renames a line in every file that means it', async () => {
    await editor().open('tide-gauge/bus.pinout');
    await editor().goTo('/WAIT');
    await editor().rename('/HOLD');
    for (const file of ['bus', 'tide-gauge', 'as-found']) {
      const renamed = await editor().until(`the new name in ${file}.pinout`, async () => {
        const text = await textOf(`tide-gauge/${file}.pinout`);
        return text.includes('/HOLD') && text;
      });
      expect(renamed).not.toMatch(/\/WAIT\b/);
    }
    expect(await textOf('tide-gauge/tide-gauge.pinout')).toContain(
      'pulls        /HOLD, MD0..MD1    with 74LS38',
    );
    expect(await textOf('tide-gauge/bus.pinout')).toContain(
      'P             = /HOLD         wired-or  by trace',
    );
  });

  it('formats a line that went astray, by command and on saving, and undoes what was typed', async () => {
    const LINE = '  12            = /RD           strobe    by trace';
    const before = await editor().text();
    expect(before).toContain(LINE);
    for (const [how, tidy] of [
      ['Format Document', () => editor().command('Format Document')],
      ['saving', () => editor().press('Control+S')],
    ] as const) {
      await editor().goTo('= /RD');
      await editor().type('     ');
      await expect.poll(editor().text).not.toBe(before);
      await tidy();
      await editor().until(`${how} to put it right`, async () => (await editor().text()) === before);
    }
    await editor().goTo('/RD', 'after');
    await editor().type('X');
    await editor().filterProblems('/RDX');
    await editor().problem('/RDX');
    await editor().goTo('/RDX', 'after');
    await editor().press('Control+Z');
    await editor().until('the text as it was', async () => (await editor().text()) === before);
  });
});
