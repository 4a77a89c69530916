// The box under a question. It decides nothing: what is typed or chosen is sent, and how it was read comes back.
const CSS = `
.ltl-answer { max-width: 58em; margin: .3em 0; padding: .5em .8em; border: 1px solid var(--jp-border-color1, #767676); border-radius: 4px;
  font-family: var(--jp-ui-font-family, sans-serif); font-size: 14px; line-height: 1.45; color: var(--jp-ui-font-color1, #212121); background: var(--jp-layout-color1, #fff); }
.ltl-answer fieldset { border: 0; margin: 0; padding: 0; min-width: 0; }
.ltl-answer legend, .ltl-answer .ltl-asks { font-weight: bold; padding: 0 0 .3em; }
.ltl-answer input[type=text] { font: inherit; padding: .45em .6em; min-height: 2.6em; box-sizing: border-box; width: 26em; max-width: 100%;
  color: inherit; background: var(--jp-layout-color0, #fff); border: 1px solid #767676; border-radius: 3px; }
.ltl-answer button { font: inherit; min-height: 2.6em; padding: .3em 1em; color: inherit; background: var(--jp-layout-color2, #eee); border: 1px solid #767676; border-radius: 3px; cursor: pointer; }
.ltl-answer .ltl-line { display: flex; flex-wrap: wrap; gap: .5em; align-items: center; margin: .3em 0; }
.ltl-answer label.ltl-pick { display: flex; gap: .6em; align-items: baseline; padding: .45em .3em; cursor: pointer; }
.ltl-answer label.ltl-pick:hover { background: var(--jp-layout-color2, #eee); }
.ltl-answer label.ltl-pick input { flex: none; width: 1.25em; height: 1.25em; accent-color: #0072B2; }
.ltl-answer ol { list-style: none; margin: 0; padding: 0; }
.ltl-answer li { display: flex; gap: .6em; align-items: center; padding: .25em .3em; border-bottom: 1px solid var(--jp-border-color2, #bbb); }
.ltl-answer li.ltl-held { background: var(--jp-layout-color2, #ddd); outline: 2px solid #0072B2; }
.ltl-answer li .ltl-words { flex: 1; }
.ltl-answer li .ltl-grip { cursor: grab; touch-action: none; padding: .4em .5em; user-select: none; }
.ltl-answer li button { min-width: 2.6em; padding: .2em; }
.ltl-answer table { border-collapse: collapse; margin: 0; font-size: inherit; }
.ltl-answer th, .ltl-answer td { text-align: left; font-weight: normal; padding: .2em .8em .2em 0; background: none; }
.ltl-answer td input[type=text] { width: 14em; }
.ltl-answer .ltl-told { white-space: pre-line; padding-bottom: .5em; }
.ltl-answer.ltl-practice { border-style: dashed; }
.ltl-answer.ltl-practice .ltl-heard:empty { border: 0; padding: 0; margin: 0; }
.ltl-answer [hidden] { display: none; }
.ltl-answer :focus-visible { outline: 3px solid #0072B2; outline-offset: 1px; }
.ltl-answer .ltl-moved, .ltl-answer .ltl-heard { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.ltl-answer.ltl-alone .ltl-heard { position: static; width: auto; height: auto; clip-path: none; white-space: pre-line; border-left: 5px solid #0072B2; padding: .4em .8em; margin-top: .4em; }
.ltl-answer.ltl-alone.ltl-odd .ltl-heard { border-left-color: #B85C00; }
@media (forced-colors: active) { .ltl-answer li.ltl-held { outline-color: Highlight; } }
`;
const tag = (name, attributes, parent, words) => {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (words !== undefined) made.textContent = words;
  if (parent) parent.append(made);
  return made;
};
// JupyterLab's own keys stay off while something in here has the focus.
const QUIET = { "data-lm-suppress-shortcuts": "" };

function typed(root, model, send) {
  const { title, asked, placeholder } = model.get("menu");
  const id = `ltl-${Math.random().toString(36).slice(2)}`;
  tag("label", { class: "ltl-asks", for: id }, tag("div", {}, root), `Your answer: ${title} (${asked})`);
  const line = tag("div", { class: "ltl-line" }, root);
  const field = tag("input", { type: "text", id, placeholder, autocomplete: "off", spellcheck: "false", ...QUIET }, line);
  const give = () => send(field.value);
  field.addEventListener("keydown", (event) => event.key === "Enter" && give());
  field.addEventListener("change", give);
  tag("button", { type: "button", "aria-label": `Record: ${title}`, ...QUIET }, line, "Record").addEventListener("click", give);
  return (value) => { if (document.activeElement !== field || field.value === "") field.value = value; };
}

