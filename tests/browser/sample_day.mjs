// Plays the sample day at two tablets, wholly by pages, and tells what became of it, as JSON:
//   node sample_day.mjs CHROMIUM PYTHON DAY.meeting PORT FOLDER STEPS.json SAMPLE
// Two officials work at once; the pages are killed twice on the way, once with forms filled in, once with forms sent.
import { readFileSync } from "node:fs";
import { ANSWERED, launched, pages, seen } from "./devices.mjs";

const [executablePath, python, day, port, folder, steps, sample] = process.argv.slice(2);
const { base, start, ended, device, signOn, go, filled } = pages(python, day, port);
const TABLET = { width: 820, height: 1180 };
const WHEELS = ["front_left", "front_right", "rear_left", "rear_right"];
const TOGETHER = new Set(["seen", "measure", "gauge", "weigh", "judge"]);
const SAID = { stand: "uphold", reject: "exclude", allow: "allow" };

const pin = await start();
const browsers = [await launched(executablePath), await launched(executablePath)];
const tablets = {};
for (const [at, initials] of ["KV", "TB"].entries()) {
  tablets[initials] = await device(browsers[at], TABLET, { hasTouch: true });
  tablets[initials].setDefaultTimeout(60000);
  await signOn(tablets[initials], initials, pin(initials));
}

// -- one form, as a hand sends it ----------------------------------------------------------------------------

async function answered(page) {
  await page.waitForFunction(ANSWERED);
  const said = page.locator("button[name=right]");
  if (await said.count()) {
    await said.click();
    await page.waitForSelector(".huge");
  }
  const refused = page.locator("#state.fails");
  if (await refused.count()) throw new Error(`${page.url()}: ${await refused.textContent()}`);
}

let atTheButton = async () => {};

async function send(page, address, action, fields, within = "", button = "button.main") {
  const form = await filled(page, address, action, fields, within);
  await atTheButton(page);
  await form.locator(button).first().click();
  await answered(page);
  return new URL(page.url()).searchParams.get("entry");
}

// -- the steps -------------------------------------------------------------------------------------------------

let protest = "";
const files = (names) => names.map((name) => `${sample}/${name}`);
const first = {};

const DO = {
  enter: (step, page) => send(page, "/day", "/day/cars",
    { declarations: files(step.cars.map((one) => `cars/${one}`)), ...(step.late ? { late: true } : {}) }),
  carry: (step, page) => send(page, "/day", "/day/carry", { results: files([step.results]) }),
  import: (step, page) => send(page, "/scales/table", "/scales/table",
    { table: files([step.file]), mapping: files([step.mapping]) }),
  async check(step, page) {
    if (step.pads.length === WHEELS.length) {
      const shown = step.shown.replace(" kg", "");
      await send(page, "/pads", "/pads", { applied: step.applied.replace(" kg", ""), ...Object.fromEntries(WHEELS.map((one) => [one, shown])) });
    } else for (const pad of step.pads) {
      await send(page, "/pads", "/pads/one", { pad, applied: step.applied, shown: step.shown });
    }
  },
  draw: (step, page) => send(page, "/day", "/day/draw", { sample: String(step.sample), purpose: step.purpose, seed: step.seed }),
  async weigh(step, page) {
    const loads = Object.fromEntries(WHEELS.map((one, at) => [one, String(step.loads[at])]));
    const asked = new URLSearchParams({ car: step.car, ...(step.occasion ? { occasion: step.occasion } : {}) });
    const address = step.corrects ? `/scales?corrects=${first[step.car]}` : `/scales?${asked}`;
    const fields = { ...loads };
    for (const key of ["wear", "again", "reason"]) if (step[key]) fields[key] = step[key];
    if (step.fuel) fields.fuel = step.fuel.replace(" L", "");
    const entry = await send(page, address, "/scales", fields, "", "button.main:not([name])");
    first[step.car] ??= entry;
  },
  async measure(step, page) {
    for (const [fact, value] of Object.entries(step.facts)) {
      await send(page, `/cars?car=${step.car}`, "/cars/measurement", { fact, value: String(value) });
    }
  },
  gauge: (step, page) => send(page, `/cars?car=${step.car}`, "/cars/measurement", { fact: step.fact, value: step.size, gauge: step.result }),
  async seen(step, page) {
    for (const clause of step.clauses) {
      await send(page, `/checks?car=${step.car}`, "/checks", {},
        `:has(input[name=clause][value="${clause}"]):has(input[name=fact][value=""])`, "button[name=as_it_should]");
    }
  },
  note: (step, page) => send(page, `/cars?car=${step.car}`, "/cars/note", Object.fromEntries(
    ["topic", "text", "part", "state", "occasion"].filter((key) => step[key]).map((key) => [key, step[key]]))),
  judge: (step, page) => go(page, `/cars?car=${step.car}`),
  withdraw: (step, page) => send(page, `/cars?car=${step.car}`, "/cars/withdrawal", { reason: step.reason }),
  async protest(step, page) {
    protest = await send(page, `/cars?car=${step.car}`, "/cars/protest", { clause: step.clause, from: step.by_car, text: step.text });
  },
  rule: (step, page) => send(page, `/cars?car=${step.car}`, "/cars/ruling", {
    clause: step.clause, decision: SAID[step.decision], reason: step.reason, ...(step.protest ? { protest } : {}) }),
  close: (step, page) => send(page, "/day", "/day/close", {}),
};

