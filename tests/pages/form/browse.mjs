// A new car from nothing in a real browser, and what it saw, as JSON: node browse.mjs CHROMIUM FOLDER NEW SAMPLE
import { axeSource, judged, started, verdict } from "./browser.mjs";

const [executablePath, folder, fresh, sample] = process.argv.slice(2);
const seen = { console: [], verdicts: [], wide: [], axe: [] };
const { browser, opened } = await started(executablePath, seen.console);

// from nothing to a verdict, as told in the README
const page = await opened(fresh);
seen.verdicts.push(await verdict(page));
await page.fill('[name="car.number"]', "7");
for (const wheel of ["front_left", "front_right", "rear_left", "rear_right"])
  await page.fill(`[name="weighing.readings[0].${wheel}"]`, "150");
await judged(page, () => page.fill('[name="weighing.fuel"]', "6 hp"));
seen.wrong = await page.textContent('[data-field="weighing.fuel"] .remark.wrong');
seen.invalid = await page.getAttribute('[name="weighing.fuel"]', "aria-invalid");
await page.screenshot({ path: `${folder}/wrong.png` });
await page.selectOption('[name="weighing.driver"]', "out");
await page.selectOption('[name="weighing.tyres"]', "dry");
await judged(page, () => page.fill('[name="weighing.fuel"]', "6"));
seen.cured = await page.locator('[data-field="weighing.fuel"] .remark').count();
await page.click('#details a[href="#f-fuel.density"]');
seen.focused = await page.evaluate(() => document.activeElement.name);
await page.locator('[data-field="ballast"] summary').first().click();
await page.click('button[value="add ballast"]');
await page.waitForSelector('[name="ballast[0].label"]');
seen.added = await page.evaluate(() => document.activeElement.name);
await judged(page, () => page.fill('[name="ballast[0].label"]', "B1"));
await page.locator('[data-field="components"] summary').first().click();
await page.click('button[value="add components"]');
await page.waitForSelector('[name="components[0].name"]');
await judged(page, () => page.fill('[name="components[0].name"]', "seat"));
await page.click('button[value="more components[0]"]');
await page.waitForSelector('[name="components[0].made"]');
await judged(page, () => page.fill('[name="components[0].made"]', "2025-03"));
seen.state = (await page.textContent("#state")).trim();
await Promise.all([page.waitForURL(/saved/), page.click("button.strong")]);
seen.saved = (await page.textContent("#notice")).trim();
await page.context().close();

// a car that is there, changed and judged, in both schemes and three widths
for (const colorScheme of ["light", "dark"]) {
  const other = await opened(sample, { colorScheme, bypassCSP: true });
  await other.evaluate(() => {
    for (const name of ["fuel", "noise", "ballast", "ballast[0]", "components", "components[1]"])
      document.querySelector(`details[data-field="${name}"]`).open = true;
  });
  await other.evaluate(axeSource);
  const found = await other.evaluate(() => globalThis.axe.run(document));
  for (const one of found.violations.filter((one) => ["serious", "critical"].includes(one.impact)))
    seen.axe.push(`${colorScheme}: ${one.id}: ${one.nodes.slice(0, 3).map((node) => node.html.slice(0, 200)).join(" | ")}`);
  seen.contrasts = (seen.contrasts ?? 0) + found.passes.filter((one) => one.id === "color-contrast").length;
  await other.context().close();
}
const wide = await opened(sample);
for (const width of [320, 768, 1366]) {
  await wide.setViewportSize({ width, height: 680 });
  for (const open of [false, true]) {
    await wide.evaluate((open) => { for (const one of document.querySelectorAll("details")) one.open = open; }, open);
    const across = await wide.evaluate(() => document.documentElement.scrollWidth);
    if (across > width) seen.wide.push(`${across} at ${width}`);
  }
  await wide.screenshot({ path: `${folder}/wide-${width}.png` });
}
await wide.setViewportSize({ width: 1366, height: 680 });
seen.verdicts.push(await verdict(wide));
await judged(wide, () => wide.fill('[name="fuel.unusable"]', "7"));
seen.verdicts.push(await verdict(wide));
const [report] = await Promise.all([wide.context().waitForEvent("page"), wide.click('button[formaction="/conditions"]')]);
await report.waitForLoadState();
seen.report = await report.title();
await wide.context().close();

// the same with script off
const plain = await opened(sample, { javaScriptEnabled: false });
await plain.fill('[name="car.name"]', "Without script");
await plain.locator('[data-field="fuel"] summary').first().click();
await plain.fill('[name="fuel.unusable"]', "0");
await plain.click("noscript button");
await plain.waitForLoadState();
seen.verdicts.push(await verdict(plain));
seen.kept = await plain.inputValue('[name="car.name"]');
await plain.locator('[data-field="ballast"] summary').first().click();
await plain.click('button[value="add ballast"]');
await plain.waitForLoadState();
seen.without = await plain.locator('[name="ballast[2].label"]').count();
await plain.context().close();
await browser.close();
console.log(JSON.stringify(seen));
