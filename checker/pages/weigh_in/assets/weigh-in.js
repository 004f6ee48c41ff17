// Pages work without this. With it: they go on by themselves, keep what is typed when the network is lost, send it once
// the network is back, and have large keys for loads.
"use strict";

const PREFIX = "checker:";
const RETRY = 3000;

// -- what is kept on the device ----------------------------------------------------------------------------

function kept(key) {
  try { return JSON.parse(localStorage.getItem(PREFIX + key)); } catch { return null; }
}

function keep(key, value) {
  try {
    if (value === null) localStorage.removeItem(PREFIX + key);
    else localStorage.setItem(PREFIX + key, JSON.stringify(value));
  } catch { /* a device that keeps nothing still works */ }
}

const NEVER_KEPT = new Set(["token", "once", "seen"]);

// By what the page says of a form, never by what is typed into it: that changes while it is typed.
function nameOf(form) {
  const given = (name) => form.querySelector(`input[type=hidden][name=${name}]`)?.value ?? "";
  const about = ["car", "occasion", "corrects", "clause", "fact"].map(given).join("|");
  return `typed:${form.getAttribute("action")}:${about}`;
}

function typedIn(form) {
  const typed = {};
  for (const field of form.elements) {
    if (!field.name || NEVER_KEPT.has(field.name) || ["hidden", "file", "submit"].includes(field.type)) continue;
    typed[field.name] = field.type === "checkbox" ? field.checked : field.value;
  }
  return typed;
}

const BACK = "What was typed here before is back. It is not stored yet.";

function putBack(form) {
  const typed = kept(nameOf(form));
  if (!typed) return;
  let changed = false;
  for (const [name, value] of Object.entries(typed)) {
    const field = form.elements.namedItem(name);
    const what = field?.type === "checkbox" ? "checked" : "value";
    if (field && what in field && field[what] !== value) { field[what] = value; changed = true; }
  }
  if (changed) say([document.getElementById("state")?.textContent, BACK].filter(Boolean).join(" "), "open");
}

// -- what is said ------------------------------------------------------------------------------------------

function say(words, look = "") {
  const place = document.getElementById("state");
  if (!place) return;
  place.textContent = words;
  place.className = `notice ${look}`;
}

function swap(text, address) {
  const fresh = new DOMParser().parseFromString(text, "text/html");
  document.title = fresh.title;
  document.body.replaceWith(document.adoptNode(fresh.body));
  if (address && address !== location.href) history.pushState({}, "", address);
  begin();
}

// -- sending a form: until it is answered, and never twice -------------------------------------------------

const sending = new Set();
const PENDING = "pending:";

async function post(action, body, lost) {
  for (;;) {
    try {
      const answer = await fetch(action, {
        method: "POST", body: typeof body === "string" ? new URLSearchParams(body) : body,
        redirect: "follow", credentials: "same-origin",
      });
      return { ok: answer.ok, text: await answer.text(), address: answer.redirected ? answer.url : "" };
    } catch {
      lost();
      await new Promise((done) => setTimeout(done, RETRY));
    }
  }
}

const LOST = "NO CONNECTION. What you typed is kept on this device and is sent as soon as the network is back. "
  + "Nothing is entered twice.";
const LOST_WITH_FILES = "NO CONNECTION. Leave this page open: the files are sent as soon as the network is back. "
  + "Nothing is entered twice.";

// Files as they were when they were sent, whatever becomes of them on the device meanwhile; they outlive no reload.
async function inMemory(fields) {
  const body = new FormData();
  for (const [name, value] of fields) {
    body.append(name, value instanceof File ? new File([await value.arrayBuffer()], value.name, { type: value.type }) : value);
  }
  return body;
}

async function send(form, fields) {
  const once = form.elements.namedItem("once").value;
  if (sending.has(once)) return;
  sending.add(once);
  const name = nameOf(form);
  for (const button of form.querySelectorAll("button")) button.disabled = true;
  keep(name, typedIn(form));
  const action = form.getAttribute("action");
  const withFiles = form.enctype === "multipart/form-data";
  const body = withFiles ? await inMemory(fields) : new URLSearchParams(fields).toString();
  if (!withFiles) keep(PENDING + once, { action, body, name });
  const answer = await post(action, body, () => say(withFiles ? LOST_WITH_FILES : LOST, "fails"));
  sending.delete(once);
  keep(PENDING + once, null);
  if (answer.ok) { keep(name, null); swap(answer.text, answer.address); } else refused(form, answer.text);
}

