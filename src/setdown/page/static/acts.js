// What is done with whole sets, and with the routine: split, join, add, move, delete; save, sign off.

import { $, make } from "./make.js";
import { form, openDialog, pickOne } from "./form.js";
import { ARRANGEMENTS, SECTIONS, clock, count } from "./names.js";
import { choose, listQueries, nameSet, state, tell } from "./state.js";
import { say } from "./say.js";
import { change, edit } from "./talk.js";

const tryEdit = (wanted) => edit(wanted).catch(() => undefined);

export function act(name) {
  const id = state.chosen, one = state.sets.get(id);
  if (!one && name !== "add") return say("Choose a set first.");
  return { split, join, add, move, delete: remove, play, up: () => shift("earlier"), down: () => shift("later") }[name](id, one);
}

function split(id, one) {
  // Where a caption begins nearest to the middle is the likeliest place.
  const middle = (one.start + one.end) / 2;
  const starts = state.cues.map(([start]) => start).filter((t) => t > one.start + 1 && t < one.end - 1);
  const likely = starts.sort((a, b) => Math.abs(a - middle) - Math.abs(b - middle))[0] ?? middle;
  return form(`Split ${nameSet(id)}`, [{ name: "at", label: "Time of the split", hint: `between ${clock(one.start)} and ${clock(one.end)}`, value: clock(likely, true) }], "Split", ({ at }) => edit({ kind: "split_set", set: id, at }));
}

function join(id) {
  const { group } = state.place.get(id), next = group.sets[group.sets.indexOf(id) + 1];
  if (!next) return say("There is no set after it in its group to join with.", true);
  return tryEdit({ kind: "join_sets", first: id, second: next });
}

function add(id, one) {
  const place = state.place.get(id);
  const group = place?.group ?? state.sections.flatMap((s) => s.groups).at(-1);
  const next = state.sets.get(state.order[(place?.index ?? -1) + 1]);
  // Shown in tenths: rounded inwards, so that the proposal touches neither neighbour.
  const start = Math.ceil((one?.end ?? 0) * 10) / 10;
  const end = Math.max(start, Math.floor(Math.min(next && next.start > start ? next.start : start + 30, state.head.duration || start + 30) * 10) / 10);
  return form("Add a set", [
    { name: "exercise", label: "Movement", value: "", need: true },
    { name: "start", label: "Start", value: clock(start, true), half: true },
    { name: "end", label: "End", value: clock(end, true), half: true },
    { name: "group", label: "Group", value: group?.id ?? "", choices: listGroups(), half: true },
  ], "Add", (given) => edit({ kind: "add_set", ...given }));
}

function listGroups() {
  return state.sections.flatMap((s) => s.groups.map((g) => [g.id, `${SECTIONS[s.kind]}, group ${g.number} (${ARRANGEMENTS[g.arrangement]})`]));
}

function move(id) {
  const { group, section } = state.place.get(id);
  const places = [...listGroups(), ["new", "a group of its own"],
    ...Object.entries(SECTIONS).filter(([kind]) => kind !== section.kind).map(([kind, name]) => [`section:${kind}`, `${name}, a group of its own`])];
  return form(`Move ${nameSet(id)}`, [{ name: "to", label: "To", hint: `It is in ${SECTIONS[section.kind]}, group ${group.number}.`, value: group.id, choices: places }], "Move", ({ to }) =>
    edit(to.startsWith("section:") ? { kind: "move_set", set: id, to: "section", where: to.slice(8) } : { kind: "move_set", set: id, to: "group", where: to }));
}

const shift = (to) => tryEdit({ kind: "move_set", set: state.chosen, to });

function remove(id) {
  const { index } = state.place.get(id), next = state.order[index + 1] ?? state.order[index - 1];
  return edit({ kind: "delete_set", set: id }).then(() => { if (next) choose(next, undefined, "act"); tell("go-to-row"); }, () => undefined);
}

function play(id, one) {
  tell("seek", one.start);
}

export const save = () => change("save").catch(() => undefined);

export function signOff() {
  const must = listQueries().filter((q) => q.state === "open" && q.severity === "must");
  if (must.length) {
    const rows = must.map((q) => [`${q.set ? `${nameSet(q.set)} at ${clock(state.sets.get(q.set).start)}: ` : ""}${q.message}`, () => tell("query", q.id)]);
    return pickOne("Not yet: this must be answered first", rows);
  }
  const rest = listQueries().filter((q) => q.state === "open").length;
  const parts = [`${count(state.order.length, "set")}, ${clock(state.head.duration)} long.`];
  if (rest) parts.push(`${count(rest, "query is", "queries are")} still open; none of them must be answered.`);
  parts.push("Your edits are saved and the routine becomes “reviewed”. Any later change makes it a draft again.");
  return form("Sign off", [{ name: "by", label: "Signed off by", value: state.head.by, need: true }], "Sign off", ({ by }) => change("signoff", { by }), parts.join(" "));
}

export function showKeys(map) {
  const parts = map.map(([where, keys]) => make("section", {}, make("h3", {}, where), make("dl", {}, ...keys.flatMap(([press, does]) => [
    make("dt", {}, ...press.split(" / ").flatMap((k, i) => [i ? " or " : "", make("kbd", {}, k)])), make("dd", {}, does)]))));
  openDialog("Keys", true, make("div", { class: "key-map" }, ...parts),
    make("div", { class: "answers" }, make("button", { type: "button", class: "chief", onclick: () => $("ask").close() }, "Close")));
}
