// Changing one cell in place: a line of text, a choice, a movement looked up by name, or the parts of a load.

import { make } from "./make.js";
import { ARRANGEMENTS, CHANGE, COLUMNS, HELD, SECTIONS, UNITS, clock } from "./names.js";
import { state } from "./state.js";
import { ask, edit } from "./talk.js";
import { cellAt, place } from "./table.js";
import { step } from "./next.js";

const GROUP = {
  kind: { kind: "choice", choices: SECTIONS }, arrangement: { kind: "choice", choices: ARRANGEMENTS },
  rounds: { kind: "text", hint: "a whole number" }, rest_s: { kind: "text", hint: "seconds, or nothing" },
  start: { kind: "text", hint: "1:35 or 95.5" }, end: { kind: "text", hint: "1:35 or 95.5" },
};

export function openCell(cell, query = "") {
  const { kind, id, field } = cell.dataset;
  const how = kind === "set" ? COLUMNS.find((c) => c.field === field) : GROUP[field];
  const before = readCell(kind, id, field);
  const editor = { cell, kind, id, field, query, how, before, name: cell.dataset.name, done: false };
  editor.inside = [...cell.childNodes];
  cell.classList.add("open");
  ({ text: openText, choice: openChoice, movement: openMovement, load: openLoad })[how.kind](editor);
}

function readCell(kind, id, field) {
  if (kind === "set") {
    const one = state.sets.get(id);
    return field === "start" || field === "end" ? clock(one[field], true) : one.cells[field];
  }
  const section = state.sections.find((s) => s.id === id);
  if (section) return field === "kind" ? section.kind : clock(section[field], true);
  const group = state.sections.flatMap((s) => s.groups).find((g) => g.id === id);
  return field === "rest_s" ? group.rest : String(group[field]);
}

export function close(editor, focus = true) {
  if (editor.done) return;
  editor.done = true;
  const { cell } = editor;
  cell.classList.remove("open");
  if (cell.isConnected) cell.replaceChildren(...editor.inside);
  if (focus) place(cellAt(editor.id, editor.field));
}

// then: where the keyboard goes after the change; "stay" leaves it where the pointer put it.
async function commit(editor, text, then = "here") {
  if (editor.done || editor.busy) return;
  if (text === editor.before && !editor.query) return finish(editor, then);
  editor.busy = true;
  const { kind, id, field, query } = editor;
  const wanted = query ? { kind: "answer_query", query, answer: text } : { kind: `${kind}_value`, [kind]: id, field, text };
  try {
    await edit(wanted);
    finish(editor, then);
  } catch (error) {
    editor.busy = false;
    if (error.status === 422) editor.complain(error.message);
    else close(editor, then !== "stay");
  }
}

function finish(editor, then) {
  close(editor, then !== "stay");
  if (then === "next" || then === "back") step(editor.id, editor.field, then === "next" ? 1 : -1);
}

function keysFor(editor, read) {
  return (event) => {
    event.stopPropagation();
    if (event.key === "Enter") {
      event.preventDefault();
      commit(editor, read());
    } else if (event.key === "Escape") {
      event.preventDefault();
      close(editor);
    } else if (event.key === "Tab") {
      event.preventDefault();
      commit(editor, read(), event.shiftKey ? "back" : "next");
    }
  };
}

function place1(editor, input, hint) {
  editor.cell.replaceChildren(input, ...(hint ? [hint] : []));
  editor.complain = (problem) => {
    if (!hint) return;
    hint.textContent = problem;
    hint.classList.add("bad");
    input.setAttribute("aria-invalid", "true");
    input.focus();
  };
  input.focus();
  input.select?.();
  keepInView(editor.cell);
}

function keepInView(cell, room = 60) {
  const view = cell.closest(".grid-view"), more = cell.getBoundingClientRect().bottom + room - view.getBoundingClientRect().bottom;
  if (more > 0) view.scrollTop += more;
}

function openText(editor) {
  const input = make("input", { class: "cell-input", type: "text", "aria-label": editor.name, "aria-describedby": "cell-hint", autocomplete: "off", spellcheck: "false" });
  input.value = editor.before;
  const hint = make("div", { class: "cell-hint", id: "cell-hint" }, editor.how.hint);
  input.addEventListener("keydown", keysFor(editor, () => input.value.trim()));
  input.addEventListener("blur", () => commit(editor, input.value.trim(), "stay"));
  place1(editor, input, hint);
}

