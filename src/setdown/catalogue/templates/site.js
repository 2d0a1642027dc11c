"use strict";
(() => {
  const data = JSON.parse(document.getElementById("catalogue").textContent);
  const form = document.querySelector("form");
  const list = document.querySelector("ol");
  const count = document.getElementById("count");
  const more = document.getElementById("more");
  const STEP = 50;
  const MOMENTS = 6;
  let shown = STEP;

  // Letters without accents, in lower case; everything else parts words.
  const tidy = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/[^\p{L}\p{N}]+/gu, " ").trim();
  const movements = data.movements.map((name) => " " + tidy(name));
  const texts = data.classes.map((one) => " " + tidy([one.title, one.by, one.date, ...one.kit.flat(),
    ...one.muscles.map((n) => data.muscles[n])].join(" ")) + one.moves.map(([n]) => movements[n]).join(""));

  const add = (parent, tag, text, name) => {
    const element = document.createElement(tag);
    if (text) element.textContent = text;
    if (name) element.className = name;
    parent.append(element);
    return element;
  };
  const clock = (seconds) => {
    const s = Math.floor(seconds), h = Math.floor(s / 3600), m = Math.floor(s / 60) % 60;
    const two = (n) => String(n).padStart(2, "0");
    return h ? `${h}:${two(m)}:${two(s % 60)}` : `${m}:${two(s % 60)}`;
  };
  const fill = (id, values) => {
    const select = document.getElementById(id);
    values.forEach((value, n) => { add(select, "option", value).value = String(n); });
  };
  fill("muscle", data.muscles);
  fill("kit", data.kit);

  // A class can be done with the kit when every piece it names is there, and one of each choice.
  const suffices = (one, kit) => one.kit.every((choice) => choice.some((piece) => kit === null || piece === kit));

  const find = () => {
    const words = tidy(form.elements.words.value).split(" ").filter(Boolean);
    const minutes = parseFloat(form.elements.minutes.value);
    const muscle = form.elements.muscle.value;
    const kit = form.elements.kit.value;
    const found = [];
    data.classes.forEach((one, n) => {
      if (words.some((word) => !texts[n].includes(" " + word))) return;
      if (minutes > 0 && one.minutes > minutes) return;
      if (muscle !== "" && !one.muscles.includes(Number(muscle))) return;
      if (kit === "none" && one.kit.length) return;
      if (kit !== "" && kit !== "none" && !suffices(one, data.kit[Number(kit)])) return;
      found.push([one, words]);
    });
    return found;
  };

  const tellMoments = (item, one, words) => {
    const hits = one.moves.filter(([n]) => words.some((word) => movements[n].includes(" " + word)));
    if (!hits.length) return;
    const line = add(item, "div", "", "moments");
    hits.flatMap(([n, ...starts]) => starts.map((start) => [start, n])).sort((a, b) => a[0] - b[0]).slice(0, MOMENTS)
      .forEach(([start, n], at) => {
        if (at) line.append(" · ");
        const text = `${clock(start)} ${data.movements[n]}`;
        if (one.media) add(line, "a", text).href = `${one.media}#t=${start}`;
        else line.append(text);
      });
  };

  const show = () => {
    const found = find();
    list.replaceChildren();
    found.slice(0, shown).forEach(([one, words]) => {
      const item = add(list, "li");
      const head = add(item, "div", "", "title");
      if (one.page) add(head, "a", one.title).href = one.page;
      else head.append(one.title);
      if (one.draft) { head.append(" "); add(head, "span", "draft", "draft"); }
      const kit = one.kit.map((choice) => choice.join(" or ")).join(", ");
      add(item, "div", [one.date, one.by, `${Math.round(one.minutes)} min`, `${one.sets} sets`, kit].filter(Boolean).join(" · "), "about");
      tellMoments(item, one, words);
    });
    count.textContent = found.length === 1 ? "1 class" : `${found.length} classes`;
    more.hidden = found.length <= shown;
  };

  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => { shown = STEP; show(); });
  more.addEventListener("click", () => { shown += STEP; show(); });
  show();
})();
