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

// kind: how the cell is changed. width: in rem; long: in a class of an hour or more. rare: the column is shown only when a
// set has a value there.
export const COLUMNS = [
  { field: "exercise", width: "", name: "Movement", kind: "movement", css: "name" },
  { field: "start", width: "3.8", long: "4.8", name: "Start", kind: "text", css: "num", hint: "1:35 or 95.5" },
  { field: "end", width: "3.8", long: "4.8", name: "End", kind: "text", css: "num", hint: "1:35 or 95.5" },
  { field: "round", width: "3.9", name: "Round", kind: "text", css: "num", hint: "a whole number" },
  { field: "side", width: "3.4", name: "Side", kind: "choice", choices: SIDES },
  { field: "reps", width: "3.8", name: "Reps", kind: "text", css: "num", hint: "10, 8-10, max or nothing" },
  { field: "work_s", width: "3.6", name: "Work", kind: "text", css: "num", hint: "seconds: 40 or 1:30" },
  { field: "load", width: "7.8", name: "Load", kind: "load", css: "load" },
  { field: "finisher", width: "4.9", name: "Finisher", kind: "choice", choices: FINISHERS },
  { field: "rest_after_s", width: "3.6", name: "Rest", kind: "text", css: "num", hint: "seconds after the set: 30 or 1:30", rare: true },
  { field: "tempo", width: "4.6", name: "Tempo", kind: "text", hint: "for example 3-1-1", rare: true },
  { field: "effort", width: "4.6", name: "Effort", kind: "text", hint: "for example RPE 8", rare: true },
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
