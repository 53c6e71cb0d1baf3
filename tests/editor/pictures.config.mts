import { defineConfig } from 'vitest/config';
import editor from './vitest.config.mts';

/** npm run pictures: the same editor, but what it shows goes to README. */
export default defineConfig({ test: { ...editor.test, include: ['tests/editor/pictures.ts'] } });