function openChoice(editor) {
  const options = Object.entries(editor.how.choices).map(([value, label]) => make("option", { value }, label));
  const input = make("select", { class: "cell-input", "aria-label": editor.name }, ...options);
  input.value = editor.before;
  input.addEventListener("keydown", keysFor(editor, () => input.value));
  input.addEventListener("blur", () => commit(editor, input.value, "stay"));
  place1(editor, input, make("div", { class: "cell-hint", id: "cell-hint" }, "Enter keeps it, Esc does not"));
}

// A combobox with a list (ARIA 1.2): what is typed may also be a movement that the lexicon does not know.
function openMovement(editor) {
  const input = make("input", { class: "cell-input", type: "text", role: "combobox", "aria-label": editor.name, "aria-expanded": "false", "aria-controls": "movements", "aria-autocomplete": "list", autocomplete: "off", spellcheck: "false" });
  const list = make("ul", { class: "choices", id: "movements", role: "listbox", "aria-label": "Movements", hidden: true });
  const hint = make("div", { class: "cell-hint", hidden: true });
  let at = -1, waiting = 0;
  input.value = editor.before;
  const mark = (to) => {
    at = to;
    [...list.children].forEach((row, i) => row.setAttribute("aria-selected", String(i === at)));
    const row = list.children[at];
    if (row) input.setAttribute("aria-activedescendant", row.id);
    else input.removeAttribute("aria-activedescendant");
    row?.scrollIntoView({ block: "nearest" });
  };
  const look = async () => {
    const mine = ++waiting, wanted = input.value.trim();
    const { movements } = await ask(`movements?find=${encodeURIComponent(wanted)}`).catch(() => ({ movements: [] }));
    if (mine !== waiting || editor.done) return;
    list.replaceChildren(...movements.map((name, i) => make("li", { role: "option", id: `movement-${i}`, "aria-selected": "false", onpointerdown: (event) => { event.preventDefault(); commit(editor, name); } }, name)));
    list.hidden = !movements.length;
    input.setAttribute("aria-expanded", String(!list.hidden));
    if (!list.hidden) keepInView(list, 4);
    mark(-1);
  };
  input.addEventListener("input", look);
  input.addEventListener("keydown", (event) => {
    if ((event.key === "ArrowDown" || event.key === "ArrowUp") && list.children.length) {
      event.preventDefault();
      event.stopPropagation();
      const n = list.children.length;
      mark(event.key === "ArrowDown" ? (at + 1) % n : (at - 1 + n) % n);
      return;
    }
    keysFor(editor, () => list.children[at]?.textContent ?? input.value.trim())(event);
  });
  input.addEventListener("blur", () => commit(editor, input.value.trim(), "stay"));
  place1(editor, input, hint);
  editor.cell.append(list);
  const complain = editor.complain;
  editor.complain = (problem) => { hint.hidden = false; list.hidden = true; complain(problem); };
}

function openLoad(editor) {
  const [number, unit, held, change] = splitLoad(editor.before);
  const value = make("input", { type: "text", inputmode: "decimal", autocomplete: "off" });
  value.value = number;
  const pick = (choices, chosen) => {
    const box = make("select", {}, ...Object.entries(choices).map(([v, label]) => make("option", { value: v }, label)));
    box.value = chosen;
    return box;
  };
  const parts = [value, pick(UNITS, unit), pick(HELD, held), pick(CHANGE, change)];
  const read = () => parts.map((p) => p.value.trim()).filter(Boolean).join(" ");
  const problem = make("p", { class: "problem", role: "alert" });
  const form = make("div", { class: "cell-form", role: "group", "aria-label": "Load" },
    ...["Number", "Unit", "Held", "Against before"].map((name, i) => make("label", {}, name, parts[i])), problem,
    make("div", { class: "answers" }, make("button", { type: "button", onclick: () => close(editor) }, "Leave"), make("button", { type: "button", class: "chief", onclick: () => commit(editor, read()) }, "Set load")));
  form.addEventListener("keydown", (event) => {
    event.stopPropagation();
    const onButton = event.target.tagName === "BUTTON";
    if (event.key === "Escape" || (event.key === "Enter" && !onButton)) {
      event.preventDefault();
      if (event.key === "Escape") close(editor);
      else commit(editor, read());
    }
  });
  form.addEventListener("focusout", (event) => { if (!form.contains(event.relatedTarget)) commit(editor, read(), "stay"); });
  editor.complain = (text) => { problem.textContent = text; value.focus(); };
  editor.cell.replaceChildren(...editor.inside, form);
  value.focus();
  value.select();
  keepInView(form);
}

function splitLoad(text) {
  const found = /^([\d.]*) *(lb|kg|%)? *(per hand|total)? *(lighter|heavier)?$/.exec(text) ?? [];
  return [1, 2, 3, 4].map((i) => found[i] ?? "");
}
