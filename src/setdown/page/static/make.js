// Elements out of text. Nothing on the page is ever made from a string of HTML, so that words stay words.

export const $ = (id) => document.getElementById(id);

export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (name === "class") element.className = value;
    else if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.filter((child) => child !== null && child !== undefined));
  return element;
}

// Words of a transcript or of a person: their direction does not spill over into the words around them.
export const words = (text, attributes = {}) => make("bdi", attributes, text);

export const unseen = (text) => make("span", { class: "unseen" }, text);

export function flag(severity, state = "open") {
  return make("span", { class: `flag ${state === "open" ? severity : "done"}`, "aria-hidden": "true" });
}

// Scrolls only the box itself: scrollIntoView would move the whole page too.
export function bringInto(view, element, gap = 8) {
  const box = view.getBoundingClientRect(), at = element.getBoundingClientRect();
  const head = view.querySelector("thead")?.getBoundingClientRect().height ?? 0;
  if (at.top < box.top + head + gap) view.scrollTop -= box.top + head + gap - at.top;
  else if (at.bottom > box.bottom - gap) view.scrollTop += Math.min(at.bottom - box.bottom + gap, at.top - box.top - head - gap);
}

// A quarter down from the top of the box; again in the next frames, because rows never shown are only guessed in height.
export function putHigh(view, element, tries = 6) {
  const off = element.getBoundingClientRect().top - view.getBoundingClientRect().top - view.clientHeight / 4;
  view.scrollTop += off;
  if (tries && Math.abs(off) > 1 && element.isConnected) requestAnimationFrame(() => putHigh(view, element, tries - 1));
}
