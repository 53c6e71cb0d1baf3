import * as vscode from 'vscode';
import { merged } from '../checks/merge.ts';
import { worstFirst } from '../checks/severities.ts';
import { isPublished } from '../machine/uses.ts';
import { type Summary, summarise } from '../reports/findings.ts';
import { type Texts, textFile } from '../reports/places.ts';
import { findingText, type Paint, summaryText } from '../reports/text.ts';
import { shownFindings } from './settings.ts';
import { uriOf } from './uris.ts';
import type { Workspace } from './workspace.ts';

/** What files are called in reports: relative to the workspace folder. */
export const nameOf = (file: string): string =>
  isPublished(file) ? file : vscode.workspace.asRelativePath(uriOf(file), false);

/** The texts of all files of a machine, for reports that count lines. */
export function textsOf(workspace: Workspace, files: Iterable<string>): Texts {
  return new Map([...files].map((file) => [file, textFile(workspace.documentOf(file)?.text ?? '')]));
}

const PLAIN: Paint = { severity: (_, text) => text, strong: (text) => text, faint: (text) => text };

/** The machines of these files as the command line reports them, worst findings first. */
export function reportOn(workspace: Workspace, files: readonly string[]): { text: string; summary: Summary } {
  const { project } = workspace;
  const roots = [...new Set(files.flatMap((file) => project.rootsOf(file)))];
  const analyses = roots.flatMap((root) => project.analysis(root) ?? []);
  const machines = analyses.map(({ machine }) => machine);
  const found = worstFirst(shownFindings(merged(analyses.map(({ findings }) => findings))));
  const texts = textsOf(workspace, new Set(machines.flatMap((machine) => machine.files)));
  const summary = summarise(machines, found);
  const blocks = found.map((finding) => findingText(finding, texts, nameOf, PLAIN, 100));
  return { text: [...blocks, summaryText(summary)].join('\n'), summary };
}
