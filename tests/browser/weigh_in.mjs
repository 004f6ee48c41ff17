// Plays a day of a weigh-in in real browsers and tells what it saw, as JSON:
//   node weigh_in.mjs CHROMIUM PYTHON DAY.meeting PORT SHOTS CAR...
// It starts the pages, kills them in the middle, and starts them again.
import { axe, launched, pages, seen } from "./devices.mjs";

const [executablePath, python, day, port, shots, ...cars] = process.argv.slice(2);
const { base, start, ended, device, signOn } = pages(python, day, port);
const LOADS = { front_left: "155.0", front_right: "141.0", rear_left: "153.0", rear_right: "141.0" };
const browser = await launched(executablePath);

async function fill(page, loads) {
  for (const [wheel, load] of Object.entries(loads)) await page.fill(`input[name=${wheel}]`, load);
}

async function store(page) {
  await page.click("button.main:has-text('Store and judge')");
}

const verdict = (page) => page.waitForSelector(".huge");

const TABLET = { width: 1024, height: 768 };
const pin = await start();
const scales = await device(browser, TABLET, { hasTouch: true });
const gauges = await device(browser, { width: 768, height: 1024 }, { hasTouch: true });
const board = await device(browser, { width: 1920, height: 1080 });
await signOn(scales, "TB", pin("TB"));
await signOn(gauges, "KV", pin("KV"));
await board.goto(base);
await board.evaluate(() => { globalThis.sameDocument = true; });

// The pads are checked, then every car is weighed twice; the first by the large keys. Meanwhile the seals are read.
await scales.goto(`${base}/pads`);
for (const applied of ["0", "20"]) {
  await scales.fill("input[name=applied]", applied);
  await fill(scales, Object.fromEntries(Object.keys(LOADS).map((wheel) => [wheel, applied])));
  await scales.click("button.main:has-text('Store the check')");
  await scales.waitForFunction(() => document.getElementById("state").textContent.includes("on disk"));
}
const half = Math.ceil(cars.length / 2);
async function weighTwice(car, byKeys) {
  await scales.goto(`${base}/scales`);
  await scales.fill("input[name=car]", car);
  await scales.click("button.main");
  await scales.waitForSelector(".wheels");
  await scales.fill("input[name=fuel]", "6");
  if (byKeys) {
    await scales.click("input[name=front_left]");
    for (const load of Object.values(LOADS)) {
      for (const key of load) await scales.click(`.keypad button:text-is("${key}")`);
      await scales.click(".keypad button:text-is('Next')");
    }
  } else await fill(scales, LOADS);
  await store(scales);
  await verdict(scales);
  await scales.click("text=Next weighing");
  await scales.waitForSelector(".wheels");
  await fill(scales, LOADS);
  await store(scales);
  await scales.waitForFunction(() => document.body.textContent.includes("Weighing 2 of 2."));
}
async function readSeal(car) {
  await gauges.goto(`${base}/checks?car=${car}`);
  await gauges.click("form:has(input[value='seals.sump']) button:has-text('As it should be')");
  await gauges.waitForFunction(() => document.getElementById("state").textContent.includes("on disk"));
}
for (const [at, car] of cars.slice(0, half).entries()) await Promise.all([weighTwice(car, at === 0), readSeal(car)]);
await board.waitForFunction((number) => document.querySelectorAll(".at.met").length >= number, half, { timeout: 15000 });
seen.told.boardWentOnByItself = await board.evaluate(() => globalThis.sameDocument === true);

// What is typed while the pages are killed is kept, said, and stored once they are back; nobody signs on anew.
const next = cars[half];
await scales.goto(`${base}/scales?car=${next}`);
await scales.fill("input[name=fuel]", "6");
await fill(scales, LOADS);
await ended("SIGKILL");
await store(scales);
await scales.waitForFunction(() => document.getElementById("state").textContent.includes("NO CONNECTION"));
seen.told.kept = await scales.inputValue("input[name=front_left]");
await board.waitForSelector("#lost");
await scales.screenshot({ path: `${shots}/lost.png` });
await start();
await verdict(scales);
seen.told.afterTheCrash = await scales.textContent(".huge");
await board.waitForSelector("#lost", { state: "detached", timeout: 15000 });

// An answer that is lost on its way: the entry was stored, and the device sends it once more.
let lost = 0;
await scales.click("text=Next weighing");
await scales.waitForSelector(".wheels");
await fill(scales, LOADS);
await scales.route("**/scales", async (route) => {
  if (route.request().method() !== "POST" || lost) return route.continue();
  lost += 1;
  await route.fetch();
  return route.abort();
});
await store(scales);
await scales.waitForFunction(() => document.body.textContent.includes("Weighing 2 of 2."));
seen.told.answersLost = lost;
await scales.unroute("**/scales");

