// A first own car by the link Next alone, and what a browser saw, as JSON: node first_car.mjs CHROMIUM FOLDER NEW
import { grave, judged, started } from "./browser.mjs";

const [executablePath, folder, fresh] = process.argv.slice(2);
const seen = { console: [], asked: [], typed: 0, axe: [], cut: {}, wide: {} };
const { browser, opened } = await started(executablePath, seen.console);
const MEASURED = {
  "weighing.fuel": "10", "weighing.driver": "out", "weighing.tyres": "dry", "fuel.density": "0.745", "fuel.capacity": "40",
  "driver.mass": "80", "engine.capacity": "1450", "wear.front_left": "0.3", "wear.front_right": "0.3",
  "wear.rear_left": "0.4", "wear.rear_right": "0.4",
  "tyres.dry.front.mass": "14", "tyres.dry.rear.mass": "15", "tyres.wet.front.mass": "14.2", "tyres.wet.rear.mass": "15.2",
};
const LOADS = { front_left: "160", front_right: "158", rear_left: "152", rear_right: "150" };

const page = await opened(fresh, { viewport: { width: 820, height: 1180 } });
await judged(page, () => page.fill('[name="car.number"]', "7"));
seen.typed += 1;
for (let turn = 0; turn < 40; turn++) {
  if (!await page.locator("#details .next-steps").count()) throw new Error(await page.innerText("#details"));
  const clause = (await page.locator("#details .next-steps strong").first().textContent()).trim();
  if (!/^3\.[12] /.test(clause)) break;
  const link = page.locator("#verdict a.next");
  const name = (await link.getAttribute("href")).slice(3);
  if (name !== "weighing.readings" && !(name in MEASURED)) throw new Error(`${clause} asks for ${name} after ${seen.asked}`);
  seen.asked.push(name);
  await link.click();
  const focused = await page.evaluate(() => document.activeElement.name);
  if (name === "weighing.readings") {
    if (focused !== "weighing.readings[0].front_left") throw new Error(`led to ${focused}`);
    for (const [wheel, load] of Object.entries(LOADS)) {
      await judged(page, () => page.fill(`[name="weighing.readings[0].${wheel}"]`, load));
      seen.typed += 1;
    }
    continue;
  }
  if (focused !== name) throw new Error(`${name} led to ${focused}`);
  const box = page.locator(`[name="${name}"]`);
  const isSelect = await box.evaluate((one) => one.tagName === "SELECT");
  await judged(page, () => (isSelect ? box.selectOption(MEASURED[name]) : box.fill(MEASURED[name])));
  seen.typed += 1;
}
await page.screenshot({ path: `${folder}/first-verdict.png` });
await Promise.all([page.waitForURL(/saved/), page.click("button.strong")]);
await page.context().close();

for (const [width, colorScheme] of [[1280, "dark"], [820, "light"], [320, "dark"]]) {
  const shown = await opened(fresh, { viewport: { width, height: 900 }, colorScheme, bypassCSP: true });
  seen.axe.push(...await grave(shown));
  await shown.evaluate(() => { for (const one of document.querySelectorAll(".section")) one.open = true; });
  seen.over = await shown.evaluate((width) => [...document.querySelectorAll("main *")]
    .filter((one) => one.offsetParent && one.getBoundingClientRect().right > width).map((one) => one.outerHTML.slice(0, 120)).slice(-4), width);
  seen.wide[width] = await shown.evaluate(() => document.documentElement.scrollWidth);
  seen.cut[width] = await shown.evaluate(() => [...document.querySelectorAll("label, legend, summary, button:not(.unseen), h2")]
    .filter((one) => one.offsetParent && one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== "inline")
    .map((one) => one.textContent));
  await shown.screenshot({ path: `${folder}/saved-${width}.png` });
  await shown.context().close();
}
await browser.close();
console.log(JSON.stringify(seen));
