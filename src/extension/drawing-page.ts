import * as vscode from 'vscode';

/**
 * The page that a drawing is shown in: an empty body, one script and one style sheet of our own. Nothing else may run,
 * load or style; the pictures that are saved as PNG are painted from data of the page itself.
 */
export function drawingPage(webview: vscode.Webview, extensionUri: vscode.Uri): string {
  const [script, style] = ['page.js', 'page.css'].map((file) =>
    webview.asWebviewUri(vscode.Uri.joinPath(extensionUri, 'dist', file)),
  );
  const nonce = crypto.randomUUID();
  const policy = [
    "default-src 'none'",
    `script-src 'nonce-${nonce}'`,
    `style-src ${webview.cspSource} 'nonce-${nonce}'`,
    `font-src ${webview.cspSource}`,
    'img-src data:',
  ].join('; ');
  return `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta property="csp-nonce" content="${nonce}">
<title>Cardcage drawing</title>
<link rel="stylesheet" nonce="${nonce}" href="${style}">
</head>
<body>
<script nonce="${nonce}" src="${script}"></script>
</body>
</html>`;
}

/** What a page of ours may reach. */
export const pageOptions = (extensionUri: vscode.Uri): vscode.WebviewOptions => ({
  enableScripts: true,
  enableForms: false,
  localResourceRoots: [vscode.Uri.joinPath(extensionUri, 'dist')],
});