// -- the day ---------------------------------------------------------------------------------------------------

// Steps on cars go on at both tablets at once; whatever is of the whole day waits for both.
const groups = [];
for (const step of JSON.parse(readFileSync(steps, "utf-8"))) {
  const together = TOGETHER.has(step.do);
  if (!together || !groups.at(-1)?.together) groups.push({ together, steps: [] });
  groups.at(-1).steps.push(step);
}

async function playedBy(initials, mine) {
  for (const step of mine) {
    try {
      await DO[step.do](step, tablets[initials]);
    } catch (error) {
      throw new Error(`${step.at} ${step.do} ${step.car ?? ""}: ${error.message}`);
    }
  }
}

// With a form filled in at both tablets the pages are killed; both are sent while nothing listens, and go on alone.
async function killedBeforeSending(one, other) {
  let waiting = 0, both;
  const everybody = new Promise((done) => { both = done; });
  atTheButton = async (page) => {
    if ((waiting += 1) === 2) {
      atTheButton = async () => {};
      await ended("SIGKILL");
      both();
      setTimeout(start, 4000);
    } else await everybody;
    page.waitForFunction(() => document.getElementById("state")?.textContent.includes("NO CONNECTION"))
      .then(() => { seen.told.saidSo = (seen.told.saidSo ?? 0) + 1; }, () => {});
  };
  await Promise.all([one(), other()]);
}

// The pages are killed while a form is under way: nobody knows whether it had arrived.
async function killedWhileSending(one) {
  atTheButton = async () => {
    atTheButton = async () => {};
    setTimeout(async () => { await ended("SIGKILL"); await start(); }, 40);
  };
  await one();
}

const began = Date.now();
let turn = 0;
for (const group of groups) {
  const mine = (initials) => group.steps.filter((step) => step.by === initials);
  const play = (initials) => () => playedBy(initials, mine(initials));
  const isBusy = group.together && ["KV", "TB"].every((one) => mine(one).length > 5);
  if (isBusy && turn === 0) await killedBeforeSending(play("KV"), play("TB"));
  else if (isBusy && turn === 1) await Promise.all([killedWhileSending(play("TB")), play("KV")()]);
  else await Promise.all([play("KV")(), play("TB")()]);
  turn += isBusy;
}
seen.told.kills = turn;
seen.told.seconds = (Date.now() - began) / 1000;

// -- the papers ------------------------------------------------------------------------------------------------

const page = tablets.KV;
async function kept(address, button, name) {
  await page.goto(base + address);
  const [download] = await Promise.all([page.waitForEvent("download"), page.click(button)]);
  await download.saveAs(`${folder}/${name}`);
}
await kept("/record", "button[value=json]", "results.json");
await kept("/record", "text=Keep the bundle", "bundle.zip");
await kept("/record", "text=All of it as JSON", "day.json");
await page.goto(`${base}/record/results`);
await page.screenshot({ path: `${folder}/results.png`, fullPage: true });
for (const address of ["/", "/day", "/record", "/cars?car=35", "/scales/otherwise?car=35", "/cards"]) {
  await page.goto(base + address);
  await page.screenshot({ path: `${folder}/${address.replace(/\W+/g, "-")}.png`, fullPage: true });
}
for (const browser of browsers) await browser.close();
seen.told.endedWith = await ended("SIGINT");
console.log(JSON.stringify(seen));