function picked(root, model, send) {
  const { title, asked, options, kind } = model.get("menu");
  const many = kind === "choices";
  const set = tag("fieldset", {}, root);
  tag("legend", {}, set, `Your answer: ${title} (${asked})`);
  const name = `ltl-${Math.random().toString(36).slice(2)}`;
  const inputs = {};
  const give = () => send(Object.keys(inputs).filter((letter) => inputs[letter].checked).join(" "));
  for (const [letter, text] of options) {
    const label = tag("label", { class: "ltl-pick" }, set);
    inputs[letter] = tag("input", { type: many ? "checkbox" : "radio", name, value: letter, ...QUIET }, label);
    tag("b", {}, label, letter);
    tag("span", {}, label, text);
    inputs[letter].addEventListener("change", give);
  }
  return (value) => {
    const letters = new Set(value.replace(/[^a-z]/g, ""));
    for (const [letter, input] of Object.entries(inputs)) input.checked = letters.has(letter);
  };
}

function ordered(root, model, send) {
  const { title, asked, options } = model.get("menu");
  const set = tag("fieldset", {}, root);
  tag("legend", {}, set, `Your answer: ${title} (${asked})`);
  const how = tag("div", {}, set, "Drag a step by its grip ");
  tag("span", { "aria-hidden": "true" }, how, "⠿");
  how.append(", or use the arrow buttons; on a button the arrow keys move the step too. First step on top.");
  const list = tag("ol", { "aria-label": "Steps, first step on top" }, set);
  const moved = tag("div", { class: "ltl-moved", role: "status" }, set);
  const words = Object.fromEntries(options);
  const letters = () => [...list.children].map((item) => item.dataset.letter);
  const give = () => send(letters().join(" "));
  const label = () => [...list.children].forEach((item, place, all) => {
    for (const button of item.querySelectorAll("button"))
      button.setAttribute("aria-label", `${button.dataset.way === "-1" ? "Up" : "Down"}: ${words[item.dataset.letter]}, place ${place + 1} of ${all.length}`);
  });
  const tell = (item) => {
    moved.textContent = `${words[item.dataset.letter]}: now place ${[...list.children].indexOf(item) + 1} of ${list.children.length}`;
  };
  const move = (item, way) => {
    const other = way < 0 ? item.previousElementSibling : item.nextElementSibling;
    if (!other) return;
    if (way < 0) other.before(item); else other.after(item);
    label();
    tell(item);
    give();
  };
  const items = {};
  let held = null;
  for (const [letter, text] of options) {
    const item = (items[letter] = tag("li", { "data-letter": letter }, list));
    const grip = tag("span", { class: "ltl-grip", "aria-hidden": "true" }, item, "⠿");
    tag("b", {}, item, letter);
    tag("span", { class: "ltl-words" }, item, text);
    for (const [way, sign] of [[-1, "▲"], [1, "▼"]]) {
      const button = tag("button", { type: "button", "data-way": way, ...QUIET }, item, sign);
      button.addEventListener("click", () => { move(item, way); button.focus(); });
      button.addEventListener("keydown", (event) => {
        const turn = { ArrowUp: -1, ArrowDown: 1 }[event.key];
        if (!turn) return;
        event.preventDefault();
        move(item, turn);
        button.focus();
      });
    }
    grip.addEventListener("pointerdown", (event) => {
      held = { item, before: letters().join() };
      // The list, not the grip: what moves in the page loses the pointer.
      list.setPointerCapture(event.pointerId);
      item.classList.add("ltl-held");
      event.preventDefault();
    });
  }
  list.addEventListener("pointermove", (event) => {
    if (held === null) return;
    const { item } = held;
    for (const other of list.children) {
      if (other === item) continue;
      const { top, height } = other.getBoundingClientRect();
      const above = event.clientY < top + height / 2;
      const is = item.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING;
      if (above && !is) { other.before(item); break; }
      if (!above && is) other.after(item);
    }
  });
  const drop = () => {
    if (held === null) return;
    const { item, before } = held;
    held = null;
    item.classList.remove("ltl-held");
    label();
    if (letters().join() !== before) { tell(item); give(); }
  };
  for (const end of ["pointerup", "pointercancel", "lostpointercapture"]) list.addEventListener(end, drop);
  if (!model.get("menu").practice) tag("button", { type: "button", "aria-label": `Record this order: ${title}`, ...QUIET }, tag("div", { class: "ltl-line" }, set), "Record this order").addEventListener("click", give);
  return (value) => {
    const wanted = [...new Set(value.replace(/[^a-z]/g, ""))].filter((letter) => items[letter]);
    const all = wanted.length ? [...wanted, ...letters().filter((letter) => !wanted.includes(letter))] : letters();
    const had = document.activeElement;
    if (all.join() !== letters().join()) list.append(...all.map((letter) => items[letter]));
    if (list.contains(had)) had.focus();
    label();
  };
}

