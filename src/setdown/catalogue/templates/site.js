"use strict";
(() => {
  const data = JSON.parse(document.getElementById("catalogue").textContent);
  const byId = (id) => document.getElementById(id);
  const form = document.querySelector("form");
  const fields = form.elements;
  const list = document.querySelector("ol");
  const STEP = 50;
  const MOMENTS = 6;
  const MUSCLES = 3;
  const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
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
  const tellDay = (day) => {
    const [year, month, number] = day.split("-").map(Number);
    return day ? `${number} ${MONTHS[month - 1]} ${year}` : "no date";
  };
  const listWords = (words) => words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words.at(-1)}` : words.join("");

  data.muscles.forEach((name, n) => { add(byId("muscle"), "option", name).value = String(n); });
  const instructors = [...new Set(data.classes.map((one) => one.by).filter(Boolean))].sort((a, b) => a.localeCompare(b));
  instructors.forEach((name) => { add(byId("by"), "option", name).value = name; });
  ["no kit at all", ...data.kit].forEach((name, n) => {
    const label = add(document.querySelector(".kit"), "label");
    const box = add(label, "input");
    box.type = "checkbox";
    box.name = n ? "piece" : "none";
    box.value = name;
    add(label, "span", name);
  });
  const boxes = [...document.querySelectorAll(".kit input")];

  // A class can be done with the kit when every piece it names is there, and one of each choice.
  const suffices = (one, kit) => one.kit.every((choice) => choice.some((piece) => kit.has(piece)));

  const ask = () => {
    const ticked = boxes.filter((box) => box.checked);
    return {
      words: tidy(fields.words.value).split(" ").filter(Boolean),
      minutes: parseFloat(fields.minutes.value),
      muscle: fields.muscle.value,
      by: fields.by.value,
      anyKit: !ticked.length,
      kit: new Set(ticked.filter((box) => box.name === "piece").map((box) => box.value)),
    };
  };

  const find = (asked) => data.classes.filter((one, n) =>
    asked.words.every((word) => texts[n].includes(" " + word))
    && !(asked.minutes > 0 && one.minutes > asked.minutes)
    && (asked.muscle === "" || one.muscles.includes(Number(asked.muscle)))
    && (asked.by === "" || one.by === asked.by)
    && (asked.anyKit || suffices(one, asked.kit)));

  const tellMoments = (parent, one, words) => {
    // Of the movements those that have most of the words: "goblet squat" is not shown every squat.
    const score = ([n]) => words.filter((word) => movements[n].includes(" " + word)).length;
    const best = Math.max(...one.moves.map(score), 0);
    if (!best) return;
    const hits = one.moves.filter((move) => score(move) === best);
    const line = add(parent, "div", "", "moments");
    const moments = hits.flatMap(([n, ...starts]) => starts.map((start) => [start, n])).sort((a, b) => a[0] - b[0]);
    moments.slice(0, MOMENTS).forEach(([start, n]) => {
      const moment = add(line, one.media ? "a" : "span");
      if (one.media) moment.href = `${one.media}#t=${start}`;
      add(moment, "time", clock(start));
      moment.append(data.movements[n]);
    });
    if (moments.length > MOMENTS) add(line, "span", `and ${moments.length - MOMENTS} more`, "rest");
  };

  const tellClass = (one, words) => {
    const item = add(list, "li");
    add(item, "div", tellDay(one.date), "day");
    const what = add(item, "div", "", "what");
    const head = add(what, "div", "", "title");
    if (one.page) add(head, "a", one.title).href = one.page;
    else head.append(one.title);
    if (one.draft) add(head, "span", "draft", "draft");
    if (one.by) add(what, "div", one.by, "by");
    const works = listWords(one.muscles.slice(0, MUSCLES).map((n) => data.muscles[n]));
    const kit = one.kit.map((choice) => choice.join(" or ")).join(", ") || "no kit";
    add(what, "div", [works, kit].filter(Boolean).join(" · "), "about");
    tellMoments(what, one, words);
    const length = add(item, "div", "", "length");
    add(length, "b", `${Math.round(one.minutes)} min`);
    add(length, "span", one.sets === 1 ? "1 set" : `${one.sets} sets`);
  };

  const show = () => {
    const asked = ask();
    const found = find(asked);
    list.replaceChildren();
    found.slice(0, shown).forEach((one) => tellClass(one, asked.words));
    byId("count").textContent = found.length === 1 ? "1 class" : `${found.length} classes`;
    byId("kit-chosen").textContent = asked.anyKit ? "any" : [...asked.kit].join(", ") || "none";
    byId("none").hidden = found.length > 0;
    byId("more").hidden = found.length <= shown;
    byId("clear").hidden = !(asked.words.length || asked.minutes > 0 || asked.muscle || asked.by || !asked.anyKit);
  };

  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", () => { shown = STEP; show(); });
  byId("more").addEventListener("click", () => { shown += STEP; show(); });
  byId("clear").addEventListener("click", () => { form.reset(); shown = STEP; show(); fields.words.focus(); });
  window.addEventListener("pageshow", show);  // on the way back a browser may fill in what was asked
  show();
})();
