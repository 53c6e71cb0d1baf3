import { palette } from '../drawing/palette.ts';

const mixed = (share: number): string =>
  `color-mix(in srgb, var(--vscode-editor-foreground) ${share}%, var(--vscode-editor-background))`;

/** The palette of drawings in the colours of the editor's theme, which it changes by itself. */
export function useTheme(): void {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(
    palette({
      ink: 'var(--vscode-editor-foreground)',
      quiet: mixed(75),
      ground: 'var(--vscode-editor-background)',
      rule: mixed(35),
      band: mixed(6),
      copper: mixed(65),
      power: 'var(--vscode-charts-purple)',
      active: 'var(--vscode-charts-blue)',
      open: 'var(--vscode-charts-yellow)',
      error: 'var(--vscode-editorError-foreground)',
      warning: 'var(--vscode-editorWarning-foreground)',
      question: 'var(--vscode-editorInfo-foreground)',
      note: mixed(60),
    }),
  );
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
