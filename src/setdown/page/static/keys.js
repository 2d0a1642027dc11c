// The keys, once: what the page says they do, and doing it. Single letters act only where the keyboard is in that part.

import { $ } from "./make.js";
import { answerNumber, leave, other, stepQuery } from "./queries.js";
import { save, showKeys, signOff } from "./acts.js";
import { step, zoom } from "./line.js";
import { playOrPause } from "./player.js";
import { choose, state, tell } from "./state.js";
import { stepWords } from "./words.js";
import { change } from "./talk.js";

export const MAP = [
  ["Everywhere", [
    ["Alt+1", "to the time line"], ["Alt+2", "to the queries"], ["Alt+3", "to the sets"], ["Alt+4", "to the transcript"],
    ["Ctrl+Z", "undo"], ["Ctrl+Shift+Z / Ctrl+Y", "redo"], ["Ctrl+S", "save"], ["Alt+P", "play or pause the recording"], ["Alt+K", "these keys"],
  ]],
  ["In the queries", [
    ["← / →", "query before, next query"], ["1 to 9", "take the suggestion with that number"], ["E", "another value, typed in the table"], ["0", "leave it as it is"],
  ]],
  ["In the sets", [
    ["Arrows", "from cell to cell"], ["Enter / F2", "change the cell"], ["Tab", "while changing: keep it and go on"], ["Esc", "while changing: leave it as it was"],
    ["S", "split the set"], ["J", "join it with the next"], ["A", "add a set after it"], ["M", "move it to another group or section"],
    ["Alt+↑ / Alt+↓", "change places with the set before, after"], ["Delete", "delete it"], ["P", "play it"],
  ]],
  ["In the time line", [["← / →", "set before, next set"], ["Home / End", "first, last set"], ["Enter", "to its row"], ["+ / −", "closer, further"]]],
  ["In the transcript", [["↑ / ↓", "caption before, next caption"], ["Enter", "choose the set that was done then"]]],
];

const isTyping = (target) => target.matches("input, select, textarea, video, audio");

const everywhere = {
  "Alt+Digit1": () => $("line-sets").focus(),
  "Alt+Digit2": () => $("queries").focus(),
  "Alt+Digit3": () => tell("go-to-row"),
  "Alt+Digit4": () => ($("cues").querySelector('button[tabindex="0"]') ?? $("words")).focus(),
  "Alt+KeyP": playOrPause,
  "Alt+KeyK": () => showKeys(MAP),
  "Ctrl+KeyS": save,
};
const undoing = {
  "Ctrl+KeyZ": () => $("undo").disabled || change("undo").catch(() => undefined),
  "Ctrl+Shift+KeyZ": () => $("redo").disabled || change("redo").catch(() => undefined),
  "Ctrl+KeyY": () => $("redo").disabled || change("redo").catch(() => undefined),
};

const lineKeys = {
  ArrowRight: () => step(1), ArrowLeft: () => step(-1), ArrowDown: () => step(1), ArrowUp: () => step(-1), Home: () => step(-Infinity), End: () => step(Infinity),
  Enter: () => tell("go-to-row"), "+": () => zoom(2), "-": () => zoom(0.5),
};
const laneKeys = { ArrowRight: () => stepQuery(1), ArrowLeft: () => stepQuery(-1), e: other, 0: leave };
const wordKeys = { ArrowDown: () => stepWords(1), ArrowUp: () => stepWords(-1) };

function chord(event) {
  const ctrl = event.ctrlKey || event.metaKey;
  // The letter that is printed on the key, the digit wherever it is: keyboards differ in both.
  const key = /^[a-z]$/i.test(event.key) ? `Key${event.key.toUpperCase()}` : event.code;
  return (ctrl ? "Ctrl+" : "") + (event.altKey ? "Alt+" : "") + (event.shiftKey ? "Shift+" : "") + key;
}

function pressed(event) {
  if ($("ask").open || event.defaultPrevented) return;
  const wanted = everywhere[chord(event)] ?? (isTyping(event.target) ? undefined : undoing[chord(event)]);
  if (wanted) {
    event.preventDefault();
    wanted();
    return;
  }
  if (event.ctrlKey || event.altKey || event.metaKey || isTyping(event.target)) return;
  const part = event.target.closest("#line-sets, #queries, #cues");
  const own = { "line-sets": lineKeys, queries: laneKeys, cues: wordKeys }[part?.id]?.[event.key];
  if (own) {
    event.preventDefault();
    own();
  } else if (part?.id === "queries" && /^[1-9]$/.test(event.key)) {
    event.preventDefault();
    answerNumber(Number(event.key));
  }
}

export function startKeys() {
  document.addEventListener("keydown", pressed);
  $("keys").addEventListener("click", () => showKeys(MAP));
  $("save").addEventListener("click", save);
  $("signoff").addEventListener("click", signOff);
  $("undo").addEventListener("click", () => undoing["Ctrl+KeyZ"]());
  $("redo").addEventListener("click", () => undoing["Ctrl+KeyY"]());
  $("line-sets").addEventListener("focus", () => { if (!state.chosen && state.order.length) choose(state.order[0], undefined, "line"); });
}
