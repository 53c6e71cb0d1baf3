import * as vscode from 'vscode';
import type { Finding } from '../checks/types.ts';
import { type Ranks, ranked } from '../editing/ranks.ts';
import { uriOf } from './uris.ts';

const SECTION = 'cardcage';

export const affectsUs = (event: vscode.ConfigurationChangeEvent): boolean =>
  event.affectsConfiguration(SECTION);

export function isOn(
  name: 'codeLens' | 'inlayHints.ranges' | 'inlayHints.unknown',
  scope: vscode.Uri,
): boolean {
  return vscode.workspace.getConfiguration(SECTION, scope).get<boolean>(name, true);
}

/** Findings as the settings of their files rank them, without those of rules that are off. */
export const shownFindings = (findings: readonly Finding[]): Finding[] =>
  ranked(findings, (file) =>
    vscode.workspace.getConfiguration(SECTION, uriOf(file)).get<Ranks>('severity', {}),
  );
