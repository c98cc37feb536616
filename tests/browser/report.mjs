// The report in a real browser, opened as a person opens it: by double click, from a file.
//
//   node tests/browser/report.mjs target/release/wallplate [FOLDER FOR PICTURES]
//
// Slider by mouse, keys and buttons, its numbers against `wallplate value`; every number of the findings against
// `wallplate check --format json`; no error, no request; accessibility in light and dark, wide and on a phone; print.

import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import assert from "node:assert/strict";
import { chromium } from "playwright-core";

const [named, pictures] = process.argv.slice(2);
const program = resolve(named);
const root = fileURLToPath(new URL("../..", import.meta.url));
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const folder = mkdtempSync(join(tmpdir(), "wallplate-report-"));
const run = (...args) => execFileSync(program, args, { cwd: root, encoding: "utf8", maxBuffer: 64 * 1024 * 1024, env: { ...process.env, SOURCE_DATE_EPOCH: "1798761600" } });
// Some commands end with status 1 because something fails: their output counts all the same.
const told = (...args) => { try { return run(...args); } catch (error) { if (error.status === 1) return error.stdout; throw error; } };

const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
});

/** Opens a report and watches what it does. */
async function open(file, options = {}) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const seen = { errors: [], requests: [] };
  page.on("console", message => { if (["error", "warning"].includes(message.type())) seen.errors.push(message.text()); });
  page.on("pageerror", error => seen.errors.push(String(error)));
  page.on("request", request => seen.requests.push(request.url()));
  const url = pathToFileURL(file).href;
  await page.goto(url);
  const close = async () => {
    assert.deepEqual(seen.errors, [], `${file}: nothing is complained of`);
    assert.deepEqual(seen.requests, [url], `${file}: nothing is fetched but the file itself`);
    await context.close();
  };
  return { page, close };
}

/** Contrast is asked once for each colour scheme, for it takes longer than all other rules and is the same at each width. */
async function accessible(page, what, contrast) {
  await page.evaluate(axe);
  const rules = { "color-contrast": { enabled: contrast } };
  const { violations } = await page.evaluate(rules => globalThis.axe.run(document, { resultTypes: ["violations"], rules }), rules);
  assert.deepEqual(violations.map(one => [one.id, one.nodes.length, one.nodes[0]?.html.slice(0, 160)]), [], `${what}: accessibility`);
}

/** What is read off at the place that the slider is set to. */
const readings = page => page.evaluate(() => {
  const box = document.querySelector("[data-roll]");
  const slider = box.querySelector("input");
  const texts = Object.fromEntries([...box.querySelectorAll("[data-reading]")].map(row => [`${row.closest("div:has(> h4)").querySelector("h4").textContent}: ${row.querySelector("dt").textContent}`, row.querySelector("dd").textContent]));
  return { at: Number(slider.value), spoken: slider.getAttribute("aria-valuetext"), shown: box.querySelector("output").textContent, texts };
});

async function rolls(page, design, expressions) {
  const slider = page.locator("[data-roll] input").first();
  const count = Number(await slider.getAttribute("max")) + 1;
  assert.ok(count > 50, "the slider has places to go to");
  const agree = async () => {
    const here = await readings(page);
    assert.equal(here.spoken, here.shown, "what is spoken is what is shown");
    const travel = here.shown.replace(/^about /, "");
    for (const [name, expression, applies] of expressions) {
      if (applies && !applies(here)) continue;
      const wanted = told("value", design, expression.replaceAll("TRAVEL", `(${travel})`)).trim().split("\n")[0];
      assert.equal(here.texts[name], wanted, `${design}: ${name} at ${here.shown}`);
    }
    return here;
  };
  await slider.focus();
  await page.keyboard.press("Home");
  assert.equal((await readings(page)).at, 0);
  await page.keyboard.press("ArrowRight");
  const one = await readings(page);
  assert.equal(one.at, 1, "an arrow key moves it by one place");
  for (let step = 0; step < 12; step++) await page.keyboard.press("ArrowRight");
  const keyed = await agree();
  assert.notEqual(keyed.shown, one.shown);
  await page.keyboard.press("End");
  assert.equal((await readings(page)).at, count - 1);
  // By mouse: taken at one end and pulled to the middle.
  await page.keyboard.press("Home");
  const box = await slider.boundingBox();
  await page.mouse.move(box.x + 8, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.5, box.y + box.height / 2, { steps: 8 });
  await page.mouse.up();
  const pulled = await agree();
  assert.ok(Math.abs(pulled.at - count / 2) < count * 0.06, `pulled to the middle: ${pulled.at} of ${count}`);
  // By its buttons: every place that has a name.
  for (const button of await page.locator("[data-roll] button").all()) {
    await button.click();
    const here = await readings(page);
    assert.equal(String(here.at), await button.getAttribute("data-place"));
  }
}

