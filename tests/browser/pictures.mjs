// README's pictures: parts of what the program itself made of the examples, kept small.
import { execFileSync } from "node:child_process";
import { statSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { withPage } from "./browser.mjs";

const MOST = 60_000;

const pictures = [
  { name: "map", file: "examples/attic-shelf/plan/report.html", part: ".rig-and-detail", width: 900, day: 118 },
  { name: "stays", file: "examples/mist-hill-towers/plan/report.html", part: ".stay-bank", width: 860, day: 150 },
  { name: "harvest", file: "examples/lantern-court/plan/report.html", part: ".want:nth-of-type(2)", width: 760, day: 150 },
];

for (const { name, file, part, width, day } of pictures) {
  await withPage({ colorScheme: "light", viewport: { width, height: 900 } }, async (page) => {
    await page.goto(pathToFileURL(resolve(file)).href);
    await page.evaluate((to) => {
      const slider = document.getElementById("day");
      slider.value = String(to);
      slider.dispatchEvent(new Event("input"));
      document.querySelector(".days").style.position = "static";
      document.querySelector("[data-hole='3']").dispatchEvent(new MouseEvent("click", { bubbles: true }));
    }, day);
    const element = page.locator(part).first();
    await element.scrollIntoViewIfNeeded();
    await page.waitForTimeout(500);
    const path = `examples/pictures/${name}.png`;
    await element.screenshot({ path });
    execFileSync("pngquant", ["32", "--strip", "--force", "--ext", ".png", path]);
    const { size } = statSync(path);
    console.log(`${path}: ${size} bytes`);
    if (size > MOST) throw new Error(`${path} is larger than ${MOST} bytes`);
  });
}
