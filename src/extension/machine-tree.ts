import * as vscode from 'vscode';
import { type MachineTree, machineTree } from '../editing/machine-tree.ts';
import type { Analysis } from '../editing/project.ts';
import { type MachineNode, type NodeKind, remarkOn, spokenNode, worstOn } from '../editing/tree-nodes.ts';
import { LONG_ENOUGH, pause } from './pause.ts';
import { locationIn } from './positions.ts';
import { nameOf } from './report.ts';
import { affectsUs, shownFindings } from './settings.ts';
import type { Workspace } from './workspace.ts';

const VIEW = 'cardcage.machines';

/** ms after the last change: what one is typing is not shown letter by letter. */
const DELAY = 150;

/** The machines of the workspace in the side bar, and the command that finds there what the cursor stands on. */
export function registerMachineTree(workspace: Workspace): vscode.Disposable {
  const changed = new vscode.EventEmitter<void>();
  let trees = new WeakMap<Analysis, { readonly name: string; readonly tree: MachineTree }>();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const later = (): void => {
    clearTimeout(timer);
    timer = setTimeout(() => changed.fire(), DELAY);
  };

  function treeOf(analysis: Analysis, names: ReadonlyMap<string, string>): MachineTree {
    const { root, machine, documents, findings } = analysis;
    // What a machine is called depends on what the others are called.
    const name = names.get(root) ?? nameOf(root);
    const known = trees.get(analysis);
    if (known?.name === name) return known.tree;
    const tree = machineTree({ root, machine, documents, findings: shownFindings(findings) }, name);
    trees.set(analysis, { name, tree });
    return tree;
  }

  /** One machine after the other, so that a keystroke need not wait for all of them. */
  async function machines(): Promise<MachineNode[]> {
    await workspace.loaded;
    const { project } = workspace;
    const found: MachineNode[] = [];
    let since = performance.now();
    const names = namesOf(workspace);
    for (const root of names.keys()) {
      const analysis = project.analysis(root);
      if (analysis) found.push(treeOf(analysis, names).root);
      if (performance.now() - since < LONG_ENOUGH) continue;
      await pause();
      since = performance.now();
    }
    return found;
  }

  const view = vscode.window.createTreeView<MachineNode>(VIEW, {
    showCollapseAll: true,
    treeDataProvider: {
      onDidChangeTreeData: changed.event,
      getChildren: (node) => (node ? [...node.children] : machines()),
      getParent: (node) => node.parent,
      getTreeItem: (node) => itemOf(workspace, node),
    },
  });

  async function reveal(): Promise<void> {
    await workspace.loaded;
    const editor = vscode.window.activeTextEditor;
    const found = editor && workspace.analysis(editor.document);
    if (editor === undefined || found === undefined) {
      void vscode.window.showInformationMessage(NO_MACHINE);
      return;
    }
    const offset = editor.document.offsetAt(editor.selection.active);
    const node = treeOf(found.analysis, namesOf(workspace)).at(found.file, offset);
    await view.reveal(node, { select: true, focus: true });
  }

  return vscode.Disposable.from(
    changed,
    view,
    vscode.commands.registerCommand('cardcage.revealInMachines', reveal),
    workspace.onDidChange(later),
    vscode.workspace.onDidChangeConfiguration((event) => {
      if (!affectsUs(event)) return;
      trees = new WeakMap();
      later();
    }),
    { dispose: () => clearTimeout(timer) },
  );
}

const NO_MACHINE =
  'No machine stands at the cursor. Put it into a pinout file of this workspace, and ask again.';

/** What the root file of each machine is called: by its folder too where another has the same name. */
function namesOf({ project }: Workspace): ReadonlyMap<string, string> {
  const roots = project.names().filter((file) => project.rootsOf(file).includes(file));
  const short = (file: string): string => file.slice(file.lastIndexOf('/') + 1);
  const times = new Map<string, number>();
  for (const root of roots) times.set(short(root), (times.get(short(root)) ?? 0) + 1);
  return new Map(roots.map((root) => [root, times.get(short(root)) === 1 ? short(root) : nameOf(root)]));
}

const ICONS: Readonly<Record<NodeKind, string>> = {
  machine: 'server',
  supply: 'zap',
  backplane: 'layout',
  bus: 'list-flat',
  slot: 'split-horizontal',
  socket: 'plug',
  board: 'chip',
  edge: 'plug',
  port: 'plug',
  'loose boards': 'archive',
  'ribbons and cables': 'arrow-swap',
  ribbon: 'arrow-swap',
  cable: 'arrow-swap',
  end: 'plug',
};

/** Questions and notes keep the colour of the text: nothing is wrong there. */
const COLOURS: Readonly<Record<string, vscode.ThemeColor>> = {
  error: new vscode.ThemeColor('list.errorForeground'),
  warning: new vscode.ThemeColor('list.warningForeground'),
};

const { Collapsed, None } = vscode.TreeItemCollapsibleState;

function itemOf(workspace: Workspace, node: MachineNode): vscode.TreeItem {
  const { id, kind, label, source, drawing, children } = node;
  const item = new vscode.TreeItem(label, children.length > 0 ? Collapsed : None);
  const spoken = spokenNode(node);
  item.id = id;
  item.description = remarkOn(node);
  item.tooltip = spoken;
  item.accessibilityInformation = { label: spoken };
  item.iconPath = new vscode.ThemeIcon(ICONS[kind], COLOURS[worstOn(node) ?? '']);
  if (drawing) item.contextValue = 'drawing';
  if (source) {
    const { uri, range } = locationIn(workspace.documentOf, source.file, source);
    item.command = { title: 'Open', command: 'vscode.open', arguments: [uri, { selection: range }] };
  }
  return item;
}
