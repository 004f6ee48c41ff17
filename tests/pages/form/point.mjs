// Places pointed at on the drawing, and what a browser saw, as JSON: node point.mjs CHROMIUM FOLDER SAMPLE NEW
import { grave, judged, started } from "./browser.mjs";

const [executablePath, folder, sample, fresh] = process.argv.slice(2);
const seen = { console: [], axe: [], places: {} };
const { browser, opened } = await started(executablePath, seen.console);

const place = async (page, name) => {
  const found = [];
  for (const key of ["behind_front_axle", "left_of_centre"])
    for (const more of ["", "|unit", "|key"]) found.push(await page.inputValue(`[name="${name}.${key}${more}"]`));
  return found.join(" ");
};
const unfolded = (page) => page.evaluate(() => {
  for (const one of document.querySelectorAll('[data-field="ballast"], [data-field="ballast"] details, [data-field="driver"], [data-field="dimensions"]'))
    one.open = true;
});
const spot = (page, along, left) => page.evaluate(([along, left]) => {
  const sheet = document.getElementById("sheet");
  const svg = sheet.querySelector("svg");
  const { perMm, front, middle } = sheet.dataset;
  const point = new DOMPoint(Number(middle) - left * perMm, Number(front) + along * perMm).matrixTransform(svg.getScreenCTM());
  return [point.x, point.y];
}, [along, left]);

for (const [width, colorScheme] of [[1280, "light"], [820, "dark"], [320, "light"]]) {
  const page = await opened(sample, { viewport: { width, height: 900 }, colorScheme, hasTouch: true, bypassCSP: true });
  await unfolded(page);
  const name = "ballast[0].at";
  await page.click(`button.point[data-place="${name}"]`);
  await page.locator("#sheet").scrollIntoViewIfNeeded();
  const steps = [await place(page, name)];
  const [x, y] = await spot(page, 1000, -400);
  await judged(page, () => page.touchscreen.tap(x, y));
  steps.push(await place(page, name));
  await judged(page, () => page.keyboard.press("ArrowDown"));
  await judged(page, () => page.keyboard.press("Shift+ArrowLeft"));
  steps.push(await place(page, name));
  await page.screenshot({ path: `${folder}/pointed-${width}-${colorScheme}.png` });
  await judged(page, () => page.click('#drawing button[data-same="fuel.at"]'));
  steps.push(await place(page, name));
  seen.pointed = (await page.textContent("#pointed")).trim();
  seen.places[width] = steps;
  seen.axe.push(...await grave(page, "#drawing"));
  if (width === 320) seen.wide = await page.evaluate(() => document.documentElement.scrollWidth);
  if (width === 1280) {
    await page.click('button[value="remove ballast 1"]');
    await page.waitForFunction(() => !document.querySelector('[name="ballast[1].label"]'));
    await page.click(`button.point[data-place="${name}"]`);
    seen.again = await page.locator(`fieldset[data-field="${name}"] #sheet svg .pointed`).count();
    await page.keyboard.press("Escape");
    seen.away = await page.locator(`fieldset[data-field="${name}"] #sheet`).count();
    seen.back = await page.evaluate(() => document.activeElement.dataset.place);
  }
  await page.click('button[value="discard"]');
  await page.context().close();
}

// a car of which nothing is known has nothing to draw to scale, until it has
const page = await opened(fresh, { viewport: { width: 1280, height: 900 } });
await unfolded(page);
await page.click('button.point[data-place="driver.at"]');
seen.needs = (await page.textContent("#places")).trim().replace(/\s+/g, " ");
await judged(page, () => page.fill('[name="dimensions.wheelbase_left"]', "2200"));
await judged(page, () => page.fill('[name="dimensions.wheelbase_right"]', "2200"));
await page.selectOption('[name="driver.at.behind_front_axle|key"]', "ahead_of_rear_axle");
await page.selectOption('[name="driver.at.left_of_centre|unit"]', "in");
await page.locator("#sheet").scrollIntoViewIfNeeded();
const [x, y] = await spot(page, 1300, 254);
await judged(page, () => page.mouse.click(x, y));
seen.other = await place(page, "driver.at");
await page.screenshot({ path: `${folder}/pointed-new.png` });
await page.context().close();

const plain = await opened(sample, { javaScriptEnabled: false });
seen.plain = await plain.locator(".point:visible, #drawing:visible").count();
await browser.close();
console.log(JSON.stringify(seen));
