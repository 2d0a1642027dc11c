// The cell after or before another, for the Tab key while cells are being changed.

import { $ } from "./make.js";
import { cellAt, place } from "./table.js";

export function step(id, field, by) {
  const stops = [...$("grid").querySelectorAll("tbody [data-field]")];
  place(stops[stops.indexOf(cellAt(id, field)) + by] ?? cellAt(id, field));
}
