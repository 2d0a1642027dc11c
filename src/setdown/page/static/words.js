// The transcript, with the words that the chosen set rests on.

import { $, bringInto, make, putHigh, words } from "./make.js";
import { FIELDS, clock } from "./names.js";
import { choose, listen, state, tell } from "./state.js";

// Captions by the hundred: the browser leaves out the laying out of hundreds that are not in sight.
const CHUNK = 100;
let marked = [], rows = [];

export function drawWords() {
  const list = $("cues");
  if (!state.cues.length) {
    list.replaceChildren(make("p", { class: "empty" }, "The transcript is not beside the routine. Name it with --transcript to see what was said."));
    list.removeAttribute("role");
    return;
  }
  rows = state.cues.map(([start, , text, speaker], i) => {
    const said = make("p", { dir: "auto" });
    fill(said, text, speaker, []);
    return make("div", { class: "cue", role: "listitem", "data-cue": String(i) }, make("button", { type: "button", tabindex: i ? "-1" : "0" }, clock(start)), said);
  });
  const chunks = [];
  for (let i = 0; i < rows.length; i += CHUNK) chunks.push(make("div", { class: "chunk" }, ...rows.slice(i, i + CHUNK)));
  list.replaceChildren(...chunks);
  show();
}

function fill(paragraph, text, speaker, spans) {
  const parts = speaker ? [words(speaker, { class: "speaker" })] : [];
  let at = 0;
  for (const [from, to, field, kind] of spans) {
    if (from < at) continue;
    parts.push(text.slice(at, from), make("mark", { class: kind, "data-field": FIELDS[field] ?? field, title: FIELDS[field] ?? field }, text.slice(from, to)));
    at = to;
  }
  parts.push(text.slice(at));
  paragraph.replaceChildren(...parts);
}

// Spans by cue: the field that is asked about first, then the other values, then coaching.
function findSpans(one, query) {
  const found = new Map();
  const field = state.field === "start" || state.field === "end" ? "span" : state.field;
  const add = (cue, from, to, name, kind) => {
    if (!state.cues[cue]) return;
    if (!found.has(cue)) found.set(cue, []);
    const held = found.get(cue);
    if (!held.some(([a, b]) => from < b && a < to)) held.push([from, to, name, kind]);
  };
  for (const [cue, from, to] of query?.evidence ?? []) add(cue, from, to, query.field || "span", "asked");
  for (const [cue, from, to] of one?.evidence[field] ?? []) add(cue, from, to, field, "asked");
  for (const [name, pieces] of Object.entries(one?.evidence ?? {})) {
    if (name !== "span" && name !== field) for (const [cue, from, to] of pieces) add(cue, from, to, name, "");
  }
  for (const [kind, cue, from, to] of one?.coaching ?? []) add(cue, from, to, kind, "coaching");
  for (const spans of found.values()) spans.sort((a, b) => a[0] - b[0]);
  return found;
}

function show() {
  for (const i of marked) {
    const row = rows[i];
    if (!row) continue;
    row.classList.remove("during");
    fill(row.lastChild, state.cues[i][2], state.cues[i][3], []);
  }
  marked = [];
  const one = state.sets.get(state.chosen);
  const query = state.queries.get(state.query);
  const about = query && query.set === state.chosen ? query : undefined;
  if ((!one && !about) || !state.cues.length) return void ($("words-note").textContent = "");
  const spans = findSpans(one, about);
  const touched = new Set(spans.keys());
  if (one) state.cues.forEach(([start, end], i) => {
    if (start < one.end && end > one.start) {
      touched.add(i);
      rows[i].classList.add("during");
    }
  });
  for (const [i, found] of spans) fill(rows[i].lastChild, state.cues[i][2], state.cues[i][3], found);
  marked = [...touched];
  $("words-note").textContent = one ? `${FIELDS[state.field] ?? ""} of ${one.cells.exercise}` : "";
  const goal = findGoal(one, spans);
  if (goal) {
    putHigh($("words-view"), goal);
    rove(goal.firstChild, false);
  }
}

// Of the captions that the value rests on the one nearest to the set: the others may be an announcement long before.
function findGoal(one, spans) {
  const asked = [...spans].filter(([, found]) => found.some(([, , , kind]) => kind === "asked")).map(([cue]) => cue);
  const cues = asked.length ? asked : marked;
  const off = (cue) => (one ? Math.abs(state.cues[cue][0] - one.start) : cue);
  return rows[[...cues].sort((a, b) => off(a) - off(b))[0]];
}

// One stop for the Tab key; the arrow keys go from caption to caption.
function rove(button, focus = true) {
  for (const other of $("cues").querySelectorAll('button[tabindex="0"]')) other.tabIndex = -1;
  button.tabIndex = 0;
  if (focus) {
    button.focus({ preventScroll: true });
    bringInto($("words-view"), button.parentElement);
    button.scrollIntoView({ block: "nearest" });
  }
}

export function stepWords(by) {
  const row = document.activeElement?.closest?.(".cue") ?? $("cues").querySelector('button[tabindex="0"]')?.parentElement;
  const next = rows[Number(row?.dataset.cue) + by];
  if (next) rove(next.firstChild);
}

function pick(row) {
  const cue = state.cues[Number(row.dataset.cue)];
  if (!cue) return;
  const [start, end] = cue;
  const id = state.order.find((i) => state.sets.get(i).start < end && state.sets.get(i).end > start);
  rove(row.firstChild, false);
  if (id) choose(id, undefined, "words");
  tell("seek", start);
}

export function startWords() {
  $("cues").addEventListener("click", (event) => {
    const row = event.target.closest(".cue");
    if (row && !String(getSelection())) pick(row);
  });
  listen("chosen", show);
  listen("query-shown", show);
  listen("data", ({ sets }) => { if (sets.includes(state.chosen)) show(); });
}
