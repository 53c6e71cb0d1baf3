import { rules } from '../../checks/rules.ts';
import { thingHover } from '../hover.ts';
import { netHover } from '../hover-net.ts';
import type { Analysis } from '../project.ts';
import type { CompletionKind } from './candidate.ts';

/** What is offered, told as its hover tells it: Markdown; undefined where its one line says all. */
export function completionDetails(
  { machine, view }: Analysis,
  { kind, label }: { readonly kind: CompletionKind; readonly label: string },
): string | undefined {
  const name = label.replace(/^"|"$/g, '').split('..')[0]!;
  switch (kind) {
    case 'part':
    case 'family':
    case 'regulator':
      return thingHover(machine, 'part', name);
    case 'signal':
    case 'rail':
    case 'ground':
    case 'chain': {
      const carries = view.nets.views.filter(({ claims }) => claims.some(({ claim }) => claim.name === name));
      return carries.length === 0
        ? undefined
        : netHover(
            view,
            name,
            carries.map(({ net }) => net),
            [],
          );
    }
    case 'supply':
    case 'connector':
    case 'bus':
    case 'backplane':
    case 'card':
    case 'board':
    case 'ribbon':
    case 'cable':
      return thingHover(machine, kind, name);
    case 'rule':
      return rules.find(({ id }) => id === name)?.summary;
    default:
      return undefined;
  }
}
