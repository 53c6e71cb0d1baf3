import { railConflict } from './rail-conflict.ts';
import type { Rule } from './types.ts';

/** Every rule, in the order of the sections of the manual. One rule, one file. */
export const rules: readonly Rule[] = [railConflict];
