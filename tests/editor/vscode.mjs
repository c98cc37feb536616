// A builder's first minutes in Visual Studio Code: its open-source editor with the extension in it, in a browser, typed into.
// tests/tools/vscode sets it up.
//
//   node tests/editor/vscode.mjs SERVER PROGRAM EXTENSION [FOLDER FOR PICTURES]
//
// Colours that follow a light and a dark theme; a line broken by typing, its message, the mend that is offered; hover, a name
// completed, a wall renamed; a check that fails and is mended; what is said where the program is missing; no error in a log.

import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { isDeepStrictEqual } from "node:util";
import assert from "node:assert/strict";

const [server, program, extension, pictures] = process.argv.slice(2).map(path => resolve(path));
const root = fileURLToPath(new URL("../..", import.meta.url));
const { chromium } = createRequire(join(root, "tests/browser/package.json"))("playwright-core");
const home = mkdtempSync(join(tmpdir(), "wallplate-vscode-"));
const folder = join(home, "designs");
const settings = join(home, "data/User/settings.json");
const machine = join(home, "data/Machine/settings.json");
for (const place of [folder, join(home, "bin"), dirname(settings), dirname(machine)]) mkdirSync(place, { recursive: true });
for (const design of ["heron_fold", "broken/stop_inside_the_coast"]) copyFileSync(join(root, `examples/${design}.plate`), join(folder, `${design.split("/").at(-1)}.plate`));
// As an installation leaves it: the login shell knows the path.
symlinkSync(program, join(home, "bin/wallplate"));
writeFileSync(join(home, ".profile"), `PATH="${home}/bin:$PATH"\n`);
writeFileSync(settings, JSON.stringify({
  "workbench.colorTheme": "Default Light Modern", "chat.disableAIFeatures": true, "workbench.startupEditor": "none", "git.enabled": false,
  "extensions.autoCheckUpdates": false, "telemetry.telemetryLevel": "off", "workbench.secondarySideBar.defaultVisibility": "hidden",
}));

const node = [join(server, "node_modules/code-server/out/node/entry.js"), "--user-data-dir", join(home, "data"), "--extensions-dir", join(home, "extensions"), "--config", join(home, "config.yaml")];
const env = { ...process.env, HOME: home, SHELL: "/bin/bash" };
execFileSync(process.execPath, [...node, "--install-extension", extension], { env, stdio: ["ignore", "ignore", "pipe"] });
const running = spawn(process.execPath, [...node, "--auth", "none", "--bind-addr", "127.0.0.1:0", "--disable-telemetry", "--disable-update-check", "--disable-workspace-trust"], { env, detached: true, stdio: ["ignore", "pipe", "ignore"] });
process.on("exit", () => {
  try { process.kill(-running.pid, "SIGKILL"); } catch { /* it has ended by itself */ }
  rmSync(home, { recursive: true, force: true, maxRetries: 5 });
});
const address = await new Promise((found, failed) => {
  running.on("exit", () => failed(new Error("the editor's server does not start")));
  running.stdout.on("data", text => { const said = /listening on (http:\S+)/.exec(text); if (said) found(said[1]); });
});

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--disable-gpu"] });
const page = await (await browser.newContext({ viewport: { width: 1400, height: 900 } })).newPage();
const complaints = [];
page.on("console", message => { if (message.type() === "error" && /wallplate/i.test(message.text())) complaints.push(message.text()); });

let shots = 0;
const picture = async name => { if (pictures) await page.screenshot({ path: join(pictures, `${++shots}_${name}.png`) }); };
const say = text => console.log(text);

/** Looks again until it is so; what it last was is in the failure. Asks first, where there is something to ask, and again every
 *  eight seconds, as anybody does whom a busy editor has not heard. */
