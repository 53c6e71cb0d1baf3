import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { languageRules } from '../../../src/checks/language.ts';
import { rules } from '../../../src/checks/rules.ts';
import { coloured } from '../../../syntaxes/grammar.ts';
import { manifest } from './manifest.ts';

const { contributes } = manifest;
const { commands, menus, configuration, walkthroughs } = contributes;
const declared = new Set(commands.map(({ command }) => command));
const steps = walkthroughs.flatMap((walkthrough) => walkthrough.steps);

/** Commands of the editor itself that the walkthrough leads to. */
const OF_THE_EDITOR = [
  'editor.action.formatDocument',
  'workbench.action.tasks.runTask',
  'workbench.actions.view.problems',
];

describe('commands', () => {
  test.each(commands.map((command) => [command.command, command] as const))(
    '%s has a category and a title in sentence case',
    (id, { title, category }) => {
      expect(id).toMatch(/^cardcage\.[a-z][A-Za-z]+$/);
      expect(category).toBe('Cardcage');
      expect(title).toMatch(/^[A-Z][a-z]*( [a-z]+)*…?$/);
    },
  );

  test('every menu, key and step of the walkthrough leads to one that is declared', () => {
    const inMenus = Object.values(menus).flatMap((items) => items.map(({ command }) => command));
    const onKeys = (contributes.keybindings ?? []).map(({ command }) => command);
    const inSteps = steps.flatMap((step) => [
      ...[...step.description.matchAll(/\(command:([\w.]+)\)/g)].map((found) => found[1] as string),
      ...step.completionEvents.flatMap((event) => /^onCommand:(.*)$/.exec(event)?.[1] ?? []),
    ]);
    expect(inSteps.length).toBeGreaterThan(0);
    for (const command of [...inMenus, ...onKeys, ...inSteps]) {
      if (!OF_THE_EDITOR.includes(command)) expect(declared).toContain(command);
    }
  });

  test('where one needs a pinout text, the palette shows it only there', () => {
    for (const { command, enablement } of commands.filter((one) => one.enablement !== undefined)) {
      expect(menus.commandPalette!.find((item) => item.command === command)?.when).toBe(enablement);
    }
  });

  test('in menus of every file, none appears on files of others', () => {
    for (const menu of ['editor/context', 'editor/title', 'explorer/context']) {
      for (const { command, when } of menus[menu]!) {
        expect(when, command).toMatch(/(editorLangId|resourceLangId) == pinout|resourceExtname == \.pinout/);
      }
    }
  });
});

describe('settings', () => {
  test.each(Object.entries(configuration.properties))(
    '%s is described and has a default of its type',
    (_, setting) => {
      expect(setting.description ?? setting.markdownDescription).toMatch(/\.$/);
      expect(typeof setting.default).toBe(setting.type);
    },
  );

  test('the severity of every rule can be set, under the summary that the rule gives', () => {
    const shown = configuration.properties['cardcage.severity']!.properties!;
    const known = [...rules, ...languageRules];
    expect(Object.keys(shown)).toEqual(known.map(({ id }) => id));
    for (const { id, summary, severity } of known) {
      const text = `${summary[0]!.toUpperCase()}${summary.slice(1)}. At worst: ${severity}.`;
      expect(shown[id]).toEqual({
        type: 'string',
        enum: ['error', 'warning', 'question', 'note', 'off'],
        markdownDescription: text,
      });
    }
  });

  test('README names each, and how to turn off what the extension turns on', () => {
    const readme = readFileSync('README.md', 'utf8');
    for (const name of Object.keys(configuration.properties)) expect(readme).toContain(`\`${name}\``);
    expect(readme).toContain('"[pinout]": { "editor.formatOnSave": false }');
  });

  test('a pinout text is formatted by this extension', () => {
    expect(contributes.configurationDefaults['[pinout]']!['editor.defaultFormatter']).toBe(
      `${manifest.publisher}.${manifest.name}`,
    );
  });
});

describe('kinds of names', () => {
  /** The token types that every editor of the language server protocol, 3.17, knows. */
  const STANDARD =
    'namespace type class enum interface struct typeParameter parameter variable property enumMember event function ' +
    'method macro keyword modifier comment string number regexp operator decorator';
  const { scopes } = contributes.semanticTokenScopes[0]!;

  test.each(contributes.semanticTokenTypes.map((type) => [type.id, type] as const))(
    '%s is a kind of a standard type, and themes without it colour it by its scope',
    (id, { superType, description }) => {
      expect(STANDARD.split(' ')).toContain(superType);
      expect(description).toMatch(/^[A-Z].*\.$/);
      const [own, common] = scopes[id]!;
      expect(own).toBe(`${common}${own!.slice(common!.length)}`);
      expect(own).toMatch(/\.pinout$/);
    },
  );

  test('no scope is given to a type that is not declared', () => {
    const known = [
      ...contributes.semanticTokenTypes.map(({ id }) => id),
      ...contributes.semanticTokenModifiers.map(({ id }) => `*.${id}`),
    ];
    expect(Object.keys(scopes).sort()).toEqual(known.sort());
  });
});

describe('files', () => {
  const named = [
    manifest.icon,
    ...contributes.languages.flatMap((language) => [language.configuration, ...Object.values(language.icon)]),
    ...contributes.grammars.map(({ path }) => path),
    ...contributes.snippets.map(({ path }) => path),
    ...walkthroughs.map(({ icon }) => icon),
    ...steps.map(({ media }) => (media.markdown ?? media.svg) as string),
  ].map((path) => path.replace(/^\.\//, ''));

  test.each([...new Set(named)])('%s exists', (path) => {
    expect(existsSync(path)).toBe(true);
  });

  test('the icon is a PNG of 128 by 128', () => {
    const png = readFileSync(manifest.icon);
    expect(png.subarray(1, 4).toString()).toBe('PNG');
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([128, 128]);
  });
});

test('the extension wakes for its language, its commands and its drawings alone', () => {
  expect(manifest.activationEvents).toEqual([
    ...contributes.taskDefinitions.map(({ type }) => `onTaskType:${type}`),
    'onWebviewPanel:cardcage.drawing',
  ]);
});

test('a text without a file name is known by its first line', () => {
  const [language] = contributes.languages;
  expect(new RegExp(language!.firstLine).test('pinout 1')).toBe(true);
  expect(new RegExp(language!.firstLine).test('pinouts 1')).toBe(false);
  expect(coloured).toContain('pinout');
});

test('a task says which file or folder it checks', () => {
  const [task] = contributes.taskDefinitions;
  for (const name of task!.required) expect(Object.keys(task!.properties)).toContain(name);
  for (const property of Object.values(task!.properties)) expect(property.description).toMatch(/\.$/);
});
