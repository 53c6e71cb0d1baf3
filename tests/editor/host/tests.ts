// All tests that run within the extension host, in this order. A feature adds its list here.
import { activation } from './activation.ts';
import { codeActions } from './code-actions.ts';
import { completion } from './completion.ts';
import { findings } from './findings.ts';
import { formatting } from './formatting.ts';
import { navigation } from './navigation.ts';
import { reading } from './reading.ts';
import { rename } from './rename.ts';
import type { HostTest } from './tools.ts';

export const hostTests: HostTest[] = [
  ...activation,
  ...findings,
  ...completion,
  ...navigation,
  ...reading,
  ...rename,
  ...codeActions,
  ...formatting,
];
