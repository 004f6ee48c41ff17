// Devices in real browsers, and the pages that they use: what every day that is played has in common.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";
import { spawn } from "node:child_process";

const require = createRequire(process.env.NODE_PATH + "/");
const { chromium } = require("playwright-core");
const ARGS = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];
// Losing the network is said by the browser too, and is no fault of the page's.
const EXPECTED = /ERR_CONNECTION_REFUSED|ERR_INTERNET_DISCONNECTED|ERR_FAILED|ERR_CONNECTION_RESET|ERR_EMPTY_RESPONSE|ERR_INCOMPLETE_CHUNKED|status of 422/;

export const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf-8");
export const seen = { console: [], wide: [], axe: [], told: {}, outside: [] };

export const launched = (executablePath) => chromium.launch({ executablePath, args: ARGS });

// Whether a form was answered: taken, asked about, or refused.
export const ANSWERED = () => {
  const state = document.getElementById("state");
  const told = state?.textContent ?? "";
  return told.includes("on disk") || document.querySelector(".huge, [role=alert]")
    || (state?.classList.contains("fails") && !told.includes("NO CONNECTION"));
};

export function pages(python, day, port) {
  const base = `http://127.0.0.1:${port}`;
  let server = null;
  process.on("exit", () => server?.kill("SIGKILL"));

  async function start() {
    server = spawn(python, ["-m", "checker", "meeting", "pages", day, "--port", port], { stdio: ["ignore", "pipe", "pipe"] });
    let text = "";
    await new Promise((done, failed) => {
      server.stdout.on("data", (data) => { text += data; if (text.includes("Ctrl-C")) done(); });
      server.stderr.on("data", (data) => { seen.console.push(`server: ${data}`); });
      server.on("exit", (code) => failed(new Error(`the pages ended: ${code} ${text}`)));
    });
    return (initials) => text.match(new RegExp(`${initials}: PIN (\\d+)`))[1];
  }

  async function ended(signal) {
    const gone = new Promise((done) => { server.removeAllListeners("exit"); server.on("exit", (code) => done(code)); });
    server.kill(signal);
    return gone;
  }

  async function device(browser, size, options = {}) {
    const context = await browser.newContext({ viewport: size, ...options });
    const page = await context.newPage();
    page.on("console", (message) => {
      const { url } = message.location();
      if (!EXPECTED.test(message.text()) && !url.endsWith("/none")) seen.console.push(`${message.text()} ${url}`);
    });
    page.on("pageerror", (error) => seen.console.push(String(error)));
    page.on("request", (request) => { if (!request.url().startsWith(base)) seen.outside.push(request.url()); });
    return page;
  }

  async function signOn(page, initials, pin) {
    await page.goto(`${base}/sign-on`);
    await page.selectOption("select[name=initials]", initials);
    await page.fill("input[name=pin]", pin);
    await page.click("button.main");
    await page.waitForSelector(".bar");
  }

  // Who asks for a page while nothing listens asks again.
  async function go(page, address) {
    for (let left = 60; ; left -= 1) {
      try { return await page.goto(base + address); } catch (error) {
        if (!left || !/ERR_|interrupted/.test(error.message)) throw error;
        await new Promise((done) => setTimeout(done, 1000));
      }
    }
  }

  // One form as a hand fills it in.
  async function filled(page, address, action, fields, within = "") {
    await go(page, address);
    const form = page.locator(`form[action="${action}"]${within}`).first();
    const folded = page.locator("details:not([open])", { has: page.locator(`form[action="${action}"]`) });
    if (await folded.count()) await folded.first().locator("summary").click();
    for (const [name, value] of Object.entries(fields)) {
      const field = form.locator(`[name="${name}"]`);
      const kind = await field.first().evaluate((one) => one.type);
      if (kind === "file") await field.setInputFiles(value);
      else if (kind === "select-one") await field.selectOption(value);
      else if (kind === "checkbox") await field.setChecked(Boolean(value));
      else await field.fill(value);
    }
    return form;
  }

  return { base, start, ended, device, signOn, go, filled, pid: () => server.pid };
}