async function until(what, read, holds, ask = async () => {}) {
  let last, asked = 0;
  for (const end = Date.now() + 40000; Date.now() < end; await page.waitForTimeout(50)) {
    if (Date.now() - asked > 8000) {
      await ask();
      asked = Date.now();
    }
    last = await read();
    if (typeof holds === "function" ? holds(last) : isDeepStrictEqual(last, holds)) return last;
  }
  await picture("failed");
  assert.fail(`waited in vain for ${what}; last seen: ${JSON.stringify(last).slice(0, 2000)}`);
}
const onDisk = file => readFileSync(join(folder, file), "utf8");
const lineOf = (file, text) => { const at = onDisk(file).split("\n").findIndex(line => line.includes(text)); assert(at >= 0, `no line with ${text}`); return at + 1; };
/** What the list of problems shows, each in one text. */
const problems = () => page.$$eval(".markers-panel .monaco-list-row", rows => rows.filter(row => row.ariaLevel !== "1").map(row => row.innerText.replace(/\s+/g, " ")));
async function open(file) {
  await page.locator(`.explorer-folders-view .monaco-list-row[aria-label*="${file}"]`).dblclick();
  await page.waitForSelector(`.tab.active[data-resource-name="${file}"]`);
  await page.click(".monaco-editor .view-lines");
}
async function goTo(line, column) {
  const there = async () => (await page.$eval('[id="status.editor.selection"]', item => item.innerText)).includes(`Ln ${line}, Col ${column}`);
  await until("the cursor", async () => {
    await page.keyboard.press("Control+G");
    await page.locator(".quick-input-widget input").fill(`:${line}:${column}`);
    await page.keyboard.press("Enter");
    await page.waitForTimeout(300);
    return there();
  }, true);
}
async function save(file, holds) {
  await page.keyboard.press("Control+S");
  return until(`${file} on disk`, () => onDisk(file), holds);
}
/** What a list of mends offers, the marked one first. */
async function mends() {
  const shown = () => page.$$eval(".action-widget .monaco-list-row.action", rows => rows.map(row => row.innerText.trim()));
  return until("the mends", shown, rows => rows.length > 0, () => page.keyboard.press("Control+."));
}
/** The colour of each word in the lines that are shown, and of what is behind them. */
const colours = () => page.evaluate(() => {
  const words = {};
  for (const span of document.querySelectorAll(".monaco-editor .view-line span span")) words[span.textContent.trim()] ??= getComputedStyle(span).color;
  return { words, behind: getComputedStyle(document.querySelector(".monaco-editor")).backgroundColor };
});
const light = colour => /\d+/g[Symbol.match](colour).slice(0, 3).reduce((sum, part) => sum + Number(part), 0) > 384;

const began = Date.now();
await page.goto(`${address.replace("0.0.0.0", "127.0.0.1")}?folder=${folder}`);
await page.waitForSelector(".explorer-folders-view .monaco-list-row", { timeout: 60000 });
await open("heron_fold.plate");
await page.keyboard.press("Control+Shift+M");
await page.click(".monaco-editor .view-lines");
const sound = onDisk("heron_fold.plate");

// What is written has its colours: by the grammar at once, by the server a little later.
await goTo(lineOf("heron_fold.plate", "observatory heron_fold"), 1);
const words = ["use", "rolls_open", "54", "observatory"];
const seen = await until("colours", colours, now => words.every(word => word in now.words));
const told = words.map(word => seen.words[word]);
assert.equal(new Set(told).size, words.length, `a word of the language, a property, a number and a kind differ: ${told}`);
assert(light(seen.behind), "a light theme");
await picture("light");
await page.keyboard.press("Control+K");
await page.keyboard.press("Control+T");
await page.locator(".quick-input-widget input").fill("Dark Modern");
await page.waitForTimeout(500);
await page.keyboard.press("Enter");
const dark = await until("the dark theme", colours, ({ behind }) => !light(behind));
await page.click(".monaco-editor .view-lines");
for (const [at, word] of words.entries()) {
  assert.notEqual(dark.words[word], told[at], `${word} follows the theme`);
  assert(light(dark.words[word]), `${word} can be read in the dark: ${dark.words[word]}`);
}
await picture("dark");
say(`colours: ${told.join(", ")} on ${seen.behind}; ${words.map(word => dark.words[word]).join(", ")} on ${dark.behind}`);

// A line is broken by typing; the message stands at it, and the mend that is offered mends it.
const broken = lineOf("heron_fold.plate", "enclosure          enclosed");
await goTo(broken, 4);
await page.keyboard.press("Delete");
const messages = await until("a message", problems, rows => rows.length > 0);
say(`message: ${messages[0]}`);
assert.match(messages[0], new RegExp(`a roof has no \\W*eclosure\\W.*Ln ${broken}, Col 3.*did you mean \\W*enclosure`));
await picture("broken");
assert.deepEqual(await mends(), ["write `enclosure`"]);
await picture("mend");
await page.keyboard.press("Enter");
await until("an empty list", problems, []);
await save("heron_fold.plate", sound);

// How much of a line is used stands at its end, unabridged.
const hints = await until("hints", () => page.$$eval(".monaco-editor .view-line span", all => all.map(one => one.innerText.replaceAll("\u00a0", " ")).filter(text => / of .* %\)/.test(text))), all => all.length > 0);
assert(!hints.some(text => text.includes("…")), `a hint is cut: ${hints}`);

