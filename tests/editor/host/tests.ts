// All tests that run within the extension host, in this order. A feature adds its list here.
import { activation } from './activation.ts';
import type { HostTest } from './tools.ts';

export const hostTests: HostTest[] = [...activation];
