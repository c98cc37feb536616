// Starts `wallplate language-server` and lets the editor talk to it. Everything that is known of designs is in the program.

const { window, workspace, commands } = require('vscode');
const { LanguageClient } = require('vscode-languageclient/node');

/** Why the program did not start is said once, here, in words about the program; the client's own words go to the log only. */
class Client extends LanguageClient {
  error(message, data, show) {
    super.error(message, data, this.starting ? false : show);
  }
}

let client;

async function activate(context) {
  context.subscriptions.push(
    workspace.onDidChangeConfiguration(async (change) => {
      if (change.affectsConfiguration('wallplate.program')) {
        await deactivate();
        await start();
      }
    }),
  );
  await start();
}

async function start() {
  const program = workspace.getConfiguration('wallplate').get('program') || 'wallplate';
  // No transport is named: the client would add an argument that says what is the only way there is.
  const run = { command: program, args: ['language-server'] };
  client = new Client(
    'wallplate',
    'Wallplate',
    { run, debug: run },
    { documentSelector: [{ scheme: 'file', language: 'wallplate' }, { scheme: 'untitled', language: 'wallplate' }] },
  );
  client.starting = true;
  try {
    await client.start();
    client.starting = false;
  } catch (error) {
    client = undefined;
    // Not awaited: the colours of the file do not wait for an answer.
    void explain(program, String(error?.message ?? error));
  }
}

async function explain(program, reason) {
  const cause = reason.includes('ENOENT')
    ? `there is no program \`${program}\` where the editor looks`
    : `\`${program}\` does not start: ${reason}`;
  const [again, settings] = ['Try Again', 'Open Settings'];
  const chosen = await window.showErrorMessage(
    `Nothing is checked: ${cause}. Install wallplate, or say in the settings where it is. Colours and snippets work without it.`,
    again,
    settings,
  );
  if (chosen === again) await start();
  if (chosen === settings) await commands.executeCommand('workbench.action.openSettings', 'wallplate.program');
}

async function deactivate() {
  const stopped = client;
  client = undefined;
  await stopped?.stop();
}

module.exports = { activate, deactivate };