// What a number is, over it.
await goTo(lineOf("heron_fold.plate", "operating_wind"), 5);
const over = () => page.$$eval(".monaco-hover .hover-contents", all => all.map(one => one.innerText).join(" "));
const hover = await until("a hover", over, text => text.includes("operating_wind"), async () => {
  await page.keyboard.press("Control+K");
  await page.keyboard.press("Control+I");
});
assert.match(hover, /9 m\/s/);
say(`hover: ${hover.replace(/\s+/g, " ").slice(0, 160)}`);
await picture("hover");
await page.keyboard.press("Escape");

// A new line: names of the kind are offered, with what they mean.
await goTo(lineOf("heron_fold.plate", "operating_wind"), 1);
await page.keyboard.press("End");
await page.keyboard.press("Enter");
await page.keyboard.type("expos");
const offered = await until("completion", () => page.$$eval(".suggest-widget.visible .monaco-list-row", rows => rows.map(row => row.ariaLabel)), rows => rows.length > 0);
say(`completion: ${offered.join(" | ").slice(0, 160)}`);
await picture("completion");
await page.keyboard.press("Escape");
await page.keyboard.press("Control+Shift+K");
await save("heron_fold.plate", sound);

// Renaming changes every place.
await goTo(lineOf("heron_fold.plate", "wall east_wall"), 7);
const box = () => page.$eval(".rename-box input", input => input.value).catch(() => "no box");
await until("the old name", box, "east_wall", () => page.keyboard.press("F2"));
await page.locator(".rename-box input").fill("long_wall");
await page.keyboard.press("Enter");
const renamed = sound.replaceAll("east_wall", "long_wall");
// The editor saves what a rename has touched by itself.
await until("the renamed wall on disk", () => onDisk("heron_fold.plate"), renamed);
await until("an empty list", problems, []);
say(`renamed in ${sound.split("east_wall").length - 1} places`);

// A check that fails: what is asked and given stands at its line, and the first mend that is offered settles it.
await open("stop_inside_the_coast.plate");
const failing = lineOf("stop_inside_the_coast.plate", "# fail: travel.open_sensor_margin");
const fails = await until("the failure", problems, rows => rows.some(row => row.startsWith("fail: ")));
assert.match(fails[0], new RegExp(`open_sensor trips 37 mm before open_stop.*travel.open_sensor_margin.*Ln ${failing}`));
await goTo(failing, 4);
await until("the hint", () => page.$eval(".monaco-editor .view-lines", lines => lines.innerText.replaceAll("\u00a0", " ")), text => text.includes("fail 51.53 mm of 37 mm (139 %)"));
await picture("fail");
const [first] = await mends();
assert.equal(first, "write `station 5.319 m`");
await picture("fail_mend");
await page.keyboard.press("Enter");
await until("no failure", problems, rows => rows.length > 0 && !rows.some(row => row.startsWith("fail: ")));
say(`mended: ${first}`);

// Nothing went wrong so far, by the editor's own word.
const logs = readdirSync(join(home, "data/logs"), { recursive: true }).filter(name => /remoteexthost\.log$|Wallplate\.log$/.test(name));
assert(logs.some(name => name.endsWith("remoteexthost.log")), "the extension host keeps a log");
for (const name of logs) {
  const wrong = readFileSync(join(home, "data/logs", name), "utf8").split("\n").filter(line => (/error/i.test(line) && (/wallplate/i.test(line) || name.endsWith("Wallplate.log"))));
  assert.deepEqual(wrong, [], name);
}
assert.deepEqual(complaints, []);

// Where the program is missing one message says so, and colours stay; once it is there the button is enough.
const late = join(home, "late/wallplate");
writeFileSync(machine, JSON.stringify({ "wallplate.program": late }));
await page.reload();
const notices = () => page.$$eval(".notifications-toasts .notification-list-item-message", all => all.map(one => one.innerText));
const [notice, ...more] = await until("a notice", notices, all => all.length > 0);
assert.match(notice, /there is no program `?\S+late\/wallplate`? where the editor looks/);
assert.deepEqual(more, []);
say(`without the program: ${notice}`);
await picture("missing");
mkdirSync(dirname(late));
symlinkSync(program, late);
await page.click(".notifications-toasts .monaco-button:has-text('Try Again')");
await open("stop_inside_the_coast.plate");
await until("the checker again", problems, rows => rows.some(row => row.startsWith("undetermined")));
await picture("again");

say(`PASSED in ${((Date.now() - began) / 1000).toFixed(0)} s`);
await browser.close();
process.exit(0);
