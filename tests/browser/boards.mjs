// Fifty boards open in real browser pages while cars are weighed: node boards.mjs CHROMIUM PYTHON DAY.meeting PORT BOARDS CAR...
// It tells in milliseconds how long each weighing took and how long after it was sent each board showed it, and the server's memory in KiB.
import { readFileSync } from "node:fs";
import { launched, pages, seen } from "./devices.mjs";

const [executablePath, python, day, port, boards, ...cars] = process.argv.slice(2);
const { base, start, ended, device, signOn, pid } = pages(python, day, port);
const LOADS = { front_left: "159.0", front_right: "147.5", rear_left: "148.5", rear_right: "141.0" };
const pin = await start();
const browser = await launched(executablePath);
const memory = () => Number(readFileSync(`/proc/${pid()}/status`, "utf-8").match(/VmRSS:\s+(\d+)/)[1]);

const scales = await device(browser, { width: 820, height: 1180 });
scales.setDefaultTimeout(120000);
await signOn(scales, "TB", pin("TB"));

async function weighed(car) {
  await scales.goto(`${base}/scales?car=${car}`);
  await scales.fill("input[name=fuel]", "6");
  for (const [wheel, load] of Object.entries(LOADS)) await scales.fill(`input[name=${wheel}]`, load);
  const began = Date.now();
  await scales.click("button.main:has-text('Store and judge')");
  await scales.waitForSelector(".huge, [role=alert]");
  const doubt = scales.locator("button[name=right]");
  if (await doubt.count()) await doubt.click();
  await scales.waitForSelector(".huge");
  return { took: Date.now() - began, began, entry: Number(new URL(scales.url()).searchParams.get("entry")) };
}

const half = cars.length / 2;
const alone = [];
for (const car of cars.slice(0, half)) alone.push((await weighed(car)).took);
const before = memory();

// Each board is a browser of its own to the server: pages of one browser share its few connections.
const open = [];
for (let at = 0; at < Number(boards); at += 1) {
  const page = await device(browser, { width: 640, height: 480 });
  page.setDefaultTimeout(120000);
  await page.goto(base);
  await page.evaluate(() => {
    globalThis.shownAt = {};
    const look = () => {
      const entry = Number(document.querySelector("footer").textContent.match(/entry (\d+)/)[1]);
      globalThis.shownAt[entry] ??= Date.now();
      globalThis.newest = entry;
    };
    new MutationObserver(look).observe(document.body, { childList: true, subtree: true });
    look();
  });
  open.push(page);
}

const together = [], late = [];
for (const car of cars.slice(half)) {
  const { took, began, entry } = await weighed(car);
  together.push(took);
  for (const page of open) {
    await page.waitForFunction((number) => globalThis.newest >= number, entry);
    late.push(await page.evaluate((number) =>
      Math.min(...Object.entries(globalThis.shownAt).filter(([one]) => Number(one) >= number).map(([, when]) => when)), entry) - began);
  }
}
Object.assign(seen.told, { alone, together, late, before, after: memory(), open: open.length });
await browser.close();
seen.told.endedWith = await ended("SIGINT");
console.log(JSON.stringify(seen));
