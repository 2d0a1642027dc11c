// What the page knows of the class, and what is chosen. Parts of the page subscribe; nobody else changes it.

export const state = {
  revision: 0, head: {}, sections: [], sets: new Map(), queries: new Map(), cues: [],
  order: [], place: new Map(), chosen: "", field: "exercise", query: "", compared: null,
};

const listeners = [];

export function listen(topic, work) {
  listeners.push([topic, work]);
}

export function tell(topic, detail) {
  for (const [wanted, work] of listeners) if (wanted === topic) work(detail);
}

// The whole class, or only what an edit changed: a set or query that is null is gone.
export function take(answer) {
  const { revision, head, sections, sets, queries } = answer;
  if (revision === undefined) return;
  state.revision = revision;
  if (head) state.head = head;
  for (const [id, one] of Object.entries(queries ?? {})) put(state.queries, id, one);
  for (const [id, one] of Object.entries(sets ?? {})) put(state.sets, id, one);
  if (sections) {
    state.sections = sections;
    arrange();
  }
  if (!state.sets.has(state.chosen)) state.chosen = "";
  tell("data", { structure: Boolean(sections), sets: Object.keys(sets ?? {}), queries: Object.keys(queries ?? {}) });
  if (answer.select && state.sets.has(answer.select)) choose(answer.select, answer.field);
}

export function replaceAll(answer) {
  state.sets.clear();
  state.queries.clear();
  take(answer);
}

function put(map, id, one) {
  if (one === null) map.delete(id);
  else map.set(id, one);
}

function arrange() {
  state.order = [];
  state.place.clear();
  let number = 0;
  for (const section of state.sections) {
    for (const group of section.groups) {
      group.number = ++number;
      for (const id of group.sets) {
        state.place.set(id, { section, group, index: state.order.length });
        state.order.push(id);
      }
    }
  }
}

// Choosing a set shows it everywhere: in the time line, the table and the transcript.
export function choose(id, field, from = "") {
  const before = state.chosen, fieldBefore = state.field;
  state.chosen = id;
  if (field) state.field = field;
  if (before !== id || fieldBefore !== state.field || from) tell("chosen", { before, from });
}

export const openQueries = (id) => queriesOf(id).filter((query) => query.state === "open");

export function queriesOf(id) {
  listQueries();
  return bySet.get(id) ?? [];
}

// In order of time; what is about the whole class comes first.
let listed = null, bySet = new Map();
listen("data", () => { listed = null; });

export function listQueries() {
  if (!listed) {
    listed = [...state.queries.values()].sort((a, b) => when(a) - when(b));
    bySet = Map.groupBy ? Map.groupBy(listed, (query) => query.set) : listed.reduce((map, query) => map.set(query.set, [...(map.get(query.set) ?? []), query]), new Map());
  }
  return listed;
}

const when = (query) => state.sets.get(query.set)?.start ?? -1;

export function nameSet(id) {
  const one = state.sets.get(id);
  if (!one) return "the whole class";
  const round = state.place.get(id)?.group.rounds > 1 || one.cells.round !== "1" ? `, round ${one.cells.round}` : "";
  const side = one.cells.side ? `, ${one.cells.side}` : "";
  return `${one.cells.exercise}${round}${side}`;
}
