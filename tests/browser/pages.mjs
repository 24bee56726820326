// Do the pages work in a browser? For the report and a sheet of every example: no message in the
// console, no request but for the file itself, no violation found by axe-core in light and dark,
// nothing wider than the screen of a phone; for reports, the map shows on several days what
// plan.json says; for sheets, a page of paper in A4 and in Letter, or two in the few
// fullest weeks.
import assert from "node:assert/strict";
import { existsSync, readFileSync, readdirSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { axe, withPage } from "./browser.mjs";

const DAY = 86400000;
const EXAMPLES = readdirSync("examples", { withFileTypes: true })
  .filter((entry) => existsSync(`examples/${entry.name}/plan/plan.json`))
  .map((entry) => `examples/${entry.name}/plan`);
assert.ok(EXAMPLES.length >= 4, "plan the examples first");

const date = (start, day) => new Date(Date.parse(start) + day * DAY).toISOString().slice(0, 10);

/// Opens a file and sees that it is quiet: no message, and no request but for itself.
async function open(page, file) {
  const url = pathToFileURL(resolve(file)).href;
  const heard = [];
  page.removeAllListeners();
  page.on("console", (message) => heard.push(`console: ${message.text()}`));
  page.on("pageerror", (error) => heard.push(`error: ${error.message}`));
  page.on("request", (request) => {
    if (request.url() !== url) heard.push(`request: ${request.url()}`);
  });
  page.on("dialog", (dialog) => {
    heard.push(`dialog: ${dialog.message()}`);
    dialog.dismiss();
  });
  await page.goto(url);
  return heard;
}

async function violations(page) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.map((v) => `${v.id}: ${v.help} (${v.nodes.map((n) => n.target).join("; ")})`);
}

const slideTo = (page, day) => page.evaluate((to) => {
  const slider = document.getElementById("day");
  slider.value = String(to);
  slider.dispatchEvent(new Event("input"));
}, day);

/// What the map shows: hole to letters, for every hole with a plant.
const shown = (page) => page.evaluate(() => {
  const data = JSON.parse(document.getElementById("plan-data").textContent);
  const plants = {};
  for (const group of document.querySelectorAll("[data-hole]")) {
    const letters = group.querySelector(".code").textContent;
    const radius = Number(group.querySelector(".leaf").getAttribute("r"));
    if ((letters !== "") !== (radius > 0)) throw new Error("letters without a plant");
    if (letters !== "") plants[data.holes[group.dataset.hole]] = letters;
  }
  return plants;
});

/// What plan.json says: hole to crop. On a day of change it is the plant that leaves.
function planned(plan, on) {
  const plants = {};
  for (const stay of plan.stays) {
    if (stay.transplant > on || stay.removal < on) continue;
    const other = plants[stay.hole];
    if (!other || stay.transplant < other.transplant) plants[stay.hole] = stay;
  }
  return plants;
}

async function mapShowsThePlan(page, plan) {
  const days = Math.round((Date.parse(plan.last) - Date.parse(plan.start)) / DAY) + 1;
  const letters = new Map();
  let plants = 0;
  for (const share of [0, 0.17, 0.4, 0.63, 0.86, 1]) {
    const day = Math.round((days - 1) * share);
    await slideTo(page, day);
    const on = date(plan.start, day);
    assert.equal(await page.inputValue("#date"), on);
    const [seen, said] = [await shown(page), planned(plan, on)];
    assert.deepEqual(Object.keys(seen).sort(), Object.keys(said).sort(), `holes on ${on}`);
    for (const [hole, stay] of Object.entries(said)) {
      const known = letters.get(stay.crop) ?? seen[hole];
      assert.equal(seen[hole], known, `${hole} on ${on}`);
      letters.set(stay.crop, known);
      plants += 1;
    }
  }
  assert.equal(new Set(letters.values()).size, letters.size, "each crop has letters of its own");
  assert.ok(plants > 20);
}

