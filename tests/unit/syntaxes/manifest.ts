import { readFileSync } from 'node:fs';

interface Setting {
  readonly type: string;
  readonly default?: unknown;
  readonly enum?: readonly string[];
  readonly description?: string;
  readonly markdownDescription?: string;
  readonly properties?: Readonly<Record<string, Setting>>;
}

/** What the tests read of package.json. */
export interface Manifest {
  readonly name: string;
  readonly publisher: string;
  readonly icon: string;
  readonly main: string;
  readonly browser: string;
  readonly bin: Readonly<Record<string, string>>;
  readonly activationEvents: readonly string[];
  readonly contributes: {
    readonly languages: readonly {
      readonly id: string;
      readonly firstLine: string;
      readonly configuration: string;
      readonly icon: Readonly<Record<string, string>>;
    }[];
    readonly grammars: readonly { readonly scopeName: string; readonly path: string }[];
    readonly snippets: readonly { readonly path: string }[];
    readonly commands: readonly {
      readonly command: string;
      readonly title: string;
      readonly category: string;
      readonly enablement?: string;
    }[];
    readonly menus: Readonly<
      Record<string, readonly { readonly command: string; readonly when?: string; readonly group?: string }[]>
    >;
    readonly keybindings?: readonly { readonly command: string }[];
    readonly configuration: { readonly properties: Readonly<Record<string, Setting>> };
    readonly configurationDefaults: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
    readonly semanticTokenTypes: readonly {
      readonly id: string;
      readonly superType: string;
      readonly description: string;
    }[];
    readonly semanticTokenModifiers: readonly { readonly id: string; readonly description: string }[];
    readonly semanticTokenScopes: readonly { readonly scopes: Readonly<Record<string, readonly string[]>> }[];
    readonly problemMatchers: readonly {
      readonly severity: string;
      readonly pattern: readonly (Readonly<Record<string, number>> & { readonly regexp: string })[];
    }[];
    readonly taskDefinitions: readonly {
      readonly type: string;
      readonly required: readonly string[];
      readonly properties: Readonly<Record<string, Setting>>;
    }[];
    readonly walkthroughs: readonly {
      readonly title: string;
      readonly icon: string;
      readonly steps: readonly {
        readonly id: string;
        readonly title: string;
        readonly description: string;
        readonly media: { readonly markdown?: string; readonly svg?: string; readonly altText?: string };
        readonly completionEvents: readonly string[];
      }[];
    }[];
  };
}

export const manifest = JSON.parse(readFileSync('package.json', 'utf8')) as Manifest;