// What was sent when the page was left or the device went out: it is sent again with its own number, so that it counts
// once, whether it had arrived or not.
async function sendWhatIsPending() {
  const found = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX + PENDING));
  for (const key of found.map((one) => one.slice(PREFIX.length))) {
    const once = key.slice(PENDING.length);
    const one = kept(key);
    if (!one || sending.has(once)) continue;
    sending.add(once);
    const answer = await post(one.action, one.body, () => say(LOST, "fails"));
    sending.delete(once);
    keep(key, null);
    const page = new DOMParser().parseFromString(answer.text, "text/html");
    if (!answer.ok) { say(wordsOf(page), "fails"); continue; }
    keep(one.name, null);
    const here = [...document.querySelectorAll("form[data-keep]")].some((form) => nameOf(form) === one.name);
    if (here) swap(answer.text, answer.address);
    else say("What was typed before the connection was lost is stored.", "met");
  }
}

function wordsOf(page) {
  return [...page.querySelectorAll("main > h1, main > p")].map((one) => one.textContent.trim()).filter(Boolean).join(" ");
}

function refused(form, text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  say(wordsOf(page), "fails");
  for (const button of form.querySelectorAll("button")) button.disabled = false;
  document.getElementById("state")?.scrollIntoView({ block: "center" });
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-keep]")) return;
  event.preventDefault();
  send(form, new FormData(form, event.submitter));
});

document.addEventListener("input", (event) => {
  const form = event.target.closest("form[data-keep]");
  if (form) keep(nameOf(form), typedIn(form));
});

// -- large keys --------------------------------------------------------------------------------------------

const KEYS = ["7", "8", "9", "Back", "4", "5", "6", "Clear", "1", "2", "3", "Next", "0", "."];

function keypads() {
  for (const form of document.querySelectorAll("form[data-keypad]")) {
    const pad = form.querySelector(".keypad");
    const loads = [...form.querySelectorAll("input.load, input.keyed")];
    if (!pad || pad.childElementCount) continue;
    let at = loads.find((one) => !one.value) ?? loads[0];
    for (const load of loads) {
      load.addEventListener("focus", () => { at = load; load.select(); });
      load.addEventListener("keydown", (event) => {
        if (event.key !== "Enter") return;
        const next = loads[loads.indexOf(load) + 1];
        if (next) { event.preventDefault(); next.focus(); }
      });
    }
    for (const key of KEYS) {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = key;
      button.className = { 0: "zero", Next: "word next" }[key] ?? (key.length > 1 ? "word" : "");
      button.addEventListener("click", () => {
        if (key === "Next") at = loads[(loads.indexOf(at) + 1) % loads.length];
        else if (key === "Back") at.value = at.value.slice(0, -1);
        else if (key === "Clear") at.value = "";
        else if (at.value.length < at.maxLength) at.value += key;
        if (key === "Next") at.focus();
        at.dispatchEvent(new Event("input", { bubbles: true }));
      });
      pad.append(button);
    }
    for (const load of loads) if (matchMedia("(pointer: coarse)").matches) load.inputMode = "none";
    pad.hidden = false;
  }
}

// -- live --------------------------------------------------------------------------------------------------

let shown = null;
let listening = null;

async function renew() {
  try {
    const answer = await fetch(location.href, { credentials: "same-origin" });
    if (!answer.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const main = fresh.querySelector("main");
    if (main) document.querySelector("main").replaceWith(document.adoptNode(main));
  } catch { /* the next line tells again */ }
}

function listen() {
  const address = document.querySelector("meta[name=live]")?.content;
  if (!address || listening) return;
  listening = new EventSource(address);
  listening.onmessage = (event) => {
    document.body.classList.remove("lost");
    const isNews = shown !== null && shown !== event.data;
    const wasLost = document.getElementById("lost");
    wasLost?.remove();
    shown = event.data;
    if (isNews || wasLost) renew();
  };
  listening.onerror = () => {
    if (document.getElementById("lost")) return;
    const words = document.createElement("p");
    words.id = "lost";
    words.className = "notice fails";
    words.setAttribute("role", "status");
    words.textContent = "NO CONNECTION: what stands here may be old. It goes on by itself.";
    document.querySelector("main").prepend(words);
  };
}

// -- each page ---------------------------------------------------------------------------------------------

function begin() {
  keypads();
  for (const form of document.querySelectorAll("form[data-keep]")) putBack(form);
  listen();
  if (document.getElementById("state")) sendWhatIsPending();
}

addEventListener("popstate", () => location.reload());
begin();
