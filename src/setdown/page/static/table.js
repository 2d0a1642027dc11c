// The sets as a grid: what the rows and cells hold. Moving about in it is in walk.js, changing a cell in cell.js.

import { $, bringInto, flag, make, unseen, words } from "./make.js";
import { ARRANGEMENTS, COLUMNS, SECTIONS, clock, count } from "./names.js";
import { choose, listen, openQueries, state } from "./state.js";

let columns = COLUMNS;
let spot = { id: "", field: "exercise" }; // the one cell that the Tab key reaches

export const listColumns = () => columns;

export function drawTable() {
  const held = $("grid").contains(document.activeElement);
  const sets = [...state.sets.values()];
  columns = COLUMNS.filter((c) => !c.rare || sets.some((one) => one.cells[c.field]) || state.compared?.fields?.has(c.field));
  // The table is laid out as a grid of fixed columns, in one block for each group: the browser leaves out the blocks that
  // are not in sight, and nothing moves when a cell changes. The roles are spelled out, since the layout hides them.
  const grid = $("grid");
  grid.style.setProperty("--columns", columns.map((c) => (c.width ? `${widthOf(c)}rem` : "minmax(10.4rem, 1fr)")).join(" "));
  grid.style.minWidth = `${10.4 + columns.reduce((sum, c) => sum + Number(widthOf(c)), 0)}rem`;
  const head = make("thead", { role: "rowgroup" }, make("tr", { role: "row" }, ...columns.map((c) => make("th", { role: "columnheader", scope: "col", class: c.css }, c.name))));
  const blocks = [];
  for (const section of state.sections) {
    blocks.push(makeBlock([drawSection(section)]));
    for (const group of section.groups) blocks.push(makeBlock([drawGroup(group), ...group.sets.map(drawSet)]));
  }
  grid.replaceChildren(head, ...blocks);
  drawRemoved();
  $("sets-note").textContent = `${count(state.order.length, "set")} in ${count(state.sections.reduce((n, s) => n + s.groups.length, 0), "group")}`;
  settle(held);
  markChosen("");
}

const widthOf = (column) => (column.long && state.head.duration >= 3600 ? column.long : column.width);

function makeBlock(rows) {
  const block = make("tbody", { role: "rowgroup" }, ...rows);
  block.style.containIntrinsicBlockSize = `auto ${2.1 * rows.length}rem`;
  return block;
}

const filler = (n) => spread(make("td", { role: "gridcell" }), n);

function spread(cell, n) {
  cell.style.gridColumn = `span ${n}`;
  cell.setAttribute("aria-colspan", String(n));
  return cell;
}

function drawSection(section) {
  const row = make("tr", { role: "row", class: "section", "data-id": section.id });
  row.append(cellOf("section", section.id, "kind", SECTIONS[section.kind], { tag: "th", css: "place", name: "Section" }));
  row.append(cellOf("section", section.id, "start", clock(section.start), { css: "num", name: "Section start" }));
  row.append(cellOf("section", section.id, "end", clock(section.end), { css: "num", name: "Section end" }));
  row.append(filler(columns.length - 3));
  return row;
}

function drawGroup(group) {
  const row = make("tr", { role: "row", class: "group", "data-id": group.id });
  row.append(cellOf("group", group.id, "arrangement", `Group ${group.number}: ${ARRANGEMENTS[group.arrangement]}`, { tag: "th", css: "place", name: "Arrangement" }));
  row.append(filler(2));
  row.append(cellOf("group", group.id, "rounds", count(group.rounds, "round"), { css: "num", name: "Rounds" }));
  const rest = cellOf("group", group.id, "rest_s", group.rest === "" ? "no rest given" : `rest ${Math.round(group.rest)} s`, { name: "Rest between" });
  row.append(spread(rest, columns.length - 4));
  return row;
}

function cellOf(kind, id, field, text, { tag = "td", css = "", name }) {
  return make(tag, { role: tag === "th" ? "rowheader" : "gridcell", class: css, tabindex: "-1", "data-kind": kind, "data-id": id, "data-field": field, "data-name": name }, text);
}

export function drawSet(id) {
  const one = state.sets.get(id), was = state.compared?.sets[id], added = state.compared?.added.has(id);
  const row = make("tr", { role: "row", class: added ? "added" : "", "data-id": id, "data-set": id });
  for (const column of columns) {
    const cell = make("td", { role: "gridcell", class: column.css ?? "", tabindex: "-1", "data-kind": "set", "data-id": id, "data-field": column.field, "data-name": column.name });
    const value = showValue(one, column);
    if (column.field === "exercise") cell.append(drawName(id, value, added));
    else cell.append(value);
    if (was && column.field in was) {
      cell.classList.add("differs");
      const before = was[column.field];
      cell.append(before ? make("del", { class: "was" }, unseen("before: "), words(showText(column.field, before))) : make("span", { class: "was-nothing" }, "was empty"));
    }
    row.append(cell);
  }
  if (id === state.chosen) row.classList.add("chosen");
  return row;
}

