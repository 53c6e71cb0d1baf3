import type { Plug } from '../analysis/wrong-mating/plugs.ts';
import { isKeyed } from '../analysis/wrong-mating/vain-keys.ts';
import { wrongMatingOf } from '../analysis/wrong-mating/wrong-mating.ts';
import type { Connector, Instance, Source } from '../machine/types.ts';
import { isPublished } from '../machine/uses.ts';
import { keyOf } from './power.ts';
import type { Finding, Rule, View } from './types.ts';

/** Keys that keep nothing out: most often one in the middle, or two that lie alike when the plug is turned. */
export const keyPointless: Rule = {
  id: 'key-pointless',
  severity: 'warning',
  summary: 'a key prevents no wrong way to plug in that is possible',
  *check(view) {
    const told = new Set<string>();
    for (const plug of wrongMatingOf(view.machine).keyedInVain()) {
      const source = saidAt(view, plug);
      if (told.has(keyOf(source))) continue;
      told.add(keyOf(source));
      yield pointless(plug, source);
    }
  },
};

/** Where the key is said: of the connector, else of the port or slot, else of the edge. */
function saidAt({ machine }: View, plug: Plug): Source {
  const [{ pins, home, edge }] = plug.parts as [Plug['parts'][number]];
  const { connector } = pins;
  if (isKeyed(connector)) {
    if (!isPublished(connector.source.file)) return connector.source;
    return home?.slot?.backplane.source ?? machine.backplanes[0]?.source ?? connector.source;
  }
  if (edge && isKeyed(edge.pins)) return edge.port.source;
  return home?.slot?.described ?? home?.port.source ?? connector.source;
}

function pointless({ parts, name }: Plug, source: Source): Finding {
  const [{ pins, home }] = parts as [Plug['parts'][number]];
  const { connector } = pins;
  const places = spokenPlaces(connector, pins, home);
  return {
    rule: 'key-pointless',
    severity: 'warning',
    message: `the key of ${connector.name} at ${places} keeps nothing out: wherever the plug goes in straight, it goes in turned or shifted too`,
    source,
    path: [],
    fix: 'measure where the key really is; if it is there, put another one off the middle, on both halves',
    about: [connector.name, name, ...(home ? [home.path] : [])],
  };
}

function spokenPlaces({ labels }: Connector, pins: Instance['pins'], home: Instance | undefined): string {
  const keys = [...pins.keys, ...(home?.pins.keys ?? [])].map(([a, b]) => `${labels[a]}|${labels[b]}`);
  const contacts = [pins.pulled, pins.plugged].flatMap((set) => [...set].map((contact) => labels[contact]!));
  return [...new Set([...keys, ...contacts])].join(', ');
}
