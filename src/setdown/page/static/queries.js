// The lane of queries: one at a time, its words beside it, its suggestions as buttons.

import { $, flag, make, unseen, words } from "./make.js";
import { FIELDS, SEVERITY, clock, count } from "./names.js";
import { choose, listen, listQueries, nameSet, state, tell } from "./state.js";
import { edit } from "./talk.js";

export function drawQueries() {
  const all = listQueries(), open = all.filter((q) => q.state === "open");
  const must = open.filter((q) => q.severity === "must").length;
  $("queries-note").textContent = all.length ? `${open.length} of ${all.length} open${must ? `, ${must} must be answered` : ""}` : "";
  for (const id of ["query-back", "query-next", "query-all"]) $(id).disabled = !all.length;
  if (!state.queries.has(state.query)) state.query = (open[0] ?? all[0])?.id ?? "";
  drawCard(all);
  if (!$("query-list").hidden) drawList(all);
}

function drawCard(all) {
  const card = $("query-card"), query = state.queries.get(state.query);
  if (!query) {
    card.className = "query-card settled";
    card.replaceChildren(make("p", {}, "Nothing is asked about this class. Read it through, then sign it off."));
    return;
  }
  const one = state.sets.get(query.set);
  card.className = `query-card ${query.state === "open" ? query.severity : "settled"}`;
  const number = all.indexOf(query) + 1;
  const where = one ? make("button", { type: "button", class: "plain", onclick: () => choose(query.set, query.field, "query") }, words(nameSet(query.set)), ` at ${clock(one.start)}`) : "the whole class";
  const head = make("p", { class: "query-head" }, flag(query.severity, query.state), make("strong", {}, `${number} of ${all.length}`), SEVERITY[query.severity], where);
  const parts = [head, make("p", { class: "query-say", id: "query-say" }, words(query.message))];
  const quote = drawQuote(query, one);
  if (quote) parts.push(quote);
  if (query.state === "open") parts.push(drawAnswers(query));
  else parts.push(drawSettled(query));
  card.replaceChildren(...parts);
}

// The captions that the question rests on, or that the value in question was read from.
function drawQuote(query, one) {
  const field = query.field === "end" || query.field === "start" ? "span" : query.field;
  const pieces = query.evidence.length ? query.evidence : one?.evidence[field] ?? [];
  const rows = [];
  for (const [cue, from, to] of pieces.slice(0, 3)) {
    const said = state.cues[cue];
    if (!said) continue;
    const text = said[2], a = text.lastIndexOf(" ", Math.max(0, from - 60)) + 1;
    const rest = text.indexOf(" ", Math.min(text.length, to + 60)), b = rest < 0 ? text.length : rest;
    rows.push(make("p", {}, make("span", { class: "at" }, clock(said[0])),
      words("", {}), make("bdi", {}, a ? "… " : "", text.slice(a, from), make("mark", { class: "asked" }, text.slice(from, to)), text.slice(to, b), b < text.length ? " …" : "")));
  }
  return rows.length ? make("blockquote", { class: "query-quote" }, ...rows) : null;
}

function drawAnswers(query) {
  const list = make("div", { class: "query-answers", role: "group", "aria-labelledby": "query-say" });
  query.suggestions.slice(0, 9).forEach((text, i) => {
    list.append(make("button", { type: "button", class: "offer", "data-answer": text, onclick: () => answer(query, text) }, make("kbd", { "aria-hidden": "true" }, String(i + 1)), words(text)));
  });
  if (query.set && query.field) list.append(make("button", { type: "button", "data-other": "", onclick: other }, make("kbd", { "aria-hidden": "true" }, "E"), "Another value…"));
  list.append(make("button", { type: "button", "data-leave": "", onclick: leave }, make("kbd", { "aria-hidden": "true" }, "0"), "Leave as it is"));
  return list;
}

function drawSettled(query) {
  const how = query.state === "accepted" ? `Answered: ${query.answer || "seen to"}` : "Left as it is";
  const by = query.by ? `, by ${query.by}` : "";
  return make("div", { class: "query-answers" }, make("p", {}, words(how + by + ".")), make("button", { type: "button", "data-reopen": "", onclick: () => settle({ kind: "reopen_query", query: query.id }, false) }, "Ask again"));
}

function drawList(all) {
  $("query-list").replaceChildren(...all.map((query) => {
    const one = state.sets.get(query.set);
    const row = make("button", { type: "button", "aria-current": query.id === state.query ? "true" : "false", onclick: () => show(query.id, true) },
      flag(query.severity, query.state), unseen(query.state === "open" ? `${SEVERITY[query.severity]}, open.` : "settled."),
      make("span", { class: "at" }, one ? clock(one.start) : "class"), make("span", {}, one ? make("b", {}, words(one.cells.exercise)) : "", one ? ": " : "", words(query.message)));
    return make("li", {}, row);
  }));
}

const isInLane = () => $("queries").contains(document.activeElement);

export function show(id, focus = false) {
  const query = state.queries.get(id);
  if (!query) return;
  state.query = id;
  drawQueries();
  if (query.set) choose(query.set, query.field in FIELDS ? query.field : undefined, "query");
  else tell("query-shown");
  if (focus) $("queries").focus({ preventScroll: false });
}

export function stepQuery(by) {
  const all = listQueries(), here = all.findIndex((q) => q.id === state.query);
  const next = all[(here + by + all.length) % all.length];
  if (next) show(next.id, isInLane());
}

async function settle(wanted, onward = true) {
  const inLane = isInLane(), before = listQueries(), here = before.findIndex((q) => q.id === wanted.query);
  try {
    await edit(wanted);
  } catch {
    return;
  }
  if (onward) {
    const later = [...before.slice(here + 1), ...before.slice(0, here)].find((q) => state.queries.get(q.id)?.state === "open");
    show(later ? later.id : wanted.query);
  }
  // The button that was pressed is gone; the lane itself holds the keyboard for the next one.
  if (inLane) $("queries").focus({ preventScroll: true });
}

const answer = (query, text) => settle({ kind: "answer_query", query: query.id, answer: text });

export function answerNumber(number) {
  const query = state.queries.get(state.query), text = query?.suggestions[number - 1];
  if (query?.state === "open" && text !== undefined) answer(query, text);
}

export function leave() {
  const query = state.queries.get(state.query);
  if (query?.state === "open") settle({ kind: "dismiss_query", query: query.id });
}

// Another value is typed where the value stands: in the table.
export function other() {
  const query = state.queries.get(state.query);
  if (query?.set && query.field) tell("change-cell", { set: query.set, field: query.field, query: query.id });
}

export function startQueries() {
  $("query-back").addEventListener("click", () => stepQuery(-1));
  $("query-next").addEventListener("click", () => stepQuery(1));
  $("query-all").addEventListener("click", () => {
    const list = $("query-list");
    list.hidden = !list.hidden;
    $("query-all").setAttribute("aria-expanded", String(!list.hidden));
    drawQueries();
  });
  listen("data", drawQueries);
  listen("query", (id) => show(id, true));
  listen("chosen", ({ from }) => {
    // A set with an open query brings it up, unless the lane itself led to the set.
    const query = state.queries.get(state.query);
    if (from === "query" || query?.set === state.chosen) return;
    const own = listQueries().find((q) => q.set === state.chosen && q.state === "open");
    if (own) {
      state.query = own.id;
      drawQueries();
    }
  });
}
