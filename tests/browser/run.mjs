// Runs one scenario in headless Chromium: `node run.mjs SCENARIO`, what it is given as JSON on standard input, what it
// found as JSON on standard output. A page may fetch nothing: every request but for files is refused and reported, as is
// every error on its console.

import { chromium } from "playwright-core";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const name = process.argv[2];
const given = JSON.parse(readFileSync(0, "utf8"));
const { scenario } = await import(`./scenarios/${name}.mjs`);

const browser = await chromium.launch({
  executablePath: given.chromium,
  args: [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
  ],
});

const complaints = [];

/** Opens a file in a page of its own, with the network off; `before` runs in it before its own script. */
async function open(file, { width = 1280, height = 900, hash = "", before = undefined, ...options } = {}) {
  const context = await browser.newContext({ viewport: { width, height }, offline: true, ...options });
  await context.route(/^(?!file:|blob:|data:)/, (route) => {
    complaints.push(`asks for ${route.request().url()}`);
    return route.abort();
  });
  if (before !== undefined) await context.addInitScript(before);
  const page = await context.newPage();
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) complaints.push(`console: ${message.text()}`);
  });
  page.on("pageerror", (error) => complaints.push(`error: ${error.stack ?? error}`));
  await page.goto(pathToFileURL(file).href + hash);
  return page;
}

/** What an accessibility library finds wrong with a page, a line each. */
async function barriers(page) {
  const axe = readFileSync(new URL("node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.flatMap((violation) =>
    violation.nodes.map((node) => `${violation.id}: ${violation.help}: ${node.html.slice(0, 200)}`),
  );
}

try {
  const found = await scenario({ open, barriers, given });
  process.stdout.write(JSON.stringify({ found: found ?? null, complaints }));
} finally {
  await browser.close();
}
