// A real browser and what every script does in it.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(process.env.NODE_PATH + "/");
const { chromium } = require("playwright-core");
const args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];

export const axeSource = readFileSync(require.resolve("axe-core/axe.min.js"), "utf-8");

export const started = async (executablePath, said) => {
  const browser = await chromium.launch({ executablePath, args });
  const opened = async (address, options = {}) => {
    const context = await browser.newContext({ viewport: { width: 1366, height: 680 }, ...options });
    const page = await context.newPage();
    page.setDefaultTimeout(60000);
    page.on("console", (message) => said.push(message.text()));
    page.on("pageerror", (error) => said.push(String(error)));
    page.on("dialog", (dialog) => dialog.accept());
    await page.goto(address);
    return page;
  };
  return { browser, opened };
};

export const verdict = async (page) => (await page.textContent("#verdict strong")).trim();

export const judged = async (page, act) => {
  const answer = page.waitForResponse((one) => one.url().endsWith("/judge"));
  await act();
  await answer;
  await page.waitForFunction(() => !document.querySelector("#details.stale"));
};

export const grave = async (page, within = "body") => {
  await page.evaluate(axeSource);
  const found = await page.evaluate((within) => globalThis.axe.run(within), within);
  return found.violations.filter((one) => ["serious", "critical"].includes(one.impact))
    .map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => node.html.slice(0, 200)).join(" | ")}`);
};
