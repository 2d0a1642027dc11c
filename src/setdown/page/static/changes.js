// What changed since the extraction, since the last save, or against another routine: shown in the rows themselves.

import { $, make, words } from "./make.js";
import { count } from "./names.js";
import { choose, listen, state } from "./state.js";
import { say } from "./say.js";
import { ask } from "./talk.js";
import { drawTable } from "./table.js";

let wanted = null;

async function compare(body) {
  wanted = body;
  try {
    const { against, sentences, sets, added, removed } = await ask("compare", body);
    const fields = new Set([...Object.values(sets), ...removed.map((r) => r.cells)].flatMap((cells) => Object.keys(cells).filter((f) => cells[f])));
    state.compared = { against, sentences, sets, added: new Set(added), removed, fields };
    show();
    drawTable();
    say(sentences.length ? `${count(sentences.length, "difference")} from ${against}.` : `Nothing differs from ${against}.`);
  } catch (error) {
    say(error.message, true);
  }
}

function show() {
  const panel = $("changes");
  panel.hidden = false;
  $("compare").setAttribute("aria-expanded", "true");
  const file = make("input", { type: "file", accept: ".json", hidden: true, onchange: pickFile, "aria-label": "A routine to compare with" });
  const choose1 = (label, against) => make("button", { type: "button", "aria-pressed": String(wanted?.against === against), onclick: () => compare({ against }) }, label);
  const tools = make("div", { class: "tools", role: "group", "aria-label": "Compare with" }, "Since ",
    choose1("the extraction", "extraction"), choose1("the last save", "saved"),
    make("button", { type: "button", "aria-pressed": String(wanted?.routine !== undefined), onclick: () => file.click() }, "another routine…"), file,
    make("button", { type: "button", class: "plain", onclick: hide }, "Hide changes"));
  const { sentences } = state.compared;
  const list = sentences.length ? make("ul", {}, ...sentences.map(line)) : make("p", {}, `Nothing differs from ${state.compared.against}.`);
  panel.replaceChildren(tools, list);
}

function line({ text, set }) {
  if (!set || !state.sets.has(set)) return make("li", {}, words(text));
  return make("li", {}, make("button", { type: "button", class: "plain", onclick: () => choose(set, undefined, "changes") }, words(text)));
}

async function pickFile(event) {
  const file = event.target.files[0];
  if (file) await compare({ routine: await file.text(), name: file.name });
}

function hide() {
  const held = $("changes").contains(document.activeElement);
  wanted = state.compared = null;
  $("changes").hidden = true;
  $("compare").setAttribute("aria-expanded", "false");
  drawTable();
  if (held) $("compare").focus();
}

export function startChanges() {
  $("compare").addEventListener("click", () => (state.compared ? hide() : compare({ against: "extraction" })));
  listen("data", () => { if (state.compared && wanted) compare(wanted); });
}
