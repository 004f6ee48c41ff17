// Opens pages in a real browser and tells what it saw, as JSON: node browse.mjs CHROMIUM FOLDER PAGE...
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(process.env.NODE_PATH + "/");
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf-8");
const [executablePath, folder, ...names] = process.argv.slice(2);
const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];
// Words of tables, of a length that a column has room for, that stand on more than one line.
const brokenWords = () => [...document.querySelectorAll(".across th, .across td")].flatMap((cell) => {
  const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
  const found = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    for (const word of node.data.matchAll(/[A-Za-z]{2,12}/g)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const rows = new Set([...range.getClientRects()].map((one) => Math.round(one.top)));
      if (rows.size > 1) found.push(`${word[0]} at ${innerWidth}`);
    }
  }
  return found;
});
const browser = await chromium.launch({ executablePath, args });
const told = [];
for (const name of names) {
  const seen = { name, console: [], requests: [], wide: [], broken: [], axe: [] };
  for (const colorScheme of ["light", "dark"]) {
    const context = await browser.newContext({ colorScheme, bypassCSP: true, viewport: { width: 1366, height: 680 } });
    const page = await context.newPage();
    await page.goto(`file://${folder}/${name}`);
    await page.evaluate(axe);
    const found = await page.evaluate(() => globalThis.axe.run(document));
    for (const one of found.violations.filter((one) => ["serious", "critical"].includes(one.impact))) {
      const where = one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160));
      seen.axe.push(`${colorScheme}: ${one.id}: ${where.join(" | ")}`);
    }
    seen.contrasts = (seen.contrasts ?? 0) + found.passes.filter((one) => one.id === "color-contrast").length;
    await context.close();
  }
  const context = await browser.newContext({ javaScriptEnabled: true });
  const page = await context.newPage();
  page.on("console", (message) => seen.console.push(message.text()));
  page.on("pageerror", (error) => seen.console.push(String(error)));
  page.on("request", (request) => seen.requests.push(request.url()));
  for (const width of [320, 768, 1366]) {
    await page.setViewportSize({ width, height: 680 });
    await page.goto(`file://${folder}/${name}`);
    const across = await page.evaluate(() => document.documentElement.scrollWidth);
    if (across > width) seen.wide.push(`${across} at ${width}`);
    seen.broken.push(...await page.evaluate(brokenWords));
  }
  seen.below = await page.evaluate(() =>
    Object.fromEntries([...document.querySelectorAll(".verdict, .answers")].map(
      (one) => [one.className.split(" ")[0], one.getBoundingClientRect().bottom])));
  await page.pdf({ path: `${folder}/${name}.pdf`, preferCSSPageSize: true, format: "A4" });
  await page.pdf({ path: `${folder}/${name}.letter.pdf`, preferCSSPageSize: true, format: "Letter" });
  await page.emulateMedia({ media: "print" });
  await page.setViewportSize({ width: 688, height: 1017 });
  seen.rows = await page.evaluate(() => [...document.querySelectorAll("tr")]
    .filter((one) => one.checkVisibility() && one.innerText.length < 400).map((one) => one.innerText));
  seen.kept = await page.evaluate(() => [...document.querySelectorAll("tr, .clause, figure, .answers > div")]
    .filter((one) => getComputedStyle(one).breakInside !== "avoid").length);
  await context.close();
  told.push(seen);
}
await browser.close();
console.log(JSON.stringify(told));
