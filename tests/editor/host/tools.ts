import type * as vscode from 'vscode';

/** One test within the extension host. It runs in the browser's host, the desktop's and the server's. */
export interface HostTest {
  name: string;
  run: (tools: Tools) => Promise<void>;
}

export interface Tools {
  vscode: typeof vscode;
  /** Opens an example by its path, as `tide-gauge/bus.pinout`, in the editor. */
  open: (path: string) => Promise<vscode.TextDocument>;
  /** Writes a file into the opened folder and opens it in the editor. Every test takes a name of its own. */
  create: (name: string, text: string) => Promise<vscode.TextDocument>;
}

/** How long the host may take for one thing, in milliseconds. */
const PATIENCE = 20_000;

/** Asks until the answer is neither undefined nor false. Throws with `what` when it does not come. */
export async function until<T>(what: string, ask: () => T | undefined | false): Promise<T> {
  const end = Date.now() + PATIENCE;
  for (;;) {
    const answer = ask();
    if (answer !== undefined && answer !== false) return answer;
    if (Date.now() > end) throw new Error(`waited ${PATIENCE / 1000} s for ${what}`);
    await new Promise((done) => setTimeout(done, 20));
  }
}

/** Throws unless both are the same when written as JSON. */
export function same(found: unknown, expected: unknown): void {
  const [left, right] = [JSON.stringify(found), JSON.stringify(expected)];
  if (left !== right) throw new Error(`found ${left}, expected ${right}`);
}
