export interface Serving {
  /** Folder of the web build. */
  editor: string;
  /** The first port to try; 0 for any free one. */
  port: number;
  /** What is opened. */
  folder: string;
  /** Defaults of settings. */
  settings?: Record<string, unknown>;
  /** More of the workbench's construction options. */
  page?: Record<string, unknown>;
  /** A bundle with `run()`, below the repository. */
  testsPath?: string;
  /** Folders of further extensions. */
  extensions?: string[];
}
export function serveEditor(serving: Serving): Promise<{ url: string; close: () => Promise<unknown> }>;