/// Keys, buttons and touch.
async function controlsWork(page, plan) {
  const day = async () => Number(await page.inputValue("#day"));
  await slideTo(page, 30);
  await page.focus("#day");
  await page.keyboard.press("ArrowRight");
  assert.equal(await day(), 31);
  await page.keyboard.press("PageUp");
  assert.equal(await day(), 38);
  await page.click("[data-step='-7']");
  assert.equal(await day(), 31);
  await page.fill("#date", date(plan.start, 100));
  assert.equal(await day(), 100);
  await page.click("#play");
  await page.waitForFunction(() => Number(document.getElementById("day").value) > 100);
  await page.click("#play");
  assert.equal(await page.getAttribute("#play", "aria-pressed"), "false");

  const first = page.locator("[data-hole='0']");
  await first.locator(".hit").click();
  const name = await page.locator("#detail h3").textContent();
  assert.ok((await first.getAttribute("aria-label")).startsWith(name));
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowLeft");
  assert.equal(await page.evaluate(() => document.activeElement.hasAttribute("data-hole")), true);

  await page.locator("svg.stays").first().scrollIntoViewIfNeeded();
  await page.waitForFunction(() => document.querySelector("svg.stays .stay"));
  await page.click("#stays-table summary");
  await page.waitForSelector("#stays-table tbody tr");
  assert.equal(await page.locator("#stays-table tbody tr").count(), plan.stays.length);
}

/// Ticks last where the browser keeps anything for a file.
async function ticksLast(page, file) {
  const box = page.locator(".week[open] input[type=checkbox]").first();
  await box.check();
  const id = await box.getAttribute("id");
  const keeps = await page.evaluate(() => {
    try { return localStorage.length > 0; } catch { return false; }
  });
  await open(page, file);
  assert.equal(await page.locator(`#${id}`).isChecked(), keeps);
}

async function report(page, folder) {
  const file = `${folder}/report.html`;
  const plan = JSON.parse(readFileSync(`${folder}/plan.json`, "utf8"));
  const heard = await open(page, file);
  await mapShowsThePlan(page, plan);
  await controlsWork(page, plan);
  assert.deepEqual(await violations(page), [], file);
  assert.deepEqual(heard, [], file);
  await ticksLast(page, file);
}

const sheets = new Set();
/// Those of weeks with more work than a page takes.
const full = new Set();

async function sheet(page, file) {
  const heard = await open(page, file);
  sheets.add(file);
  assert.deepEqual(await violations(page), [], file);
  for (const format of ["A4", "Letter"]) {
    const paper = (await page.pdf({ format })).toString("latin1");
    const pages = paper.match(/\/Type\s*\/Page\b/g).length;
    assert.ok(pages <= 2, `${file} on ${format}: ${pages} pages`);
    if (pages > 1) full.add(file);
  }
  assert.deepEqual(heard, [], file);
}

async function fitsAPhone(page, file) {
  await open(page, file);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(over <= 0, `${file} is ${over} px wider than a phone`);
}

/// A thousand holes: a step of the slider, drawn, within 100 ms (the middle of thirty).
async function thousandHoles(page) {
  const file = "target/tmp/thousand-holes.html";
  assert.ok(statSync(file).size < 4_000_000);
  const heard = await open(page, file);
  const times = await page.evaluate(async () => {
    const slider = document.getElementById("day");
    const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
    const times = [];
    for (let day = 100; day < 130; day++) {
      await frame();
      const begin = performance.now();
      slider.value = String(day);
      slider.dispatchEvent(new Event("input"));
      await frame();
      times.push(performance.now() - begin);
    }
    return times.sort((a, b) => a - b);
  });
  const [middle, worst] = [times[15], times[29]].map((ms) => ms.toFixed(0));
  console.log(`a thousand holes: a step takes ${middle} ms, at worst ${worst} ms`);
  assert.ok(times[15] < 100, `a step takes ${middle} ms`);
  assert.deepEqual(heard, [], file);
}

for (const colorScheme of ["light", "dark"]) {
  await withPage({ colorScheme, viewport: { width: 1366, height: 850 } }, async (page) => {
    for (const folder of EXAMPLES) {
      await report(page, folder);
      const made = readdirSync(folder).filter((file) => file.startsWith("sheet-"));
      assert.ok(made.length > 0, `make a sheet in ${folder} first`);
      for (const file of made) await sheet(page, `${folder}/${file}`);
      console.log(`${folder}: well, ${colorScheme}`);
    }
  });
}
console.log(`${full.size} of ${sheets.size} sheets take two pages`);
assert.ok(full.size * 4 <= sheets.size, [...full].join(" "));
await withPage({ viewport: { width: 360, height: 740 } }, async (page) => {
  for (const folder of EXAMPLES) await fitsAPhone(page, `${folder}/report.html`);
  console.log("all fit a phone");
});
await withPage({ viewport: { width: 1366, height: 850 } }, thousandHoles);
