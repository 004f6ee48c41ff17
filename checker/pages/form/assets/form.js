// Judges while one types, keeps lists growing without loading the page anew, and says what is not saved.
"use strict";
(() => {
  const form = document.getElementById("car");
  const byId = (name) => document.getElementById(name);
  let waiting = 0;
  let asked = 0;
  let leaving = false;

  const typed = (more = {}) => {
    const data = new URLSearchParams([...new FormData(form)].filter(([, value]) => typeof value === "string"));
    for (const [name, value] of Object.entries(more)) data.append(name, value);
    return data;
  };

  class Refused extends Error {}
  const gone = "The program does not answer. What you typed stands here; start it again and load the page anew.";

  const send = async (address, data) => {
    const answer = await fetch(address, { method: "POST", body: data, credentials: "same-origin" });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!answer.ok) throw new Refused([...page.querySelectorAll("main p")].map((one) => one.textContent).join(" "));
    return page;
  };

  const say = (words, bad = false) => {
    const notice = byId("notice");
    if (notice.textContent === words) return;
    notice.textContent = words;
    notice.className = words ? `notice ${bad ? "bad" : "good"}` : "";
  };

  const field = (name) => document.querySelector(`[data-field="${CSS.escape(name)}"]`);

  const tell = (told) => {
    for (const old of form.querySelectorAll(".remark")) old.remove();
    for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
    for (const one of told.querySelectorAll("#remarks li")) {
      const at = one.dataset.field ? field(one.dataset.field) : null;
      const line = document.createElement("p");
      line.className = `remark ${one.className}`;
      line.append(...one.cloneNode(true).childNodes);
      if (!at) { byId("notice").after(line); continue; }
      if (at.classList.contains("field")) {
        at.append(line);
        const input = byId(`f-${one.dataset.field}`);
        if (input && one.className === "wrong") input.setAttribute("aria-invalid", "true");
      } else {
        (at.querySelector("summary, legend") || at.firstChild).after(line);
      }
    }
  };

  const judge = async () => {
    const mine = ++asked;
    byId("details").classList.add("stale");
    try {
      const told = await send("/judge", typed());
      if (mine !== asked) return;
      const opened = [...byId("details").querySelectorAll("details[open] > summary")].map((one) => one.textContent);
      if (told.getElementById("sheet") || !told.querySelector("#remarks .wrong")) { // a drawing stays while something cannot be read
        const held = byId("places").contains(document.activeElement);
        byId("places").replaceChildren(...told.getElementById("places").childNodes);
        if (held && byId("sheet")) byId("sheet").focus({ preventScroll: true });
      }
      for (const name of ["verdict", "details", "state"]) byId(name).replaceChildren(...told.getElementById(name).childNodes);
      for (const summary of byId("details").querySelectorAll("details > summary"))
        if (opened.includes(summary.textContent)) summary.parentNode.open = true;
      tell(told);
      dispatchEvent(new Event("judged"));
      const words = told.getElementById("notice").textContent.trim();
      say(words, true);
      document.title = document.title.replace(/^[A-Z]+/, byId("verdict").querySelector("strong").textContent);
    } catch (error) {
      if (mine === asked) say(error instanceof Refused ? error.message : gone, true);
    } finally {
      if (mine === asked) byId("details").classList.remove("stale");
    }
  };

  const later = () => {
    byId("state").textContent = "Not saved";
    clearTimeout(waiting);
    waiting = setTimeout(judge, 350);
  };

  const growRow = (input) => {
    const rows = input.closest(".rows");
    if (!rows || !input.value || rows.lastElementChild !== input) return;
    const next = input.cloneNode(false);
    next.value = "";
    next.removeAttribute("id");
    next.removeAttribute("aria-describedby");
    next.setAttribute("aria-label", input.getAttribute("aria-label").replace(/\d+$/, rows.children.length + 1));
    rows.append(next);
  };

  const turn = (select) => {
    if (!select.name.endsWith("|way")) return;
    [...select.closest(".either").children].filter((one) => one.tagName === "DIV")
      .forEach((one, place) => { one.hidden = place !== Number(select.value); });
  };

  const entries = async (button) => {
    const list = button.closest(button.value.startsWith("remove ") ? "[data-field]:not(.entry)" : "[data-field]");
    const name = list.dataset.field;
    const opened = [...form.querySelectorAll("details[open][data-field]")].map((one) => one.dataset.field);
    try {
      const page = await send("/", typed({ do: button.value }));
      const fresh = page.querySelector(`[data-field="${CSS.escape(name)}"]`);
      for (const one of fresh.querySelectorAll("[autofocus]")) one.removeAttribute("autofocus");
      dispatchEvent(new Event("renewing"));
      const before = new Set([...list.querySelectorAll("[data-field]")].map((one) => one.dataset.field));
      list.replaceWith(fresh);
      for (const one of opened) { const at = field(one); if (at && at.tagName === "DETAILS") at.open = true; }
      if (fresh.tagName === "DETAILS") fresh.open = true;
      dispatchEvent(new Event("renewed"));
      const added = [...fresh.querySelectorAll(".entry")].find((one) => !before.has(one.dataset.field));
      if (added) { added.open = true; (added.querySelector("input:not([type=hidden]), select") || added).focus(); }
      later();
    } catch (error) {
      say(error instanceof Refused ? error.message : gone, true);
    }
  };

  form.addEventListener("input", (event) => { if (event.target.name.startsWith("ask-")) return; growRow(event.target); turn(event.target); later(); });
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    const what = button && button.name === "do" ? button.value : "";
    clearTimeout(waiting);
    if (what === "judge") { event.preventDefault(); judge(); }
    else if (/^(add|remove|more) /.test(what)) { event.preventDefault(); entries(button); }
    else if (!button || button.formTarget !== "_blank") leaving = true;
  });
  addEventListener("beforeunload", (event) => {
    if (!leaving && byId("state").textContent.trim() === "Not saved") event.preventDefault();
  });
  addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#f-"]');
    const at = link && byId(decodeURIComponent(link.getAttribute("href").slice(1)));
    if (!at) return;
    for (let one = at; one; one = one.parentElement) if (one.tagName === "DETAILS") one.open = true;
    const into = at.matches("input, select") ? at : at.querySelector("input:not([type=hidden]), select") || at;
    into.scrollIntoView({ block: "center" });
    into.focus();
    event.preventDefault();
  });
})();
