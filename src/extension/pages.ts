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

/** As Markdown is read; as plain text where the editor's Markdown support is off. */
async function show(page: string): Promise<void> {
  const uri = vscode.Uri.from({ scheme: SCHEME, path: `/${page}.md` });
  const commands = await vscode.commands.getCommands(true);
  if (commands.includes('markdown.showPreview'))
    await vscode.commands.executeCommand('markdown.showPreview', uri);
  else await vscode.window.showTextDocument(uri, { preview: true });
}
