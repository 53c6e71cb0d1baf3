// What the extension host calls: runs all tests one after the other and hands out what came of each.
import * as vscode from 'vscode';
import { hostTests } from './tests.ts';
import type { HostTest, Tools } from './tools.ts';

/** Stands before the results where they are printed; the test outside looks for it. */
const MARK = 'host tests: ';

/** How long one test may take, in milliseconds. */
const LIMIT = 60_000;

export async function run(): Promise<Record<string, string>> {
  const results: Record<string, string> = {};
  for (const test of hostTests) {
    results[test.name] = await outcome(test);
    await restore();
  }
  await handOut(JSON.stringify(results));
  return results;
}

/** `passed`, or what went wrong. */
async function outcome(test: HostTest): Promise<string> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, failed) => {
    timer = setTimeout(() => failed(new Error(`took more than ${LIMIT / 1000} s`)), LIMIT);
  });
  try {
    await Promise.race([test.run(tools), late]);
    return 'passed';
  } catch (error) {
    return error instanceof Error ? (error.stack ?? error.message) : String(error);
  } finally {
    clearTimeout(timer);
  }
}

const tools: Tools = {
  vscode,
  open: (path) => show(within(path)),
  create: async (name, text) => {
    await vscode.workspace.fs.writeFile(within(name), new TextEncoder().encode(text));
    return show(within(name));
  },
};

function within(path: string): vscode.Uri {
  return vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, path);
}

async function show(uri: vscode.Uri): Promise<vscode.TextDocument> {
  return (await vscode.window.showTextDocument(uri)).document;
}

/** What a test changed and did not save becomes again what is on disk. */
async function restore(): Promise<void> {
  for (const document of vscode.workspace.textDocuments) {
    const { uri } = document;
    if (!document.isDirty || uri.scheme === 'untitled') continue;
    const saved = new TextDecoder().decode(await vscode.workspace.fs.readFile(uri));
    const edit = new vscode.WorkspaceEdit();
    edit.replace(uri, new vscode.Range(0, 0, document.lineCount, 0), saved);
    await vscode.workspace.applyEdit(edit);
    await document.save();
  }
}

/** Into the file that the environment names; a host in a browser has no environment, and prints. */
async function handOut(results: string): Promise<void> {
  const file = (globalThis as { process?: NodeJS.Process }).process?.env?.CARDCAGE_HOST_RESULTS;
  if (file) await vscode.workspace.fs.writeFile(vscode.Uri.file(file), new TextEncoder().encode(results));
  else console.log(MARK + results);
}
