// Every form of a weigh-in is sent without a network, and goes on by itself once it is back:
//   node offline.mjs CHROMIUM PYTHON DAY.meeting PORT FORMS.json
// FORMS: a list of [action, page, fields, files], files by their field as paths.
import { readFileSync } from "node:fs";
import { ANSWERED, launched, pages, seen } from "./devices.mjs";

const [executablePath, python, day, port, forms] = process.argv.slice(2);
const { start, ended, device, signOn, filled } = pages(python, day, port);
const pin = await start();
const browser = await launched(executablePath);
const tablet = await device(browser, { width: 820, height: 1180 }, { hasTouch: true });
tablet.setDefaultTimeout(60000);
await signOn(tablet, "KV", pin("KV"));
seen.told = { said: {}, kept: {}, answered: {} };
for (const [action, page, typed, files] of JSON.parse(readFileSync(forms, "utf-8"))) {
  const { as_it_should: shortcut, ...fields } = typed;
  const form = await filled(tablet, page, action, { ...fields, ...files });
  await tablet.context().setOffline(true);
  await form.locator(shortcut ? "button[name=as_it_should]" : "button.main").first().click();
  await tablet.waitForFunction(() => document.getElementById("state").textContent.includes("NO CONNECTION"));
  seen.told.said[action] = await tablet.textContent("#state");
  seen.told.kept[action] = true;
  for (const [name, value] of Object.entries(fields)) {
    seen.told.kept[action] &&= await form.locator(`[name="${name}"]`).first().inputValue() === value;
  }
  await new Promise((done) => setTimeout(done, 3500)); // it tries again, in vain
  await tablet.context().setOffline(false);
  await tablet.waitForFunction(ANSWERED);
  seen.told.answered[action] = await tablet.evaluate(() =>
    document.querySelector("#state").textContent || document.querySelector(".huge").textContent);
}
await browser.close();
seen.told.endedWith = await ended("SIGINT");
console.log(JSON.stringify(seen));
