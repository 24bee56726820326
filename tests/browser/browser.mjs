// A browser with an empty profile of its own, which reaches for nothing by itself.
import { mkdtempSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";

const require = createRequire(join(process.env.TOOLS, "node_modules", "/"));
const { chromium } = require("playwright-core");
export const axe = require("axe-core").source;

const FLAGS = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

/// Opens a page in a profile of its own and hands it to `use`.
export async function withPage(options, use) {
  const profile = mkdtempSync(join(tmpdir(), "steadyleaf-browser-"));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM,
    headless: true,
    args: FLAGS,
    reducedMotion: "reduce",
    ...options,
  });
  try {
    return await use(context.pages()[0] ?? (await context.newPage()), context);
  } finally {
    await context.close();
    rmSync(profile, { recursive: true, force: true });
  }
}