// The device goes out while it waits; when it is back it sends what was typed.
const last = cars[half + 1];
await scales.goto(`${base}/scales?car=${last}`);
await scales.fill("input[name=fuel]", "6");
await fill(scales, LOADS);
await scales.context().setOffline(true);
await store(scales);
await scales.waitForFunction(() => document.getElementById("state").textContent.includes("NO CONNECTION"));
await scales.evaluate(() => stop());
await scales.context().setOffline(false);
await scales.goto(`${base}/scales`);
await scales.waitForFunction(() => document.getElementById("state").textContent.includes("is stored"));

// What was typed and not sent is there again when the page is.
await gauges.goto(`${base}/scales?car=${cars[half + 2]}`);
await gauges.fill("input[name=rear_right]", "99.5");
await gauges.goto(base);
await gauges.goto(`${base}/scales?car=${cars[half + 2]}`);
seen.told.putBack = await gauges.inputValue("input[name=rear_right]");

// Every page: no wider than a phone or a tablet, and readable for everybody in both schemes.
await scales.goto(`${base}/cards`);
const slip = new URL(await scales.getAttribute(".cards a", "href")).pathname;
const paths = ["/", slip, "/sign-on", "/scales", `/scales?car=${cars.at(-1)}`, "/scales?corrects=ENTRY", "/scales/verdict?entry=ENTRY",
  `/checks?car=${cars[0]}`, "/pads", `/cars?car=${cars[0]}`, "/day", "/cards", `/scales/otherwise?car=${cars.at(-1)}`, "/scales/table",
  "/record", "/record/results", "/record/verification?quick=yes", "/record/merge", "/none"];
await scales.goto(`${base}/cars?car=${cars[0]}`);
const entry = await scales.evaluate(() => 
  [...document.querySelectorAll("select[name=struck] option")].find((one) => one.text.includes("weighed")).value);
const checked = await device(browser, TABLET, { bypassCSP: true });
await signOn(checked, "TB", pin("TB"));
for (const path of paths.map((one) => one.replace("ENTRY", entry))) {
  for (const width of [320, 820, 1024]) {
    await checked.setViewportSize({ width, height: 800 });
    const answer = await checked.goto(base + path);
    seen.told.answers = { ...seen.told.answers, [path]: answer.status() };
    for (const one of await checked.$$("summary")) await one.click();
    const across = await checked.evaluate(() => document.documentElement.scrollWidth);
    if (across > width) seen.wide.push(`${path}: ${across} at ${width}`);
    if (width !== 1024) await checked.screenshot({ path: `${shots}/${path.replace(/\W+/g, "-")}-${width}.png`, fullPage: true });
  }
  for (const colorScheme of ["light", "dark"]) {
    await checked.emulateMedia({ colorScheme });
    await checked.evaluate(axe);
    const found = await checked.evaluate(() => globalThis.axe.run(document));
    for (const one of found.violations) {
      const where = one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160));
      seen.axe.push(`${path} ${colorScheme}: ${one.impact} ${one.id}: ${where.join(" | ")}`);
    }
  }
}

// Cards and results are printed too; the code of a card is that of its slip.
await checked.emulateMedia({ colorScheme: "light" });
for (const name of ["cards", "record/results"]) {
  await checked.goto(`${base}/${name}`);
  await checked.pdf({ path: `${shots}/${name.replace("/", "-")}.pdf`, format: "A4", printBackground: true });
}
await checked.goto(`${base}/cards`);
await checked.setViewportSize({ width: 820, height: 1180 });
await checked.locator(".cards .qr").first().screenshot({ path: `${shots}/code.png` });
seen.told.card = await checked.getAttribute(".cards .qr", "href");

// Without script: forms are forms.
const plain = await device(browser, TABLET, { javaScriptEnabled: false });
await signOn(plain, "KV", pin("KV"));
await plain.goto(`${base}/scales?car=${cars[half + 2]}`);
await plain.fill("input[name=fuel]", "6");
await fill(plain, LOADS);
await store(plain);
await verdict(plain);
seen.told.withoutScript = await plain.textContent(".huge");
await plain.click("text=Sign off");
await plain.waitForURL(`${base}/`);

await browser.close();
seen.told.endedWith = await ended("SIGINT");
console.log(JSON.stringify(seen));
