// The notices of the libraries that are in the bundles: their licences ask that they go where the code goes.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const PACKAGE = /^(.*node_modules\/((?:@[^/]+\/)?[^/]+))\//;
const LICENCE = /^(?:licen[cs]e|copying|notice)(?:\.\w+)?$/i;

/**
 * The text of the notices, a package after the other. `metafiles` are esbuild's accounts of the bundles. Throws where a
 * package has no licence in it: then somebody has to look.
 */
export function noticesOf(metafiles) {
  const packages = new Map();
  for (const { outputs } of metafiles) {
    for (const { inputs } of Object.values(outputs)) {
      for (const [path, { bytesInOutput }] of Object.entries(inputs)) {
        const [, folder, name] = PACKAGE.exec(path) ?? [];
        if (name !== undefined && bytesInOutput > 0) packages.set(name, folder);
      }
    }
  }
  return [...packages]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, folder]) => notice(name, folder))
    .join('\n');
}

function notice(name, folder) {
  const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const file = readdirSync(folder).find((one) => LICENCE.test(one) && existsSync(join(folder, one)));
  if (file === undefined && manifest.license === undefined)
    throw new Error(`${name} says nothing of its licence`);
  const text = file === undefined ? `${manifest.license} licence` : readFileSync(join(folder, file), 'utf8');
  return `${name} ${manifest.version}\n\n${text.trim()}\n\n${'-'.repeat(72)}\n`;
}
