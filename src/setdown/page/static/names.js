// How the values of a routine are called on the page, and what may stand in a cell.

export const SECTIONS = { intro: "Introduction", warm_up: "Warm-up", main: "Main part", cool_down: "Cool-down", outro: "Closing" };
export const ARRANGEMENTS = { straight: "straight sets", superset: "superset", circuit: "circuit", interval: "intervals", flow: "flow" };
export const SIDES = { "": "–", left: "left", right: "right", each: "each" };
export const FINISHERS = { "": "–", pulses: "pulses", hold: "hold", drop: "drop", partials: "partials" };
export const UNITS = { "": "not said", lb: "lb", kg: "kg", "%": "% of 1RM" };
export const HELD = { "": "not decided", "per hand": "per hand", total: "in total" };
export const CHANGE = { "": "–", lighter: "lighter", heavier: "heavier" };
export const SEVERITY = { must: "must be answered", should: "should be looked at", note: "note" };
export const FIELDS = {
  start: "start", end: "end", exercise: "movement", round: "round", side: "side", reps: "reps", counted: "counted", work_s: "work",
  load: "load", finisher: "finisher", rest_after_s: "rest after", tempo: "tempo", effort: "effort", span: "times",
};

// kind: how the cell is changed. rare: the column is shown only when a set has a value there.
export const COLUMNS = [
  { field: "exercise", width: "", name: "Movement", kind: "movement", css: "name" },
  { field: "start", width: "4.2", name: "Start", kind: "text", css: "num", hint: "1:35 or 95.5" },
  { field: "end", width: "4.2", name: "End", kind: "text", css: "num", hint: "1:35 or 95.5" },
  { field: "round", width: "4", name: "Round", kind: "text", css: "num", hint: "a whole number" },
  { field: "side", width: "4.2", name: "Side", kind: "choice", choices: SIDES },
  { field: "reps", width: "4.6", name: "Reps", kind: "text", css: "num", hint: "10, 8-10, max or nothing" },
  { field: "work_s", width: "4.2", name: "Work", kind: "text", css: "num", hint: "seconds: 40 or 1:30" },
  { field: "rest_after_s", width: "4.2", name: "Rest", kind: "text", css: "num", hint: "seconds after the set: 30 or 1:30", rare: true },
  { field: "load", width: "9", name: "Load", kind: "load", css: "load" },
  { field: "finisher", width: "5.4", name: "Finisher", kind: "choice", choices: FINISHERS },
  { field: "tempo", width: "5", name: "Tempo", kind: "text", hint: "for example 3-1-1", rare: true },
  { field: "effort", width: "5", name: "Effort", kind: "text", hint: "for example RPE 8", rare: true },
];

export function clock(seconds, tenths = false) {
  const whole = Math.max(0, tenths ? Math.round(seconds * 10) / 10 : Math.floor(seconds));
  const hours = Math.floor(whole / 3600), minutes = Math.floor(whole / 60) % 60;
  const rest = whole % 60;
  const tail = tenths && rest % 1 ? rest.toFixed(1).padStart(4, "0") : String(Math.floor(rest)).padStart(2, "0");
  return hours ? `${hours}:${String(minutes).padStart(2, "0")}:${tail}` : `${minutes}:${tail}`;
}

export function count(n, one, many = one + "s") {
  return `${n} ${n === 1 ? one : many}`;
}
