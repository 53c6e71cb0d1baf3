// A person at the editor. The tests run in order, in one editor; each starts where the one before left off.
import { expect, it } from 'vitest';
import { editorSuite } from './support/suite.ts';

editorSuite('a session', (editor) => {
  const isActive = () =>
    editor().host((vscode) => vscode.extensions.getExtension('cardcage.cardcage')?.isActive);

  it('leaves the extension asleep while no pinout file is open', async () => {
    await editor().create('notes.txt', 'rail +5V 5 V\n');
    expect(await editor().text()).toBe('rail +5V 5 V\n');
    expect(await isActive()).toBe(false);
  });

  it('wakes for a pinout file and knows its language', async () => {
    await editor().open('tide-gauge/as-found.pinout');
    const language = await editor().host((vscode) => vscode.window.activeTextEditor?.document.languageId);
    expect(language).toBe('pinout');
    await expect.poll(editor().statusBar).toContain('Pinout');
    await editor().until('the extension to wake', isActive);
  });

  it('shows what is wrong, in the text, in the problems panel and on hovering', async () => {
    const row = await editor().problem('PSU.+5V is rated 8 A');
    expect(row).toContain('supply-overload');
    await editor().goTo('+5V    5 V');
    expect(await editor().squiggles('error')).toBeGreaterThan(0);
    await editor().hover('PSU.+5V is rated 8 A');
  });

  it('shows the net at the cursor', async () => {
    await editor().command('Cardcage: Show the net at the cursor');
    await editor().page.locator('.tab[data-resource-name*="in as-found.pinout"]').waitFor();
    await editor().picture('net');
  });

  it.each(['dark', 'light', 'high-contrast', 'high-contrast-light'] as const)(
    'shows itself in %s',
    async (theme) => {
      await editor().theme(theme);
      await editor().picture(`as-found-${theme}`);
    },
  );

  it('asks no other machine for anything', () => {
    expect([...editor().outside]).toEqual([]);
  });
});
