// Messages: a live line at the foot for what happened, a notice at the top for what needs an answer.

import { $, make, words } from "./make.js";
import { replaceAll } from "./state.js";

let fading;

export function say(text, bad = false) {
  const line = $("live");
  clearTimeout(fading);
  line.textContent = "";
  line.classList.toggle("bad", bad);
  // Emptied and filled in two steps, so that the same words are read out again.
  requestAnimationFrame(() => { line.textContent = text; });
  fading = setTimeout(() => { line.textContent = ""; }, bad ? 15000 : 6000);
}

export function notice(id, text, answers, bad = false) {
  dropNotice(id);
  const box = make("div", { class: `notice${bad ? " bad" : ""}`, id: `notice-${id}`, role: bad ? "alert" : "group" }, make("p", {}, words(text)));
  for (const [label, work] of answers) {
    box.append(make("button", { type: "button", onclick: () => { dropNotice(id); work(); } }, label));
  }
  $("notices").append(box);
  return box;
}

export function dropNotice(id) {
  $(`notice-${id}`)?.remove();
}

export function offerConflict(data, again) {
  const load = async () => {
    const { ask } = await import("./talk.js");
    replaceAll(await ask("class"));
  };
  const answers = data.file
    ? [["Bring both together", async () => { await (await import("./talk.js")).change("rejoin", {}).catch(() => undefined); }]]
    : [["Show the newest", load], ["Show the newest and do mine again", async () => { await load(); await again().catch(() => undefined); }]];
  notice("conflict", data.message, answers, true).querySelector("button").focus();
}
