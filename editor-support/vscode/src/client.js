// Starts `wallplate language-server` and lets the editor talk to it. Everything that is known of designs is in the program.

const { window, workspace, commands } = require('vscode');
const { LanguageClient } = require('vscode-languageclient/node');

let client;

async function activate(context) {
  await start();
  context.subscriptions.push(
    workspace.onDidChangeConfiguration(async (change) => {
      if (change.affectsConfiguration('wallplate.program')) {
        await deactivate();
        await start();
      }
    }),
  );
}

async function start() {
  const program = workspace.getConfiguration('wallplate').get('program') || 'wallplate';
  // No transport is named: the client would add an argument that says what is the only way there is.
  const run = { command: program, args: ['language-server'] };
  client = new LanguageClient(
    'wallplate',
    'Wallplate',
    { run, debug: run },
    { documentSelector: [{ scheme: 'file', language: 'wallplate' }, { scheme: 'untitled', language: 'wallplate' }] },
  );
  try {
    await client.start();
  } catch (error) {
    client = undefined;
    const settings = 'Open Settings';
    const chosen = await window.showErrorMessage(
      `Wallplate cannot be started (${error.message}). Install it, or say in the settings where it is. Colours and snippets work without it.`,
      settings,
    );
    if (chosen === settings) await commands.executeCommand('workbench.action.openSettings', 'wallplate.program');
  }
}

async function deactivate() {
  const stopped = client;
  client = undefined;
  await stopped?.stop();
}

module.exports = { activate, deactivate };