function drawName(id, value, added) {
  const open = openQueries(id), worst = ["must", "should", "note"].find((s) => open.some((q) => q.severity === s));
  const number = make("span", { class: "nr", "aria-hidden": "true" }, String(state.place.get(id).index + 1));
  const box = make("span", { class: "who" }, number, value);
  if (added) box.append(make("span", { class: "tag" }, "added"));
  if (worst) box.append(flag(worst), unseen(`, ${count(open.length, "open query", "open queries")}`));
  return box;
}

function showText(field, text) {
  if (!text) return "";
  if (field === "start" || field === "end") return clock(Number(text));
  return field === "work_s" || field === "rest_after_s" ? `${Math.round(Number(text))} s` : text;
}

function showValue(one, column) {
  const { field } = column;
  const text = showText(field, one.cells[field]);
  if (!text) return make("span", { class: "none" }, make("span", { "aria-hidden": "true" }, "–"), unseen("nothing"));
  const key = field === "start" || field === "end" ? "span" : field;
  const unsure = one.unsure[key], by = one.edited[field] ?? one.edited[key];
  const shown = words(text, { class: [by ? "edited" : "", unsure ? "unsure" : ""].join(" ").trim() || null });
  if (field === "exercise" && one.said && one.said.toLowerCase() !== text.toLowerCase()) shown.title = `said: ${one.said}`;
  if (by) shown.title = by;
  const box = make("span", {}, shown);
  if (by) box.append(unseen(`, ${by}`));
  else if (unsure) box.append(unseen(`, ${Math.round(unsure * 100)} percent sure`));
  return box;
}

// Sets that only the other version has stand where they would have been.
function drawRemoved() {
  for (const gone of state.compared?.removed ?? []) {
    const row = make("tr", { role: "row", class: "removed" }, ...columns.map((c) => make("td", { role: "gridcell", class: c.css ?? "" }, words(showText(c.field, gone.cells[c.field]) || "–"))));
    row.firstChild.append(" ", make("span", { class: "tag" }, "taken out"));
    const after = state.order.filter((id) => state.sets.get(id).start <= gone.start).at(-1);
    const within = state.sections.filter((section) => section.start <= gone.start).at(-1);
    const head = within && (!after || state.place.get(after).section !== within) ? within.id : after;
    (head ? rowOf(head) : $("grid").tHead.rows[0]).after(row);
  }
}

export const rowOf = (id) => $("grid").querySelector(`tr[data-id="${CSS.escape(id)}"]`);

export function cellAt(id, field) {
  const row = rowOf(id);
  return row?.querySelector(`[data-field="${CSS.escape(field)}"]`) ?? row?.querySelector("[data-field]");
}

export function place(cell, focus = true) {
  if (!cell) return;
  for (const other of $("grid").querySelectorAll('[tabindex="0"]')) other.tabIndex = -1;
  cell.tabIndex = 0;
  spot = { id: cell.dataset.id, field: cell.dataset.field };
  if (focus) {
    cell.focus({ preventScroll: true });
    bringInto($("grid-view"), cell.parentElement);
    // Sideways in a narrow table, and the page itself where it is longer than the window.
    // A cell that is wider than what is left of the window shows where it begins, which is where its text stands.
    const wide = cell.offsetWidth > $("grid-view").clientWidth / 2;
    cell.scrollIntoView({ block: "nearest", inline: wide ? "start" : "nearest" });
  }
  if (cell.dataset.kind === "set" && (state.chosen !== spot.id || state.field !== spot.field)) choose(spot.id, spot.field, "table");
}

// After the rows were made anew: the same cell again, or the one that now stands there.
function settle(focus) {
  const cell = cellAt(spot.id, spot.field) ?? cellAt(state.chosen || state.order[0] || state.sections[0]?.id || "", "exercise");
  if (!cell) return;
  cell.tabIndex = 0;
  if (focus) cell.focus({ preventScroll: true });
}

function markChosen(from) {
  for (const row of $("grid").querySelectorAll("tr.chosen")) {
    row.classList.remove("chosen");
    row.removeAttribute("aria-selected");
  }
  const row = state.chosen && rowOf(state.chosen);
  for (const button of $("set-tools").children) button.disabled = !row && button.dataset.act !== "add";
  if (!row) return;
  row.classList.add("chosen");
  row.setAttribute("aria-selected", "true");
  if (from !== "table" && !row.contains(document.activeElement)) {
    bringInto($("grid-view"), row, 40);
    const cell = cellAt(state.chosen, state.field);
    for (const other of $("grid").querySelectorAll('[tabindex="0"]')) other.tabIndex = -1;
    if (cell) {
      cell.tabIndex = 0;
      spot = { id: state.chosen, field: cell.dataset.field };
    }
  }
}

export function startTable() {
  listen("data", ({ structure, sets, queries }) => {
    const shown = COLUMNS.filter((c) => !c.rare || [...state.sets.values()].some((one) => one.cells[c.field])).length;
    if (structure || shown !== columns.length) return drawTable();
    const touched = new Set(sets);
    for (const id of queries) if (state.queries.get(id)?.set) touched.add(state.queries.get(id).set);
    const held = $("grid").contains(document.activeElement);
    for (const id of touched) if (state.sets.has(id)) rowOf(id)?.replaceWith(drawSet(id));
    settle(held && !$("grid").contains(document.activeElement));
    markChosen("table");
  });
  listen("chosen", ({ from }) => markChosen(from));
}
