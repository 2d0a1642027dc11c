// The time line: sections, groups, sets, rests and queries over the length of the class.

import { $, make, words } from "./make.js";
import { ARRANGEMENTS, SECTIONS, SEVERITY, clock, count } from "./names.js";
import { choose, listen, listQueries, nameSet, openQueries, state, tell } from "./state.js";

const MOST = 32;
let scale = 1;

const part = (seconds) => `${(100 * seconds) / length()}%`;
const length = () => Math.max(state.head.duration, ...state.sections.map((s) => s.end), 1);

function put(element, start, end) {
  element.style.left = part(start);
  if (end !== undefined) element.style.width = part(Math.max(end - start, 0));
  return element;
}

export function drawLine() {
  const sheet = $("line-sheet");
  sheet.style.width = `${100 * scale}%`;
  const pixels = findPixels();
  drawClock(pixels);
  drawSections(pixels);
  drawSets(pixels);
  drawFlags();
  drawNote();
}

function drawClock(pixels) {
  const step = [10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600].find((s) => s * pixels > 55) ?? 3600;
  const marks = [];
  for (let at = 0; at * pixels < length() * pixels - 30; at += step) marks.push(put(make("span", {}, clock(at)), at));
  $("line-clock").replaceChildren(...marks);
}

function drawSections(pixels) {
  const bands = [], brackets = [];
  for (const section of state.sections) {
    const room = (section.end - section.start) * pixels;
    const name = room > 18 ? make("b", {}, SECTIONS[section.kind]) : "";
    bands.push(put(make("span", { class: section.groups.length ? "" : "bare", title: SECTIONS[section.kind] }, name), section.start, section.end));
    for (const group of section.groups) {
      if (!group.sets.length) continue;
      const sets = group.sets.map((id) => state.sets.get(id));
      const start = Math.min(...sets.map((s) => s.start)), end = Math.max(...sets.map((s) => s.end));
      const label = ARRANGEMENTS[group.arrangement] + (group.rounds > 1 ? ` ×${group.rounds}` : "");
      brackets.push(put(make("span", { title: label }, (end - start) * pixels > 6.5 * label.length ? label : ""), start, end));
    }
  }
  $("line-sections").replaceChildren(...bands);
  $("line-groups").replaceChildren(...brackets);
}

function drawSets(pixels) {
  const bars = [];
  state.order.forEach((id, i) => {
    const one = state.sets.get(id), next = state.sets.get(state.order[i + 1]);
    bars.push(makeBar(id, i, pixels));
    if (next && next.start > one.end) bars.push(put(make("div", { class: "line-rest", role: "presentation" }), one.end, next.start));
  });
  $("line-sets").replaceChildren(...bars);
  markChosen("");
}

function makeBar(id, i, pixels) {
  const one = state.sets.get(id), room = (one.end - one.start) * pixels, digits = String(i + 1).length;
  const open = openQueries(id).length, name = nameSet(id), narrow = room < 8 * digits + 5;
  const label = `${i + 1} ${name}, ${clock(one.start)} to ${clock(one.end)}${open ? `, ${count(open, "open query", "open queries")}` : ""}`;
  const bar = make("div", { role: "option", id: `bar-${id}`, class: `bar-set ${one.cells.side}${narrow ? " narrow" : ""}`, "aria-selected": String(id === state.chosen), "data-set": id, "aria-label": label, title: label });
  // The number is the one that stands in the table; the name comes along where there is room for it.
  if (!narrow) bar.append(make("b", {}, String(i + 1)));
  if (room > 70) bar.append(" ", words(one.cells.exercise));
  if (one.cells.finisher) {
    const tail = make("span", { class: "tail" });
    tail.style.width = `${Math.min(100, Math.max(12, one.tail ? (100 * (one.end - one.tail)) / (one.end - one.start) : 20))}%`;
    bar.append(tail);
  }
  bar.drawn = one;
  return put(bar, one.start, one.end);
}

// After an edit only its own sets are drawn anew, unless their times are others now.
function redraw({ structure, sets, queries }) {
  const bars = sets.map((id) => $(`bar-${id}`));
  const moved = (bar, i) => { const now = state.sets.get(sets[i]); return !bar || !now || bar.drawn.start !== now.start || bar.drawn.end !== now.end; };
  if (structure || bars.some(moved)) return drawLine();
  const pixels = findPixels(), touched = new Set([...sets, ...queries.map((id) => state.queries.get(id)?.set)]);
  for (const id of touched) if (state.place.has(id)) $(`bar-${id}`).replaceWith(makeBar(id, state.place.get(id).index, pixels));
  if (queries.length) drawFlags();
  drawNote();
  return undefined;
}

const findPixels = () => ($("line-view").clientWidth - 16) * scale / length();

function drawNote() {
  const queries = listQueries().filter((q) => q.state === "open").length;
  $("line-note").textContent = `${clock(length())}, ${count(state.order.length, "set")}, ${count(queries, "open query", "open queries")}`;
}

function drawFlags() {
  const flags = [], rank = ["must", "should", "note"];
  const worst = new Map();
  for (const query of listQueries()) {
    if (query.state !== "open" || !state.sets.has(query.set)) continue;
    const held = worst.get(query.set);
    if (!held || rank.indexOf(query.severity) < rank.indexOf(held.severity)) worst.set(query.set, query);
  }
  for (const [id, query] of worst) {
    const one = state.sets.get(id);
    const flag = make("button", { type: "button", tabindex: "-1", class: `flag ${query.severity}`, title: `${SEVERITY[query.severity]}: ${query.message}` });
    flag.addEventListener("click", () => tell("query", query.id));
    flags.push(put(flag, (one.start + one.end) / 2));
  }
  $("line-flags").replaceChildren(...flags);
}

function markChosen(before) {
  const list = $("line-sets");
  if (before) $(`bar-${before}`)?.setAttribute("aria-selected", "false");
  const bar = state.chosen && $(`bar-${state.chosen}`);
  if (!bar) return list.removeAttribute("aria-activedescendant");
  bar.setAttribute("aria-selected", "true");
  list.setAttribute("aria-activedescendant", bar.id);
  const view = $("line-view"), box = view.getBoundingClientRect(), at = bar.getBoundingClientRect();
  if (at.left < box.left + 20 || at.right > box.right - 20) view.scrollLeft += at.left - box.left - box.width / 3;
}

export function zoom(factor) {
  scale = factor === 0 ? 1 : Math.min(MOST, Math.max(1, scale * factor));
  $("whole").disabled = scale === 1;
  $("closer").disabled = scale === MOST;
  drawLine();
}

export function step(by) {
  const here = state.place.get(state.chosen)?.index ?? -1;
  const next = by === -Infinity ? 0 : by === Infinity ? state.order.length - 1 : here + by;
  const id = state.order[Math.min(Math.max(next, 0), state.order.length - 1)];
  if (id) choose(id, undefined, "line");
}

export function moveNow(seconds) {
  const now = $("line-now");
  now.hidden = seconds === null;
  if (seconds !== null) now.style.left = part(seconds);
}

export function startLine() {
  $("closer").addEventListener("click", () => zoom(2));
  $("whole").addEventListener("click", () => zoom(0));
  $("line-sets").addEventListener("click", (event) => {
    const id = event.target.closest("[data-set]")?.dataset.set;
    if (id) choose(id, undefined, "line");
  });
  new ResizeObserver(() => { if (state.head.duration !== undefined) drawLine(); }).observe($("line-view"));
  listen("data", redraw);
  listen("chosen", ({ before }) => markChosen(before));
}
