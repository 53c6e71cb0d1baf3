import * as vscode from 'vscode';
import type { Finding, Severity } from '../checks/types.ts';

const SECTION = 'cardcage';

export const affectsUs = (event: vscode.ConfigurationChangeEvent): boolean =>
  event.affectsConfiguration(SECTION);

export function isOn(
  name: 'codeLens' | 'inlayHints.ranges' | 'inlayHints.unknown',
  scope: vscode.Uri,
): boolean {
  return vscode.workspace.getConfiguration(SECTION, scope).get<boolean>(name, true);
}

/** The severity that the settings give a finding in its file; undefined where its rule is off. */
export function severitiesFor(scope: vscode.Uri): (finding: Finding) => Severity | undefined {
  const set = vscode.workspace
    .getConfiguration(SECTION, scope)
    .get<Readonly<Record<string, string>>>('severity', {});
  return ({ rule, severity }) => {
    const wanted = set[rule];
    if (wanted === 'off') return undefined;
    return isSeverity(wanted) ? wanted : severity;
  };
}

const isSeverity = (text: string | undefined): text is Severity =>
  text === 'error' || text === 'warning' || text === 'question' || text === 'note';
