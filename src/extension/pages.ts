import * as vscode from 'vscode';
import { languageRules } from '../checks/language.ts';
import { rules } from '../checks/rules.ts';
import { explanation } from '../editing/explain.ts';

/** Pages of explanation are shown under this scheme, as Markdown that is read and not changed. */
const SCHEME = 'cardcage-page';
const REFERENCE = 'the-language';

/**
 * The page of each rule and the language reference, which lie beside the bundle, and the commands that open them as
 * the editor shows Markdown.
 */
export function registerPages(extension: vscode.Uri): vscode.Disposable {
  return vscode.Disposable.from(
    vscode.workspace.registerTextDocumentContentProvider(SCHEME, {
      async provideTextDocumentContent({ path }) {
        const page = path.slice(1, -'.md'.length);
        // The address may stand in any text: it leads to pages, and to no other file.
        if (page !== REFERENCE && !isRule(page)) return `There is no page \`${page}\`.\n`;
        const file = vscode.Uri.joinPath(extension, 'dist/pages', `${page}.md`);
        return explanation(page, new TextDecoder().decode(await vscode.workspace.fs.readFile(file)));
      },
    }),
    vscode.commands.registerCommand('cardcage.explainRule', async (rule?: unknown) => {
      const id = typeof rule === 'string' && isRule(rule) ? rule : await pick();
      if (id !== undefined) await show(id);
    }),
    vscode.commands.registerCommand('cardcage.showReference', () => show(REFERENCE)),
  );
}

const known = (): readonly { readonly id: string; readonly summary: string }[] => [
  ...rules,
  ...languageRules,
];

const isRule = (id: string): boolean => known().some((one) => one.id === id);

async function pick(): Promise<string | undefined> {
  const list = known().map(({ id, summary }) => ({ label: id, detail: summary }));
  const placeHolder = 'Which rule shall be explained?';
  return (await vscode.window.showQuickPick(list, { placeHolder, matchOnDetail: true }))?.label;
}

/**
 * The address of a rule's page. Not a `command:` address: the hover and the peek of a finding follow none.
 * The manifest says that these pages open as Markdown is read, not as it is written.
 */
export const pageOf = (page: string): vscode.Uri => vscode.Uri.from({ scheme: SCHEME, path: `/${page}.md` });

const show = (page: string): Thenable<unknown> => vscode.commands.executeCommand('vscode.open', pageOf(page));