function grid(root, model, send) {
  const { title, asked, rows } = model.get("menu");
  const table = tag("table", {}, root);
  tag("caption", { class: "ltl-asks", style: "text-align:left" }, table, `Your answer: ${title} (${asked})`);
  const body = tag("tbody", {}, table);
  const fields = {};
  const give = () => send(Object.fromEntries(rows.map((row) => [row, fields[row].value])));
  rows.forEach((row, place) => {
    const line = tag("tr", {}, body);
    const id = `ltl-${Math.random().toString(36).slice(2)}`;
    tag("label", { for: id }, tag("th", { scope: "row" }, line), row);
    const field = (fields[row] = tag("input", { type: "text", id, placeholder: "number and unit, or OL", autocomplete: "off", spellcheck: "false", ...QUIET }, tag("td", {}, line)));
    field.addEventListener("change", give);
    field.addEventListener("keydown", (event) => {
      const way = { Enter: 1, ArrowDown: 1, ArrowUp: -1 }[event.key];
      if (!way) return;
      event.preventDefault();
      const next = fields[rows[place + way]];
      if (next) next.focus(); else if (event.key === "Enter") give();
    });
  });
  return (value) => { for (const row of rows) if (document.activeElement !== fields[row]) fields[row].value = value[row] ?? ""; };
}

const KINDS = { quantity: typed, choice: picked, choices: picked, fault: picked, order: ordered, readings: grid };

// A practice card: nothing is sent before "Check it" is pressed, and "Another card" brings a new one.
function practiced({ model, el }) {
  const root = tag("div", { class: "ltl-answer ltl-practice ltl-alone" }, el);
  let turn = 0, heard = null, number = null;
  const build = () => {
    const { kind, title, name, options, practice, told } = model.get("menu");
    const again = number !== null;
    number = practice;
    root.replaceChildren();
    root.dataset.question = name;
    const first = tag("div", { class: "ltl-told", tabindex: "-1" }, root, told);
    const start = kind === "readings" ? {} : kind === "order" ? options.map(([letter]) => letter).join(" ") : "";
    let now = start;
    const set = KINDS[kind](root, model, (value) => { now = value; });
    set(start);
    const line = tag("div", { class: "ltl-line" }, root);
    const button = (words, content) => tag("button", { type: "button", "aria-label": `${words}: ${title}`, ...QUIET }, line, words)
      .addEventListener("click", () => model.send({ ...content(), turn: ++turn }));
    button("Check it", () => ({ value: now }));
    button("Another card", () => ({ another: true }));
    heard = tag("div", { class: "ltl-heard", role: "status" }, root);
    if (again) first.focus();
  };
  const show = () => {
    if (model.get("menu").practice !== number) build();
    heard.textContent = model.get("said");
    root.classList.toggle("ltl-odd", !model.get("fine"));
    root.dataset.turn = model.get("turn");
  };
  model.on("change", show);
  show();
  return () => model.off("change", show);
}

function render({ model, el }) {
  tag("style", {}, el, CSS);
  if (model.get("menu").practice) return practiced({ model, el });
  const { kind, title, name } = model.get("menu");
  const root = tag("div", { class: "ltl-answer", "data-question": name }, el);
  let turn = 0, last = null;
  const send = (value) => {
    const now = JSON.stringify(value);
    if (now === last) return;
    last = now;
    model.send({ value, turn: ++turn });
  };
  const make = KINDS[kind];
  const set = make ? make(root, model, send) : () => {};
  if (!make) tag("div", { class: "ltl-asks" }, root, `Your answer: ${title} (what you do on the bench goes in with this page)`);
  const back = tag("button", { type: "button", "aria-label": `Take this answer back: ${title}`, ...QUIET }, tag("div", { class: "ltl-line" }, root), "Take this answer back");
  back.addEventListener("click", () => { last = null; model.send({ value: null, turn: ++turn }); });
  const heard = tag("div", { class: "ltl-heard", role: "status" }, root);
  const first = model.get("said");
  const show = () => {
    set(model.get("value"));
    const said = model.get("said");
    heard.textContent = model.get("turn") > 0 || said !== first ? said : "";
    back.parentElement.hidden = !model.get("boxed");
    root.classList.toggle("ltl-odd", !model.get("fine"));
    root.dataset.turn = model.get("turn");
    // The words stand above, in the cell's own output. A page that was loaded anew may not get them there: say them here.
    clearTimeout(later);
    later = setTimeout(() => {
      const alone = !landed();
      root.classList.toggle("ltl-alone", alone);
      if (alone) heard.textContent = `${said}\nIt is kept. Choose Run, then Run All Cells, and the page shows it above.`;
    }, 700);
  };
  let later = 0;
  const plain = (words) => words.replace(/\s+/g, "");
  const landed = () => {
    const area = el.closest(".jp-OutputArea, .output_area, .cell-output");
    const others = area ? [...area.querySelectorAll(".jp-OutputArea-output")].filter((one) => !one.contains(root)) : [];
    const lines = model.get("said").split("\n").map(plain);
    return others.some((one) => lines.every((line) => plain(one.textContent).includes(line)));
  };
  model.on("change", show);
  show();
  return () => model.off("change", show);
}

export default { render };
