// Runs in the extension host beside the extension and hands out the API, so that a test outside can arrange and ask.
// In a browser the test reaches the worker itself; on Node.js it sends its questions to the port that the environment names.
exports.activate = () => {
  globalThis.apiForTests = require('vscode');
  const port = globalThis.process?.env?.CARDCAGE_BRIDGE_PORT;
  if (port) listen(Number(port));
};

function listen(port) {
  // The name in a variable keeps bundlers and the web host from looking for it.
  const http = 'node:http';
  const answer = async (question) => {
    try {
      return { answer: await new Function('require', `return ${question}`)(require) };
    } catch (error) {
      return { error: String(error?.stack ?? error) };
    }
  };
  require(http)
    .createServer(async (request, response) => {
      const parts = [];
      for await (const part of request) parts.push(part);
      response.end(JSON.stringify(await answer(Buffer.concat(parts).toString())));
    })
    .listen(port, '127.0.0.1');
}
