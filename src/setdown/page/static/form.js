// A dialog with a few fields. It stays open, with the reason, while the server refuses what was given.

import { $, make, words } from "./make.js";

export function form(title, fields, label, work, intro = "") {
  const dialog = $("ask"), problem = make("p", { class: "problem", role: "alert" });
  const inputs = new Map(fields.map((f) => [f.name, makeInput(f)]));
  const rows = fields.map((f) => make("label", {}, f.label, f.hint ? make("span", { class: "hint" }, f.hint) : null, inputs.get(f.name)));
  const sheet = make("form", { method: "dialog" }, intro ? make("p", {}, words(intro)) : null, make("div", { class: "fields" }, ...rows), problem,
    make("div", { class: "answers" }, make("button", { type: "button", onclick: () => dialog.close() }, "Leave"), make("button", { type: "submit", class: "chief" }, label)));
  sheet.addEventListener("submit", async (event) => {
    event.preventDefault();
    problem.textContent = "";
    try {
      await work(Object.fromEntries([...inputs].map(([name, input]) => [name, input.value.trim()])));
      dialog.close();
    } catch (error) {
      problem.textContent = error.message;
    }
  });
  openDialog(title, false, sheet);
  const first = sheet.querySelector("input, select");
  first?.focus();
  first?.select?.();
}

function makeInput(field) {
  if (!field.choices) {
    const input = make("input", { type: "text", name: field.name, required: field.need, autocomplete: "off" });
    input.value = field.value;
    return input;
  }
  const box = make("select", { name: field.name }, ...field.choices.map(([value, text]) => make("option", { value }, text)));
  box.value = field.value;
  return box;
}

// A list to pick one line of, which then closes.
export function pickOne(title, rows) {
  const dialog = $("ask");
  const list = make("ul", { class: "query-list" }, ...rows.map(([text, work]) => make("li", {}, make("button", { type: "button", onclick: () => { dialog.close(); work(); } }, words(text)))));
  openDialog(title, false, list, make("div", { class: "answers" }, make("button", { type: "button", onclick: () => dialog.close() }, "Close")));
}

export function openDialog(title, wide, ...parts) {
  const before = document.activeElement, dialog = $("ask");
  // The heading takes the keyboard first, so that a long dialog is read from its top.
  dialog.replaceChildren(make("h2", { id: "ask-name", tabindex: "-1", autofocus: true }, words(title)), ...parts);
  dialog.classList.toggle("wide", wide);
  dialog.addEventListener("close", () => { if (before?.isConnected && document.activeElement === document.body) before.focus({ preventScroll: true }); }, { once: true });
  dialog.showModal();
  dialog.scrollTop = 0;
}
