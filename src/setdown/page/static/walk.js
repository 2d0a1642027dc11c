// Going about in the grid of sets by arrow keys and pointer (the pattern "grid" of the ARIA Authoring Practices).

import { $ } from "./make.js";
import { openCell } from "./cell.js";
import { cellAt, place } from "./table.js";
import { listen, state } from "./state.js";
import { act } from "./acts.js";

const stops = (row) => [...row.querySelectorAll("[data-field]")];
const rows = () => [...$("grid").querySelectorAll("tbody tr")].filter((row) => row.querySelector("[data-field]"));
const middle = (cell) => { const box = cell.getBoundingClientRect(); return box.left + Math.min(box.width / 2, 40); };

// The column in which somebody goes up and down, kept while rows of groups and sections are crossed.
let lane = "";

export function walk(cell, key, ctrl) {
  const row = cell.parentElement, here = stops(row), i = here.indexOf(cell), all = rows(), r = all.indexOf(row);
  const sideways = { ArrowLeft: i - 1, ArrowRight: i + 1, Home: 0, End: here.length - 1 }[key];
  if (sideways !== undefined || ctrl) lane = "";
  if (sideways !== undefined && !ctrl) return place(here[Math.min(Math.max(sideways, 0), here.length - 1)]);
  if (ctrl && key === "Home") return place(stops(all[0])[0]);
  if (ctrl && key === "End") return place(stops(all.at(-1)).at(-1));
  if (cell.dataset.kind === "set") lane = cell.dataset.field;
  const down = { ArrowUp: -1, ArrowDown: 1, PageUp: -10, PageDown: 10 }[key];
  const goal = all[Math.min(Math.max(r + down, 0), all.length - 1)];
  if (!goal || goal === row) return undefined;
  const x = middle(cell);
  const same = goal.querySelector(`[data-field="${(goal.dataset.set && lane) || cell.dataset.field}"]`);
  return place(same ?? stops(goal).reduce((best, one) => Math.abs(middle(one) - x) < Math.abs(middle(best) - x) ? one : best));
}

const WALK = new Set(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End", "PageUp", "PageDown"]);
const ACTS = { s: "split", j: "join", a: "add", m: "move", Delete: "delete", p: "play" };

function pressed(event) {
  const cell = event.target.closest("[data-field]");
  if (!cell || event.target !== cell || event.metaKey) return;
  if (event.altKey) {
    if (event.key === "ArrowUp" || event.key === "ArrowDown") {
      event.preventDefault();
      act(event.key === "ArrowUp" ? "up" : "down");
    }
    return;
  }
  if (WALK.has(event.key)) {
    event.preventDefault();
    walk(cell, event.key, event.ctrlKey);
  } else if (event.key === "Enter" || event.key === "F2") {
    event.preventDefault();
    openCell(cell);
  } else if (!event.ctrlKey && ACTS[event.key] && cell.dataset.kind === "set") {
    event.preventDefault();
    act(ACTS[event.key]);
  }
}

export function startWalk() {
  let chosenBefore = null;
  $("grid").addEventListener("keydown", pressed);
  $("grid").addEventListener("pointerdown", (event) => {
    const cell = event.target.closest("[data-field]");
    chosenBefore = cell && cell === document.activeElement ? cell : null;
  });
  // The first click chooses a cell, the next one opens it; so does a tap.
  $("grid").addEventListener("click", (event) => {
    const cell = event.target.closest("[data-field]");
    if (!cell || cell.classList.contains("open")) return;
    if (cell === chosenBefore) openCell(cell);
    else place(cell);
  });
  $("grid").addEventListener("focusin", (event) => {
    if (event.target.matches("[data-field]")) place(event.target, false);
  });
  for (const button of $("set-tools").children) button.addEventListener("click", () => act(button.dataset.act));
  listen("change-cell", ({ set, field, query }) => {
    const cell = cellAt(set, field === "span" ? "end" : field);
    if (!cell) return;
    place(cell);
    openCell(cell, query);
  });
  listen("go-to-row", () => place(cellAt(state.chosen, state.field)));
}