/** Each number of each finding, and how it stands. */
async function numbers(page, design) {
  const { results } = JSON.parse(told("check", design, "--format", "json"));
  const rows = await page.evaluate(() => [...document.querySelectorAll("table.used tbody tr")].map(row => ({
    key: `${row.dataset.rule} (${row.dataset.subjects})`,
    stands: row.className,
    numbers: [...row.querySelectorAll("data")].map(data => Number(data.value)),
    used: row.querySelector("td.bar .n")?.textContent ?? null,
  })));
  const by = new Map(rows.map(row => [row.key, row]));
  assert.equal(by.size, results.length, `${design}: every finding has its row`);
  for (const result of results) {
    const row = by.get(`${result.rule} (${result.subjects.join(", ")})`);
    assert.ok(row, `${design}: ${result.rule} of ${result.subjects}`);
    const accepted = result.accepted && !result.accepted.lapsed;
    assert.equal(row.stands, accepted ? "accepted" : result.verdict, row.key);
    const sides = result.demand && result.capacity ? [result.demand.si, result.capacity.si] : [];
    assert.deepEqual(row.numbers, sides, row.key);
    if (result.ratio === null) assert.equal(row.used, null, row.key);
    else assert.ok(Math.abs(parseFloat(row.used) - 100 * result.ratio) <= 0.5 + 1e-9, `${row.key}: ${row.used} for ${result.ratio}`);
  }
}

async function prints(page, name) {
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false, printBackground: true });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    assert.ok(pages >= 4 && pages <= 150, `${name} on ${format}: ${pages} pages`);
    if (pictures) writeFileSync(join(pictures, `${name}-${format}.pdf`), pdf);
    console.log(`   ${name}: ${pages} pages of ${format}`);
  }
}

const designs = {
  heron_fold: [
    ["On its way open, no wind: speed", "moment_at(run main_roof.opening, travel TRAVEL).speed", here => here.texts["On its way open, no wind: speed"] !== "–"],
    ["On its way open, no wind: pull of the drive", "moment_at(run main_roof.opening, travel TRAVEL).pull", here => here.texts["On its way open, no wind: speed"] !== "–"],
    ["On its way shut, no wind: speed", "moment_at(run main_roof.closing, travel TRAVEL).speed", here => here.texts["On its way shut, no wind: speed"] !== "–"],
    ["Wheels and beams: east plate sags", "beam_under_wheels(east_plate.line, TRAVEL).sag"],
    ["Wheels and beams: hardest of east wheels", "max(east_wheels.loads)"],
    ["Over the parked telescopes: main roof from reflector", "sweep(moving main_roof.underside, standing reflector.parked, from TRAVEL, until TRAVEL).gap"],
  ],
  sorrel_kettle: [],
};

try {
  await Promise.all(Object.entries(designs).map(async ([name, expressions]) => {
    const design = join("examples", `${name}.plate`);
    told("report", design, "--into", folder, "--date", "2027-01-01", "--revision", "A");
    const file = join(folder, `${name}.html`);
    const wide = await open(file, { viewport: { width: 1280, height: 900 } });
    await numbers(wide.page, design);
    await rolls(wide.page, design, expressions);
    await prints(wide.page, name);
    await wide.close();
    for (const colorScheme of ["light", "dark"]) {
      for (const [size, viewport] of [["wide", { width: 1280, height: 900 }], ["phone", { width: 390, height: 844 }]]) {
        const { page, close } = await open(file, { viewport, colorScheme });
        await accessible(page, `${name}, ${colorScheme}, ${size}`, size === "wide");
        const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        assert.ok(over <= 0, `${name}, ${size}: nothing sticks out to the side (${over} px)`);
        if (pictures) await page.screenshot({ path: join(pictures, `${name}-${colorScheme}-${size}.png`), fullPage: false });
        await close();
      }
    }
    console.log(`   ${name}: numbers, slider, print, accessibility`);
  }));
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
