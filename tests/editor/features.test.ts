// What a person reaches by keys, clicks and the palette beyond the work of a day: each once, in one editor.
import { expect, it } from 'vitest';
import { editorSuite } from './support/suite.ts';

editorSuite(
  'features',
  (editor) => {
    const tab = (name: string) =>
      editor().page.locator(`.tab.active[data-resource-name="${name}"], .tab.active[aria-label*="${name}"]`);

    /** The text that the page of a webview shows, once it has this part. */
    const page = (part: string) =>
      editor().until(`a page with "${part}"`, async () => {
        for (const frame of editor().page.frames()) {
          if (!frame.url().includes('/pre/fake.html')) continue;
          const text = await frame.locator('body').textContent({ timeout: 1000 });
          if (text?.includes(part)) return text;
        }
        return undefined;
      });

    /** Closes the page. It is waited for: a page that is still coming takes the keys away from what is opened next. */
    const close = () =>
      editor().until('the page to be closed', async () => {
        await editor().host((vscode) => {
          const tabs = vscode.window.tabGroups.all.flatMap((group) => group.tabs);
          return vscode.window.tabGroups.close(
            tabs.filter((one) => !(one.input instanceof vscode.TabInputText)),
          );
        });
        return !(await editor().page.locator('iframe.webview').first().isVisible());
      });

    it('opens the page of a rule from the problems panel', async () => {
      await editor().open('tide-gauge/as-found.pinout');
      await editor().problem('supply-overload');
      await editor().page.locator('.markers-panel .monaco-link', { hasText: 'supply-overload' }).click();
      expect(await page('fitted boards take more of a rail')).toContain('supply-overload');
      await close();
    });

    it('opens the page of a rule from the hover', async () => {
      await editor().open('tide-gauge/as-found.pinout');
      await editor().goTo('pull-up      /RESET');
      const link = editor().page.locator('.hover-row a.code-link', { hasText: 'pull-up-out-of-range' });
      // Lenses or hints that arrive at that moment move the text, which closes the hover.
      await editor().until('the rule in the hover', async () => {
        if (!(await link.isVisible())) await editor().press('Control+K', 'Control+I');
        await link.click({ timeout: 5000 });
        return true;
      });
      await page('too small for its drivers');
      await close();
    });

    it('opens the page of a rule by the command', async () => {
      await editor().command('Cardcage: Explain a rule…');
      await editor().choose('chain', 'chain-broken');
      await page('chain-broken');
      await close();
    });

    it('opens the language reference', async () => {
      await editor().command('Cardcage: Open the language reference');
      await page('How a line is built');
      await close();
    });

    it('opens the places that a lens counts', async () => {
      await editor().open('tide-gauge/bus.pinout');
      await editor().goTo('bus MAIN');
      await expect.poll(editor().lenses).toContain('44 contacts: 44 known (100 %)');
      await editor().page.locator('.codelens-decoration a', { hasText: 'errors' }).first().click();
      const rows = editor().page.locator('.peekview-widget .monaco-list-row');
      await expect.poll(async () => (await rows.allInnerTexts()).join('\n')).toContain('as-found.pinout');
      await editor().press('Escape');
      await editor().page.locator('.peekview-widget').waitFor({ state: 'hidden' });
    });

    it('shows hints and lenses, and hides them at once when they are turned off', async () => {
      await editor().goTo('D..M');
      await expect.poll(editor().hints).toContain('skips G I');
      await editor().set('cardcage.inlayHints.ranges', false);
      await editor().page.getByText('skips G I').waitFor({ state: 'detached' });
      await editor().set('cardcage.codeLens', false);
      await editor().page.locator('.codelens-decoration').first().waitFor({ state: 'detached' });
      await editor().set('cardcage.inlayHints.ranges', undefined);
      await editor().set('cardcage.codeLens', undefined);
      await editor().lenses();
    });

    it('says why a name cannot be', async () => {
      await editor().goTo('/WAIT');
      await editor().rename('/RESET');
      const said = await editor().until('a message', async () => {
        const messages = await editor().messages();
        return messages.length > 0 && messages;
      });
      expect(said).toEqual(['There is a line or rail `/RESET` already; two things would become one']);
      await editor().command('Notifications: Clear All Notifications');
    });

    it('goes to a name of another file', async () => {
      await editor().pick('Control+T', '#GAUGE', 'GAUGE');
      await editor().until('the card', () =>
        editor().host((vscode) => {
          const { document, selection } = vscode.window.activeTextEditor!;
          return document.lineAt(selection.active.line).text.startsWith('card GAUGE');
        }),
      );
    });

    it('goes into a published table, which is there to read', async () => {
      await editor().open('s100/s100.pinout');
      await editor().goTo('S100');
      await editor().press('F12');
      await tab('ieee-696.pinout').waitFor();
      const table = await editor().until('the text of the table', () =>
        editor().host((vscode) => {
          const document = vscode.window.activeTextEditor?.document;
          return document?.uri.path.endsWith('ieee-696.pinout') && document.getText();
        }),
      );
      await expect.poll(editor().statusBar).toContain('Pinout');
      await editor().intoText();
      await editor().type('x');
      await editor().page.getByText('Cannot edit in read-only editor').first().waitFor();
      expect(await editor().text()).toBe(table);
      await editor().press('Escape');
      await close();
    });

    it('turns a copied table into contact lines, when it is pasted and by the command', async () => {
      const HEAD = 'pinout 1\nconnector E {\n  shape     edge 1 x 10\n}\n';
      await editor().page.evaluate(() => navigator.clipboard.writeText('Pin\tSignal\n1\tGND\n2\t+5V\n'));
      for (const [name, paste] of [
        ['pasted', () => editor().press('Control+V')],
        ['by-command', () => editor().command('Cardcage: Paste table as contact lines')],
      ] as const) {
        await editor().create(`${name}.pinout`, `${HEAD}bus B on E {\n\n}\n`);
        await editor().goToLine(6);
        await paste();
        await editor().until('the contact lines', async () =>
          (await editor().text()).startsWith(
            `${HEAD}bus B on E {\n  1             = GND\n  2             = +5V\n`,
          ),
        );
      }
    });

    it('breaks the line at Enter, whatever is offered there', async () => {
      await editor().create('evening.pinout', '');
      await editor().goToLine(1);
      await editor().type('pinout 1');
      await editor().page.locator('.suggest-widget.visible').waitFor();
      await editor().press('Enter');
      await editor().type('title "Relay box"');
      await editor().press('Enter');
      await expect.poll(editor().text).toBe('pinout 1\ntitle "Relay box"\n');
    });

    it('begins a new machine that has nothing wrong', async () => {
      await editor().command('Cardcage: New machine file');
      await editor().until('the snippet', async () => (await editor().text()).includes('fitted CAGE {'));
      const worst = await editor().until('its findings', () =>
        editor().host((vscode) => {
          const { document } = vscode.window.activeTextEditor!;
          const found = vscode.languages.getDiagnostics(document.uri).map(({ severity }) => severity);
          return found.length > 0 && Math.min(...found);
        }),
      );
      expect(worst).toBeGreaterThan(1);
      await editor().press('Escape');
    });

    it('opens the walkthrough', async () => {
      await editor().command('Cardcage: Open the walkthrough');
      await editor().page.getByRole('button', { name: 'New machine file' }).waitFor();
      await editor().page.locator('.getting-started-step', { hasText: 'Write the bus' }).first().waitFor();
      await close();
    });

    it('checks all machines as a task and prints the summary', async () => {
      const code = await editor().host(async (vscode) => {
        const [task] = await vscode.tasks.fetchTasks({ type: 'cardcage' });
        const ended = new Promise((done) => {
          vscode.tasks.onDidEndTaskProcess(({ exitCode }) => done(exitCode));
        });
        await vscode.tasks.executeTask(task!);
        return ended;
      });
      expect(code).toBe(1);
      const terminal = editor().page.locator('.terminal-wrapper.active .xterm-rows');
      await editor().until('the summary', async () =>
        /16 errors, 11 warnings, 3 questions, \d+ notes in \d+ files/.test(
          (await terminal.textContent()) ?? '',
        ),
      );
    });

    it.each([
      ['tide-gauge', 'tide-gauge'],
      ['vme/vme.pinout', 'vme/vme.pinout'],
      ['', '.'],
    ])('checks what the menu of the explorer was opened on: "%s"', async (clicked, path) => {
      const ended = await editor().host(async (vscode, clicked) => {
        const folder = vscode.workspace.workspaceFolders![0]!.uri;
        const uri = clicked === '' ? folder : vscode.Uri.joinPath(folder, clicked);
        const done = new Promise<unknown>((resolve) => {
          vscode.tasks.onDidEndTask(({ execution: { task } }) => resolve(task.definition.path));
        });
        await vscode.commands.executeCommand('cardcage.checkHere', uri, [uri]);
        return done;
      }, clicked);
      expect(ended).toBe(path);
    });

    it('shows the log', async () => {
      await editor().command('Cardcage: Show the log');
      await editor()
        .page.locator('.output-view-content, .panel .view-lines', {
          hasText: 'pinout files in the workspace',
        })
        .first()
        .waitFor();
    });

    it('bears every stage of a file being typed, and keeps what it found elsewhere', async () => {
      const errors: string[] = [];
      editor().page.on('pageerror', (error) => errors.push(error.message));
      editor().page.on('console', (message) => {
        if (message.type() === 'error' && !message.text().startsWith('Failed to load resource'))
          errors.push(message.text());
      });
      await editor().open('tide-gauge/as-found.pinout');
      const text = await editor().text();
      const elsewhere = () =>
        editor().host((vscode) =>
          vscode.languages
            .getDiagnostics()
            .filter(([{ path }]) => /s100|vme|isa|tide-gauge\/tide-gauge/.test(path))
            .map(([{ path }, { length }]) => `${path} ${length}`)
            .sort(),
        );
      const before = await elsewhere();
      expect(before.length).toBeGreaterThanOrEqual(3);
      await editor().create('typed.pinout', '');
      for (let part = 1; part <= 20; part++) {
        const piece = text.slice(((part - 1) * text.length) / 20, (part * text.length) / 20);
        await editor().host(async (vscode, piece) => {
          const active = vscode.window.activeTextEditor!;
          const { document } = active;
          const end = document.lineAt(document.lineCount - 1).range.end;
          await active.edit((edit) => edit.insert(end, piece));
          await vscode.commands.executeCommand('vscode.executeDocumentSymbolProvider', document.uri);
          await vscode.commands.executeCommand(
            'vscode.executeHoverProvider',
            document.uri,
            document.positionAt(document.getText().length - 3),
          );
          await vscode.commands.executeCommand(
            'vscode.executeCompletionItemProvider',
            document.uri,
            document.positionAt(document.getText().length),
          );
        }, piece);
        // Keys, so that what the editor itself asks for while one types is asked for.
        await editor().press('Control+End', 'Space', 'Backspace', 'Escape');
        expect(await elsewhere()).toEqual(before);
      }
      await expect.poll(editor().text).toBe(text);
      expect(errors).toEqual([]);
    });
  },
  { settings: { 'terminal.integrated.gpuAcceleration': 'off' } },
);
