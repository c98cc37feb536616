// The TextMate grammar run by the engine that Visual Studio Code uses.
//
// `node textmate.mjs FOLDER FILE…` with FOLDER the extension's: prints for each file where each token stands, in bytes,
// and its scopes from the innermost.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';

const [folder, ...files] = process.argv.slice(2);
const require = createRequire(join(resolve(folder), 'package.json'));
const textmate = require('vscode-textmate');
const oniguruma = require('vscode-oniguruma');

await oniguruma.loadWASM(readFileSync(require.resolve('vscode-oniguruma/release/onig.wasm')).buffer);
const path = join(folder, 'syntaxes/wallplate.tmLanguage.json');
const registry = new textmate.Registry({
  onigLib: Promise.resolve({
    createOnigScanner: (patterns) => new oniguruma.OnigScanner(patterns),
    createOnigString: (text) => new oniguruma.OnigString(text),
  }),
  loadGrammar: async () => textmate.parseRawGrammar(readFileSync(path, 'utf8'), path),
});
const grammar = await registry.loadGrammar('source.wallplate');

const found = {};
for (const file of files) {
  let stack = textmate.INITIAL;
  let at = 0;
  found[file] = [];
  for (const line of readFileSync(file, 'utf8').split('\n')) {
    const result = grammar.tokenizeLine(line, stack);
    stack = result.ruleStack;
    for (const token of result.tokens) {
      const from = at + Buffer.byteLength(line.slice(0, token.startIndex));
      const to = from + Buffer.byteLength(line.slice(token.startIndex, token.endIndex));
      const scopes = token.scopes.slice(1).map((scope) => scope.replace(/\.wallplate$/, ''));
      // A text and a comment are one thing, whatever stands in them.
      const whole = scopes.find((scope) => /^(string|comment)/.test(scope));
      found[file].push([from, to, whole ?? scopes.at(-1) ?? '']);
    }
    at += Buffer.byteLength(line) + 1;
  }
  if (stack.depth > 1) found[file].push([at, at, `left open: ${stack.depth}`]);
}
process.stdout.write(JSON.stringify(found));
