// The machines in the side bar, by mouse and by keys.
import { expect, it } from 'vitest';
import { spaced } from './support/hands.ts';
import { editorSuite } from './support/suite.ts';

editorSuite('machines', (editor) => {
  const view = () => editor().page.locator('.pane-body .tree-explorer-viewlet-tree-view');
  const rows = () => view().locator('.monaco-list-row');

  /** The rows as they are read aloud: `slot 5, empty, 1 error`. */
  const spoken = () =>
    rows().evaluateAll((all) => all.map((row) => row.getAttribute('aria-label')?.replace(/\s+/g, ' ')));

  const row = (label: string) =>
    rows()
      .filter({ has: editor().page.getByText(label, { exact: true }) })
      .first();

  /** What stands behind a label. */
  const remark = async (label: string) =>
    spaced((await row(label).locator('.label-description').allTextContents()).join(''));

  /** Opens or closes a row by its arrow, so that its statement is not opened. */
  async function turn(label: string): Promise<void> {
    await row(label).locator('.monaco-tl-twistie').click();
  }

  /** Where the cursor stands: the file's name and the line from 1. */
  const cursor = () =>
    editor().host((vscode) => {
      const { document, selection } = vscode.window.activeTextEditor!;
      const { line } = selection.start;
      return `${document.uri.path.split('/').at(-1)}: ${document.lineAt(line).text.trim()}`;
    });

  it('opens from its icon in the activity bar and lists the machines', async () => {
    await editor().page.locator('.activitybar a.action-label[aria-label^="Cardcage"]').click();
    await expect
      .poll(spoken)
      .toContain(
        'machine as-found.pinout, Tide-gauge station logger, rack 2, as found, 16 errors, 11 warnings, 3 questions, 2 notes',
      );
    await expect.poll(spoken).toHaveLength(5);
  });

  it('opens the way down to a header with what is found on each', async () => {
    await turn('as-found.pinout');
    await turn('CAGE');
    await turn('slot 6');
    await turn('GAUGE');
    await turn('J1');
    await expect.poll(() => remark('slot 5')).toBe('empty · 1 error');
    await expect.poll(() => remark('W1')).toBe('1 error · to DISPLAY.J1, CHART.J1');
    await expect.poll(spoken).toContain('slot 10, empty, no findings');
    for (const theme of ['dark', 'light'] as const) {
      await editor().theme(theme);
      await editor().picture(theme === 'dark' ? 'machines' : 'machines-light');
    }
  });

  it('leads from a board to its statement', async () => {
    await row('GAUGE').click();
    await editor().until('the line of the board', async () =>
      (await cursor()).startsWith('as-found.pinout: 6    = GAUGE'),
    );
  });

  it('offers a drawing of what can be drawn, and of nothing else', async () => {
    const action = (label: string) => row(label).locator('.action-label[aria-label^="Open drawing beside"]');
    await row('J1').hover();
    await action('J1').waitFor();
    await row('GAUGE').hover();
    expect(await action('GAUGE').count()).toBe(0);
  });

  it('counts anew as the text changes', async () => {
    await editor().goTo('drives       /ALARM             with 74LS04');
    await expect.poll(() => remark('slot 8')).toBe('PUMP · 4 errors, 1 question');
    await editor().host(async (vscode) => {
      const active = vscode.window.activeTextEditor!;
      const at = active.document.getText().indexOf('drives       /ALARM             with 74LS04');
      const start = active.document.positionAt(at);
      await active.edit((edit) =>
        edit.replace(
          new vscode.Range(start, start.translate(0, 43)),
          'pulls        /ALARM             with 7406',
        ),
      );
    });
    await editor().until('one error less', async () => (await remark('slot 8')).includes('3 errors'));
    expect(await remark('W1')).toContain('1 error');
  });

  it('counts as the settings rank', async () => {
    await editor().set('cardcage.severity', { 'chain-broken': 'off' });
    await editor().until('slot 5 without a finding', async () => (await remark('slot 5')) === 'empty');
    await editor().set('cardcage.severity', undefined);
    await editor().until('the finding again', async () => (await remark('slot 5')).includes('1 error'));
  });

  it('shows on a command what the cursor stands on', async () => {
    await editor().goTo('port J9 on DA15');
    await editor().command('Cardcage: Show in the tree of machines');
    const focused = view().locator('.monaco-list-row.focused');
    await editor().until('the header', async () =>
      (await focused.getAttribute('aria-label'))?.startsWith('port J9, on DA15'),
    );
    // The keyboard comes along.
    await view().locator('.monaco-list:focus').waitFor();
  });

  it('is walked by keys alone', async () => {
    const focused = async () => await view().locator('.monaco-list-row.focused').getAttribute('aria-label');
    const to = (start: string) =>
      editor().until(start, async () => (await focused())?.replace(/\s+/g, ' ').startsWith(start));
    await editor().press('ArrowRight');
    await row('C1').waitFor();
    await editor().press('ArrowDown');
    await to('cable C1');
    await editor().press('ArrowLeft', 'ArrowLeft');
    await to('port J9');
    await editor().press('ArrowLeft');
    await to('board DISPLAY');
    await editor().press('Enter');
    await editor().until('the line of the board', async () => (await cursor()).includes('loose DISPLAY'));
  });

  it('writes a name that looks like an icon as it is', async () => {
    await editor().create('odd.pinout', 'pinout 1\ntitle "$(zap) box"\nsupply $(zap) {\n}\n');
    await editor().command('Cardcage: Show in the tree of machines');
    await expect.poll(() => remark('odd.pinout')).toContain('$(zap) box');
    expect(await row('odd.pinout').locator('.label-description .codicon').count()).toBe(0);
  });
});

editorSuite(
  'no machine',
  (editor) => {
    it('offers to begin one', async () => {
      await editor().page.locator('.activitybar a.action-label[aria-label^="Cardcage"]').click();
      await editor().page.getByText('No machine is described here yet', { exact: false }).waitFor();
      await editor().page.getByRole('button', { name: 'Open the walkthrough' }).waitFor();
      await editor().picture('no-machine');
      await editor().page.locator('.welcome-view').getByRole('button', { name: 'New machine file' }).click();
      await editor().until('the snippet', async () => (await editor().text()).includes('fitted CAGE {'));
      const row = editor().page.locator('.tree-explorer-viewlet-tree-view .monaco-list-row');
      await row.first().waitFor();
    });
  },
  { folder: 'media' },
);
