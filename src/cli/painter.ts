import pc from 'picocolors';
import type { Paint } from '../reports/text.ts';

/** Colours for a terminal; for anything else, and where nobody wants them, none. */
export function painter(): Paint {
  const colors = pc.createColors(process.stdout.isTTY === true && process.env.NO_COLOR === undefined);
  const severity = { error: colors.red, warning: colors.yellow, question: colors.cyan, note: colors.blue };
  return {
    severity: (name, text) => severity[name](text),
    strong: colors.bold,
    faint: colors.dim,
  };
}
