import type { Plugin } from 'esbuild';

export const esbuildAssets: Plugin;
