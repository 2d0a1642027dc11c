// Everything begins here.

import { $ } from "./make.js";
import { count } from "./names.js";
import { drawLine, startLine } from "./line.js";
import { startChanges } from "./changes.js";
import { startKeys } from "./keys.js";
import { startPlayer } from "./player.js";
import { drawQueries, show, startQueries } from "./queries.js";
import { startTable } from "./table.js";
import { startWalk } from "./walk.js";
import { drawWords, startWords } from "./words.js";
import { listen, listQueries, replaceAll, state, tell } from "./state.js";
import { notice, say } from "./say.js";
import { ask, change } from "./talk.js";

function drawHead() {
  const { title, status, unsaved, undo, redo, signed } = state.head;
  $("title").textContent = title;
  $("status").textContent = signed || status;
  $("status").className = `status ${status}`;
  $("saved").textContent = unsaved ? `${count(unsaved, "change")} not saved` : "all saved";
  for (const [id, what] of [["undo", undo], ["redo", redo]]) {
    $(id).disabled = !what;
    $(id).title = what ? `${id === "undo" ? "Undo" : "Do again"}: ${what}` : "";
  }
  $("save").disabled = !unsaved;
  $("signoff").disabled = status !== "draft" && !unsaved;
}

function startShade() {
  const system = matchMedia("(prefers-color-scheme: dark)");
  const put = () => {
    const own = localStorage.getItem("setdown-shade");
    const dark = own ? own === "dark" : system.matches;
    document.documentElement.dataset.shade = dark ? "dark" : "light";
    $("shade").setAttribute("aria-pressed", String(dark));
  };
  $("shade").addEventListener("click", () => {
    localStorage.setItem("setdown-shade", document.documentElement.dataset.shade === "dark" ? "light" : "dark");
    put();
  });
  system.addEventListener("change", put);
  put();
}

// Edits of an earlier run that were never saved: nothing is taken up unasked, and nothing is thrown away.
function offerKept(kept) {
  if (!kept) return;
  notice("kept", kept.message, [
    ["Take them up again", () => change("kept", { take: true }).catch(() => undefined)],
    ["Set them aside", () => change("kept", { take: false }).catch(() => undefined)],
  ]).querySelector("button").focus();
}

// Another window may have gone on in the meantime.
async function lookAgain() {
  if (document.visibilityState !== "visible" || !state.revision) return;
  const { revision } = await ask("revision").catch(() => ({ revision: state.revision }));
  if (revision === state.revision) return;
  replaceAll(await ask("class"));
  say("The class was changed in another window; this one now shows the newest.");
}

async function start() {
  startShade();
  for (const begin of [startTable, startWalk, startLine, startWords, startQueries, startChanges, startPlayer, startKeys]) begin();
  listen("data", drawHead);
  try {
    const [routine, transcript] = await Promise.all([ask("class"), ask("transcript")]);
    state.cues = transcript.cues;
    drawWords();
    replaceAll(routine);
    offerKept(routine.kept);
    const first = listQueries().find((q) => q.state === "open") ?? listQueries()[0];
    if (first) show(first.id);
    drawQueries();
    drawLine();
  } catch (error) {
    say(error.message, true);
  }
  document.addEventListener("visibilitychange", lookAgain);
  addEventListener("focus", lookAgain);
  document.body.getBoundingClientRect(); // laid out: what is measured as ready is ready
  performance.mark("ready");
  document.documentElement.dataset.ready = "";
  tell("ready");
}

start();
