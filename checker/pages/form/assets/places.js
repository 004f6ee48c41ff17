// Where something sits is pointed at on a drawing of the car; the fields beneath which it stands are filled in.
"use strict";
(() => {
  const form = document.getElementById("car");
  const byId = (name) => document.getElementById(name);
  const drawing = byId("drawing");
  const TOUCH = 12; // so near to a mark that the mark is meant
  let place = "";
  let button = null;
  let at = null; // mm behind the front axle and left of the centre line, as last pointed at
  let written = "";

  const input = (key, more = "") => form.elements.namedItem(`${place}.${key}${more}`);
  const along = () => input("behind_front_axle");
  const across = () => input("left_of_centre");
  const sheet = () => byId("sheet");
  const scale = (name) => Number(sheet().dataset[name]);
  const mark = (name) => [...byId("places").querySelectorAll("[data-same]")].find((one) => one.dataset.same === name);
  const typed = () => ["behind_front_axle", "left_of_centre"]
    .flatMap((key) => ["", "|key", "|unit"].map((more) => input(key, more).value)).join(" ");
  const fromSheet = (x, y) => ({ along: (y - scale("front")) / scale("perMm"), left: (scale("middle") - x) / scale("perMm") });

  const cross = () => {
    for (const old of drawing.querySelectorAll(".pointed")) old.remove();
    if (!at || !sheet()) return;
    const x = scale("middle") - at.left * scale("perMm");
    const y = scale("front") + at.along * scale("perMm");
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("class", "pointed");
    path.setAttribute("d", `M${x - 16} ${y}H${x + 16}M${x} ${y - 16}V${y + 16}M${x - 8} ${y}a8 8 0 1 0 16 0a8 8 0 1 0 -16 0`);
    sheet().querySelector("svg").append(path);
  };

  const put = (key, mm, words) => {
    const field = input(key);
    const unit = input(key, "|unit");
    const units = JSON.parse(sheet().dataset.units);
    const own = units[unit.value] ? unit.value : Object.keys(units).find((one) => [...unit.options].some((o) => o.value === one));
    const [factor, step] = units[own];
    const digits = (step.split(".")[1] || "").length;
    unit.value = own;
    input(key, "|key").value = words;
    field.value = String(Number((Math.round(mm / factor / Number(step)) * Number(step)).toFixed(digits)));
    return `${field.value} ${own} ${words.replaceAll("_", " ")}`;
  };

  const told = (words) => {
    byId("pointed").textContent = words;
    written = typed();
    along().dispatchEvent(new Event("input", { bubbles: true }));
    cross();
  };

  const move = (to) => {
    at = to;
    const rear = input("behind_front_axle", "|key").value.endsWith("rear_axle");
    const mm = rear ? at.along - scale("wheelbase") : at.along;
    const words = [
      put("behind_front_axle", Math.abs(mm), `${mm < 0 ? "ahead_of" : "behind"}_${rear ? "rear" : "front"}_axle`),
      put("left_of_centre", Math.abs(at.left), `${at.left < 0 ? "right" : "left"}_of_centre`),
    ];
    told(words.join(", "));
  };

  const same = (other) => {
    at = fromSheet(Number(other.dataset.x), Number(other.dataset.y));
    for (const key of ["behind_front_axle", "left_of_centre"])
      for (const more of ["", "|key", "|unit"]) {
        const from = form.elements.namedItem(`${other.dataset.same}.${key}${more}`);
        if (!from) { move(at); return; }
        input(key, more).value = from.value;
      }
    told(`As ${other.textContent}`);
  };

  const step = (way, far) => {
    if (!sheet()) return;
    const now = at || { along: scale("wheelbase") / 2, left: 0 };
    const ways = { forward: [-far, 0], back: [far, 0], left: [0, far], right: [0, -far] };
    const [more, left] = ways[way];
    move({ along: now.along + more, left: now.left + left });
  };

  const known = () => {
    const own = mark(place);
    if (place && along() && typed() !== written) at = own ? fromSheet(Number(own.dataset.x), Number(own.dataset.y)) : null;
    for (const one of byId("places").querySelectorAll("[data-same]")) one.hidden = one === own;
    cross();
  };

  const close = () => {
    byId("home").append(drawing);
    if (button) button.setAttribute("aria-expanded", "false");
    place = "";
  };

  const open = (asked) => {
    close();
    place = asked.dataset.place;
    button = asked;
    at = null;
    written = "";
    asked.closest("p").after(drawing);
    asked.setAttribute("aria-expanded", "true");
    byId("pointed").textContent = "";
    known();
    if (sheet()) sheet().focus();
  };

  const shown = () => { for (const one of form.querySelectorAll(".point")) one.hidden = false; };

  form.addEventListener("click", (event) => {
    const asked = event.target.closest(".point");
    if (asked) { if (asked.dataset.place === place) close(); else open(asked); return; }
    const pressed = event.target.closest("#drawing button");
    if (pressed && pressed.dataset.way === "close") { const back = button; close(); back.focus(); return; }
    if (pressed && pressed.dataset.way) { step(pressed.dataset.way, 5); return; }
    if (pressed) { same(pressed); return; }
    if (!event.target.closest("#sheet svg")) return;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(sheet().querySelector("svg").getScreenCTM().inverse());
    const near = [...byId("places").querySelectorAll("[data-same]")]
      .filter((one) => one.dataset.same !== place)
      .map((one) => [Math.hypot(one.dataset.x - point.x, one.dataset.y - point.y), one])
      .filter(([far]) => far < TOUCH).sort((one, other) => one[0] - other[0])[0];
    if (near) same(near[1]); else move(fromSheet(point.x, point.y));
    sheet().focus();
  });
  form.addEventListener("keydown", (event) => {
    if (!event.target.closest || !event.target.closest("#sheet")) return;
    const way = { ArrowUp: "forward", ArrowDown: "back", ArrowLeft: "left", ArrowRight: "right" }[event.key];
    if (way) { event.preventDefault(); step(way, event.shiftKey ? 50 : 5); }
    if (event.key === "Escape") { const back = button; close(); back.focus(); }
  });
  addEventListener("judged", known);
  addEventListener("renewing", close);
  addEventListener("renewed", shown);
  shown();
})();
