import { drawnBusName } from '../drawing/drawn-bus.ts';
import type { Wanted } from '../drawing/to-host.ts';
import type { Backplane, Board, Instance, Machine, Ribbon, Slot, Supply } from '../machine/types.ts';
import { spokenEnds } from './code-lens.ts';
import { counted } from './markdown.ts';
import { occupancy, spokenPins } from './outline.ts';
import type { Analysis } from './project.ts';
import { countFindings } from './tree-findings.ts';
import { treeIndex } from './tree-index.ts';
import { type Growing, type MachineNode, nodeMaker, type Sprout } from './tree-nodes.ts';

/** A machine as a tree, and what finds its nodes. */
export interface MachineTree {
  readonly root: MachineNode;
  /** The node that the statement at an offset describes, or the nearest statement around it: at last the machine. */
  at(file: string, offset: number): MachineNode;
}

/**
 * The machine as one walks round it: supplies, backplanes with their slots, boards, headers and what is plugged in
 * there, loose boards, ribbons and cables. `name` is what its root file is called on the screen.
 */
export function machineTree(
  { root: file, machine, documents, findings }: Pick<Analysis, 'root' | 'machine' | 'documents' | 'findings'>,
  name: string,
): MachineTree {
  const index = treeIndex(documents);
  const make = nodeMaker(file);
  const add: Add = (parent, sprout) => {
    const node = make(parent, sprout);
    index.take(node, sprout);
    return node;
  };
  const source = { file, from: 0, to: 0 };
  // Versions of one machine have one title, and a title leaves no room for what was found: the file comes first.
  const root = add(undefined, { kind: 'machine', label: name, description: machine.title, source });
  grow(root, machine, add);
  countFindings(root, findings, machine, index);
  return {
    root,
    at(file, offset) {
      const found = index.describedAt(file, offset);
      const [first = root] = found;
      // One line describes a slot and its board: the board is what one is looking for.
      return found.find(({ parent }) => parent === first) ?? first;
    },
  };
}

type Add = (parent: Growing | undefined, sprout: Sprout) => Growing;

function grow(root: Growing, machine: Machine, add: Add): void {
  const { supplies, backplanes, boards, ribbons, instances } = machine;
  const plugs = plugged(machine, add);
  const nodes = new Map(supplies.map((supply) => [supply, addSupply(root, supply, add)]));
  for (const one of instances) if (one.supply) addConnector(nodes.get(one.supply)!, one, 'port', plugs, add);
  for (const backplane of backplanes) addBackplane(root, backplane, plugs, add);
  const loose = boards.filter(({ slot }) => slot === undefined);
  if (loose.length > 0) {
    const description = counted(loose.length, 'board');
    const group = add(root, { kind: 'loose boards', label: 'Loose boards', description });
    for (const board of loose) addBoard(group, board, plugs, add);
  }
  if (ribbons.length > 0) {
    const group = add(root, { kind: 'ribbons and cables', label: 'Ribbons and cables' });
    for (const ribbon of ribbons) addRibbon(group, ribbon, add);
  }
}

/** Adds below a connector what is plugged into it. */
type Plugs = (connector: Growing, instance: Instance) => void;

function plugged({ ribbons }: Machine, add: Add): Plugs {
  const byName = new Map(ribbons.map((ribbon) => [ribbon.name, ribbon]));
  return (connector, instance) => {
    for (const { name, unplugged } of instance.plugs) {
      const ribbon = byName.get(name)!;
      const others = ribbon.ends.filter((end) => end.instance !== instance);
      const far =
        others.length === 0 ? [] : [`to ${others.map((end) => spokenEnds({ ends: [end] })).join(', ')}`];
      const description = [...(unplugged ? ['unplugged'] : []), ...far].join(', ');
      add(connector, { ...sproutOf(ribbon), description });
    }
  };
}

function addSupply(root: Growing, { name, rails, source }: Supply, add: Add): Growing {
  return add(root, { kind: 'supply', label: name, description: counted(rails.length, 'rail'), name, source });
}

function addBackplane(root: Growing, backplane: Backplane, plugs: Plugs, add: Add): void {
  const { name, slots, buses, portInstances, source } = backplane;
  const drawings = buses.map(
    ({ place, bus }): Wanted => ({ view: 'bus', of: `${name}.${drawnBusName(place, bus)}` }),
  );
  const node = add(root, {
    kind: 'backplane',
    label: name,
    description: occupancy(slots),
    name,
    source,
    // Where there are several buses, each has its own drawing below.
    ...(drawings.length === 1 ? { drawing: drawings[0]! } : {}),
  });
  buses.forEach(({ place, bus }, i) => {
    const label = drawnBusName(place, bus);
    const description = spokenPins(bus.pins);
    add(node, { kind: 'bus', label, description, name: bus.name, source: bus.source, drawing: drawings[i]! });
  });
  for (const slot of slots) addSlot(node, slot, plugs, add);
  for (const one of portInstances) addConnector(node, one, 'port', plugs, add);
}

function addSlot(backplane: Growing, slot: Slot, plugs: Plugs, add: Add): void {
  const { label, state, board, instances, source } = slot;
  const [only] = instances.length === 1 ? instances : [];
  const node = add(backplane, {
    kind: 'slot',
    label: `slot ${label}`,
    description: board?.name ?? (state === 'empty' ? 'empty' : 'not said'),
    name: `${backplane.label}.${label}`,
    source,
    // Of which nothing is said, that is described with all others of the backplane.
    ...(state === 'unsaid' ? { describedBy: [] } : {}),
    ...(only ? { drawing: { view: 'connector', of: only.path } } : {}),
  });
  if (only === undefined) for (const one of instances) addConnector(node, one, 'socket', plugs, add);
  if (board) addBoard(node, board, plugs, add);
}

function addBoard(parent: Growing, board: Board, plugs: Plugs, add: Add): void {
  const { name, card, instances, source } = board;
  const description = name === card.name ? card.title : card.name;
  const node = add(parent, {
    kind: 'board',
    label: name,
    description,
    name,
    source,
    describedBy: [source, card.source],
  });
  for (const one of instances) addConnector(node, one, one.kind === 'edge' ? 'edge' : 'port', plugs, add);
}

function addConnector(
  parent: Growing,
  instance: Instance,
  kind: 'socket' | 'edge' | 'port',
  plugs: Plugs,
  add: Add,
): void {
  const { path, port, pins } = instance;
  const node = add(parent, {
    kind,
    label: port.name,
    description: `on ${(kind === 'port' ? undefined : port.bus?.name) ?? pins.connector.name}`,
    name: path,
    source: port.source,
    drawing: { view: 'connector', of: path },
  });
  plugs(node, instance);
}

function addRibbon(group: Growing, ribbon: Ribbon, add: Add): void {
  const node = add(group, { ...sproutOf(ribbon), description: spokenEnds(ribbon) });
  for (const { instance, place, unplugged, stripe, turned, source } of ribbon.ends) {
    const said = [
      ...(unplugged ? ['unplugged'] : []),
      ...(stripe === undefined ? [] : [`stripe at ${stripe}`]),
      ...(turned ? ['turned'] : []),
    ];
    add(node, { kind: 'end', label: instance?.path ?? place, description: said.join(', '), source });
  }
}

const sproutOf = ({ name, kind, source }: Ribbon): Sprout => ({
  kind,
  label: name,
  name,
  source,
  drawing: { view: 'ribbon', of: name },
});
