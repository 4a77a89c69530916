// The bench panel: draws what Python sends, sends acts back. It decides nothing about the machine.
const SVG = "http://www.w3.org/2000/svg";
const STYLE = `
.ltl-bench { background: #fff; color: #111; font: 15px/1.4 system-ui, sans-serif; padding: 0.6em; border: 1px solid #777; max-width: 1240px; box-sizing: border-box; }
.ltl-bench * { box-sizing: border-box; }
.ltl-bench :focus-visible { outline: 3px solid #0050a0; outline-offset: 2px; }
.ltl-bench .ltl-page { overflow-x: auto; }
.ltl-bench .ltl-page svg { display: block; width: 100%; min-width: 860px; height: auto; touch-action: none; user-select: none; }
.ltl-bench .ltl-meter { display: flex; flex-wrap: wrap; gap: 0.3em 1em; align-items: center; border: 2px solid #333; padding: 0.4em 0.7em; background: #f6f6f6; }
.ltl-bench .ltl-face { flex: 1 1 15em; min-width: 0; }
.ltl-bench .ltl-shown { font: 700 2.1em/1.2 ui-monospace, monospace; min-height: 1.2em; }
.ltl-bench .ltl-of { min-height: 2.8em; }
.ltl-bench .ltl-dial { flex: 3 1 24em; }
.ltl-bench .ltl-keys { flex: 2 1 18em; }
.ltl-bench .ltl-old { color: #555; font-style: italic; font-weight: 400; }
.ltl-bench fieldset { border: 1px solid #999; margin: 0.4em 0 0; padding: 0.2em 0.6em 0.5em; min-width: 0; }
.ltl-bench legend { font-weight: 700; padding: 0 0.3em; }
.ltl-bench label.ltl-pick { display: inline-block; padding: 0.15em 0; margin-right: 1.1em; white-space: nowrap; }
.ltl-bench button, .ltl-bench select, .ltl-bench input[type=number] { font: inherit; color: #111; background: #fff; border: 1px solid #444; border-radius: 3px; padding: 0.25em 0.6em; margin: 0.1em; min-height: 2em; }
.ltl-bench button { cursor: pointer; }
.ltl-bench button:hover { background: #e4e4e4; }
.ltl-bench button[aria-pressed=true] { background: #333; color: #fff; }
.ltl-bench .ltl-acts { display: flex; flex-wrap: wrap; gap: 0.5em; }
.ltl-bench .ltl-acts fieldset { flex: 1 1 23em; }
.ltl-bench .ltl-row { display: flex; flex-wrap: wrap; align-items: center; gap: 0.2em 0.4em; padding: 0.1em 0; }
.ltl-bench .ltl-row > span { min-width: 8.5em; }
.ltl-bench .ltl-say { border-left: 5px solid #0072B2; padding: 0.3em 0.7em; margin: 0.5em 0; min-height: 2em; }
.ltl-bench .ltl-say:empty { border-color: transparent; }
.ltl-bench .ltl-say.ltl-refused { border-left: 5px dashed #B85C00; font-weight: 600; }
.ltl-bench .ltl-logs { display: flex; flex-wrap: wrap; gap: 0.6em; }
.ltl-bench .ltl-logs > section { flex: 1 1 22em; min-width: 0; }
.ltl-bench .ltl-list { max-height: 14em; overflow-y: auto; border: 1px solid #999; padding: 0.3em 0.6em; }
.ltl-bench .ltl-list ol { margin: 0; padding-left: 2.2em; }
.ltl-bench .ltl-head { margin: 0.3em 0 0.2em; font-size: 1em; font-weight: bold; }
.ltl-bench .ltl-finding { border-left: 5px solid #777; padding: 0.2em 0.6em; margin: 0.3em 0; }
.ltl-bench .ltl-finding.ltl-gate { border-left-color: #B85C00; }
.ltl-bench .ltl-hint { color: #333; margin: 0.2em 0 0.5em; max-width: 70em; }
.ltl-bench svg text { font: 600 14px system-ui, sans-serif; fill: #111; }
.ltl-bench svg text.ltl-part { font-weight: 400; font-size: 13px; }
.ltl-bench svg text.ltl-word { font-weight: 400; font-size: 13px; font-style: italic; }
.ltl-bench svg .ltl-point { cursor: pointer; }
.ltl-bench svg .ltl-point:focus { outline: none; }
.ltl-bench svg .ltl-point .ltl-ring { fill: none; stroke: none; }
.ltl-bench svg .ltl-point:focus-visible .ltl-ring { stroke: #0050a0; stroke-width: 4; }
.ltl-bench svg .ltl-point.ltl-away .ltl-dot { fill: #bbb; stroke: #777; }
.ltl-bench svg .ltl-point.ltl-away text { fill: #555; }
.ltl-bench svg .ltl-point:hover .ltl-dot { stroke-width: 4; }
.ltl-bench svg .ltl-tag { cursor: grab; }
@media (prefers-reduced-motion: no-preference) { .ltl-bench .ltl-say { transition: border-color 0.2s; } }
`;

function svg(name, attributes, parent, text) {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  if (parent) parent.append(made);
  return made;
}

function tag(name, attributes, parent, text) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  if (parent) parent.append(made);
  return made;
}

function beside(side, left, top, wide, high, gap) {
  if (side === "above") return { x: left + wide / 2, y: top - gap, "text-anchor": "middle" };
  if (side === "below") return { x: left + wide / 2, y: top + high + gap + 10, "text-anchor": "middle" };
  if (side === "left") return { x: left - gap, y: top + high / 2 + 5, "text-anchor": "end" };
  return { x: left + wide + gap, y: top + high / 2 + 5, "text-anchor": "start" };
}

/* --- the drawing ----------------------------------------------------------------------------------------------- */

function drawGround(page, drawing) {
  const [left, top, wide, high] = drawing.cover;
  const ground = svg("rect", { x: left, y: top, width: wide, height: high, stroke: "#777", "stroke-dasharray": "6 5" }, page);
  const said = svg("text", { x: left + wide / 2, y: top - 10, "text-anchor": "middle", class: "ltl-word" }, page);
  const [bx, by, bw, bh] = drawing.board;
  svg("rect", { x: bx, y: by, width: bw, height: bh, fill: "#f4f4f4", stroke: "#333" }, page);
  const [from, to, y] = drawing.case;
  svg("line", { x1: from, x2: to, y1: y, y2: y, stroke: "#777", "stroke-width": 8 }, page);
  return { ground, said };
}

function drawWires(page, drawing) {
  const wires = {};
  for (const wire of drawing.wires) {
    const points = wire.corners.map((corner) => corner.join(",")).join(" ");
    const line = svg("polyline", { points, fill: "none", stroke: "#333", "stroke-width": 2 }, page);
    if (!wire.name) continue;
    const [[x, y], [u, v]] = wire.corners;
    const off = svg("text", { x: (x + u) / 2, y: (y + v) / 2 - 6, "text-anchor": "middle", class: "ltl-part" }, page, "off");
    wires[wire.name] = { line, off };
  }
  return wires;
}

function drawParts(page, drawing) {
  for (const part of drawing.parts) {
    svg("line", { x1: part.from[0], y1: part.from[1], x2: part.to[0], y2: part.to[1], stroke: "#333", "stroke-width": 2 }, page);
    const [x, y, width, height] = part.box;
    svg("rect", { x, y, width, height, fill: "#fff", stroke: "#333", "stroke-width": 1.5 }, page);
    const place = beside(part.side, x, y, width, height, 6);
    const cut = part.side === "below" && part.name.length > 12 ? part.name.indexOf(" ") : -1;
    const lines = cut < 0 ? [part.name] : [part.name.slice(0, cut), part.name.slice(cut + 1)];
    lines.forEach((line, row) => svg("text", { ...place, y: place.y + 15 * row, class: "ltl-part" }, page, line));
  }
  for (const [x, y, word] of drawing.words) svg("text", { x, y, "text-anchor": "middle", class: "ltl-word" }, page, word);
}

function drawPoint(page, point) {
  const group = svg("g", { class: "ltl-point", role: "button", tabindex: "-1", "data-point": point.name }, page);
  svg("circle", { cx: point.x, cy: point.y, r: 20, fill: "transparent" }, group);
  svg("circle", { cx: point.x, cy: point.y, r: 15, class: "ltl-ring" }, group);
  svg("circle", { cx: point.x, cy: point.y, r: 7.5, class: "ltl-dot", fill: "#fff", stroke: "#111", "stroke-width": 2.5 }, group);
  svg("text", beside(point.side, point.x - 8, point.y - 8, 16, 16, 6), group, point.name);
  svg("title", {}, group, `${point.name}: ${point.title}`);
  return group;
}

const REST = { A: [60, 384], B: [60, 440] };
const LOOK = { A: { face: "#B85C00", edge: "#B85C00", ink: "#fff", dash: "" }, B: { face: "#fff", edge: "#00507d", ink: "#00507d", dash: "7 4" } };

function drawProbe(page, letter) {
  const look = LOOK[letter];
  const lead = svg("path", { fill: "none", stroke: look.edge, "stroke-width": 2.5, "stroke-dasharray": look.dash, opacity: 0.55, "pointer-events": "none" }, page);
  const [rx, ry] = REST[letter];
  svg("circle", { cx: rx, cy: ry, r: 6, fill: look.face, stroke: look.edge, "stroke-width": 3, "pointer-events": "none" }, page);
  const group = svg("g", { class: "ltl-tag", "data-probe": letter }, page);
  svg("circle", { r: 14, fill: look.face, stroke: look.edge, "stroke-width": 3 }, group);
  svg("text", { y: 5, "text-anchor": "middle", style: `fill: ${look.ink}` }, group, letter);
  svg("title", {}, group, `probe ${letter}: drag it to a test point`);
  return { lead, group };
}

/* --- the panel ------------------------------------------------------------------------------------------------- */

/* One press asks, the second does it: a slip of the finger starts nothing. */
function startAgain(parent, act) {
  const words = "Start this machine again";
  const row = tag("div", { class: "ltl-row" }, parent);
  const made = tag("button", { type: "button" }, row, words);
  const quiet = () => (made.textContent = words);
  made.addEventListener("blur", quiet);
  made.addEventListener("click", () => {
    if (made.textContent !== words) act();
    made.textContent = made.textContent === words ? "Start again: press once more" : words;
  });
}

function render({ model, el }) {
  const menu = model.get("menu");
  const drawing = menu.drawing;
  const spot = Object.fromEntries(drawing.points.map((point) => [point.name, point]));
  let turn = 0;
  let sentAt = 0;

  const root = tag("div", { class: "ltl-bench", role: "group", "aria-label": "Bench", "data-turn": "0" }, el);
  tag("style", {}, root, STYLE);
  // JupyterLab takes single keys for its cells unless the focused element itself says no; with Ctrl they stay its own.
  const keep = (event) => event.target.setAttribute("data-lm-suppress-shortcuts", "true");
  root.addEventListener("focusin", keep);
  root.addEventListener("keyup", keep);
  root.addEventListener("keydown", (event) => {
    if (event.key === "Control" || event.key === "Meta") event.target.removeAttribute("data-lm-suppress-shortcuts");
  });

  const send = (act, given = {}) => {
    turn += 1;
    sentAt = performance.now();
    model.send({ act, with: given, turn });
  };
  const view = () => model.get("view");

  tag("p", { class: "ltl-hint" }, root,
    "Click two test points and the meter reads. To move one probe alone, drag its tag. By keyboard: Tab to the drawing, " +
    "arrow keys from point to point, Enter to put the next probe there, A or B to move that probe alone, Escape to lift both.");
  const meter = tag("div", { class: "ltl-meter", role: "group", "aria-label": "Meter" }, root);
  const say = tag("div", { class: "ltl-say", role: "status", "aria-live": "polite" }, root);
  const holder = tag("div", { class: "ltl-page" }, root);
  const page = svg("svg", { viewBox: `0 0 ${drawing.size[0]} ${drawing.size[1]}`, role: "group", "aria-label": "Drawing of the machine with its test points" }, holder);
  const under = drawGround(page, drawing);
  const wires = drawWires(page, drawing);
  drawParts(page, drawing);
  const points = {};
  for (const name of menu.points) if (spot[name]) points[name] = drawPoint(page, spot[name]);
  svg("text", { x: 60, y: 352, "text-anchor": "middle", class: "ltl-word" }, page, "probes");
  const probes = { A: drawProbe(page, "A"), B: drawProbe(page, "B") };

  /* probes by click, key and drag */
  const next = (name) => {
    const { A, B } = view().probes;
    const probe = A === null ? "A" : B === null ? "B" : "A";
    send("place", { probe, point: name, alone: A === null && B !== null });
  };
  const alone = (probe, name) => send("place", { probe, point: name, alone: true });
  let here = menu.points.includes("L1") ? "plug-1" : menu.points[0];
  const focusOn = (name) => {
    points[here].setAttribute("tabindex", "-1");
    here = name;
    points[here].setAttribute("tabindex", "0");
    points[here].focus();
    points[here].scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  points[here].setAttribute("tabindex", "0");
  for (const [name, group] of Object.entries(points)) {
    group.addEventListener("click", () => {
      focusOn(name);
      next(name);
    });
    group.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const key = event.key.length === 1 ? event.key.toUpperCase() : event.key;
      if (event.key.startsWith("Arrow")) {
        const other = menu.neighbors[name][event.key];
        if (other) focusOn(other);
      } else if (key === "Enter" || key === " ") next(name);
      else if (key === "A" || key === "B") alone(key, name);
      else if (key === "Escape") send("lift");
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
  }
  const at = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(page.getScreenCTM().inverse());
    return [point.x, point.y];
  };
  const move = (letter, x, y) => {
    const { lead, group } = probes[letter];
    group.setAttribute("transform", `translate(${x} ${y})`);
    const [rx, ry] = REST[letter];
    const far = Math.hypot(x - rx, y - ry) > 5;
    lead.setAttribute("d", far ? `M ${rx} ${ry} C ${rx + 60} ${ry} ${x - 30} ${y + 60} ${x} ${y + 12}` : "");
  };
  for (const [letter, { group }] of Object.entries(probes)) {
    let held = false;
    group.addEventListener("pointerdown", (event) => {
      held = true;
      group.setPointerCapture(event.pointerId);
      event.preventDefault();
    });
    group.addEventListener("pointermove", (event) => held && move(letter, ...at(event)));
    const drop = (event) => {
      if (!held) return;
      held = false;
      const [x, y] = at(event);
      let best = null;
      let least = 45;
      for (const name of Object.keys(points)) {
        const far = Math.hypot(spot[name].x - x, spot[name].y - y);
        if (far < least) [best, least] = [name, far];
      }
      if (best && event.type === "pointerup") alone(letter, best);
      else showProbes();
    };
    group.addEventListener("pointerup", drop);
    group.addEventListener("pointercancel", drop);
  }
  const showProbes = () => {
    const now = view().probes;
    for (const [letter, aside] of [["A", -15], ["B", 15]]) {
      const point = now[letter] && spot[now[letter]];
      if (point) move(letter, point.x + aside, point.y + 24);
      else move(letter, ...REST[letter]);
    }
  };

  /* the meter */
  const face = tag("div", { class: "ltl-face", role: "status", "aria-live": "polite" }, meter);
  const shown = tag("div", { class: "ltl-shown" }, face);
  const of = tag("div", { class: "ltl-of" }, face);
  const dial = tag("fieldset", { class: "ltl-dial" }, meter);
  tag("legend", {}, dial, "Dial");
  const group = `ltl-dial-${Math.random().toString(36).slice(2)}`;
  const picks = {};
  for (const [mode, words] of menu.modes) {
    const label = tag("label", { class: "ltl-pick" }, dial);
    picks[mode] = tag("input", { type: "radio", name: group, value: mode }, label);
    label.append(` ${words}`);
    picks[mode].addEventListener("change", () => send("set_dial", { mode, full_scale: null }));
  }
  const rangeRow = tag("label", { class: "ltl-pick" }, dial, "Range ");
  const range = tag("select", {}, rangeRow);
  range.addEventListener("change", () =>
    send("set_dial", { mode: view().mode, full_scale: range.value === "" ? null : Number(range.value) }));
  const button = (parent, words, act) => {
    const made = tag("button", { type: "button" }, parent, words);
    made.addEventListener("click", act);
    return made;
  };
  const keys = tag("div", { class: "ltl-keys" }, meter);
  button(keys, "Read again", () => send("again"));
  button(keys, "Lift probes", () => send("lift"));
  button(keys, "Join tips, store leads", () => send("null_leads"));
  button(keys, "New meter fuse", () => send("replace_fuse"));
  const meterState = tag("div", {}, keys);

  /* the acts */
  const acts = tag("div", { class: "ltl-acts" }, root);
  const box = (words) => {
    const made = tag("fieldset", {}, acts);
    tag("legend", {}, made, words);
    return made;
  };
  const updates = [];
  const row = (parent, words, make) => {
    const made = tag("div", { class: "ltl-row" }, parent);
    const label = tag("span", {}, made);
    updates.push((now) => (label.textContent = words(now)));
    make(made);
  };
  const toggle = (parent, isOn, on, off) => {
    const made = button(parent, "", () => send((isOn(view()) ? off : on)[1]));
    updates.push((now) => (made.textContent = (isOn(now) ? off : on)[0]));
  };
  const select = (parent, label, choices) => {
    const made = tag("select", { "aria-label": label }, parent);
    for (const choice of choices) tag("option", { value: choice }, made, choice);
    return made;
  };

  const safe = box("Make it dead, prove it, open it");
  row(safe, (now) => `Plug: ${now.plugged ? "in" : "out"}`, (line) =>
    toggle(line, (now) => now.plugged, ["Put the plug in", "plug_in"], ["Pull the plug", "unplug"]));
  row(safe, (now) => `Breaker: ${now.breaker_on ? "on" : "open"}`, (line) =>
    toggle(line, (now) => now.breaker_on, ["Close the breaker", "close_breaker"], ["Open the breaker", "open_breaker"]));
  row(safe, (now) => `Lock and tag: ${now.locked ? "on" : "none"}`, (line) =>
    toggle(line, (now) => now.locked, ["Lock and tag", "lock"], ["Take lock and tag off", "unlock"]));
  row(safe, () => "Meter", (line) => button(line, "Check the meter on a known live source", () => send("prove_meter")));
  row(safe, () => "Test dead at", (line) => {
    const where = select(line, "Where to test dead", menu.dead);
    button(line, "Test dead", () => send("test_dead", { where: where.value }));
  });
  row(safe, (now) => `Cover: ${now.cover_off ? "off" : "on"}`, (line) =>
    toggle(line, (now) => now.cover_off, ["Take the cover off", "cover_off"], ["Put the cover on", "cover_on"]));
  row(safe, (now) => `Rated gloves: ${now.gear ? "on" : "off"}`, (line) =>
    toggle(line, (now) => now.gear, ["Qualified: gloves on", "gear_on"], ["Gloves off", "gear_off"]));

  const run = box("Run it");
  row(run, (now) => `Door: ${now.door_closed ? "closed" : "open"}`, (line) =>
    toggle(line, (now) => now.door_closed, ["Close the door", "close_door"], ["Open the door", "open_door"]));
  row(run, (now) => `Heat asked for: ${now.heat}`, (line) => {
    for (const heat of ["none", "low", "high"]) {
      const made = button(line, heat, () => send("ask_heat", { heat }));
      made.setAttribute("aria-label", `Set heat to ${heat}`);
      updates.push((now) => made.setAttribute("aria-pressed", now.heat === heat));
    }
  });
  row(run, (now) => `Motor: ${now.running ? "running" : "stopped"}`, (line) => {
    button(line, "Press start", () => send("press_start"));
    button(line, "Stop", () => send("stop"));
  });
  row(run, () => "Time", (line) => {
    button(line, "Let it run 10 min", () => send("let_run"));
    button(line, "Let it cool", () => send("cool_down"));
  });
  row(run, () => "Temperature at", (line) => {
    const where = select(line, "Where to take the temperature", menu.spots);
    const unit = select(line, "Unit of the temperature", ["°F", "°C"]);
    button(line, "Read the temperature", () => send("temperature", { spot: where.value, unit: unit.value }));
  });
  row(run, () => "Clamp around", (line) => {
    const where = select(line, "Conductor to clamp", menu.conductors);
    button(line, "Read amps", () => send("clamp", { conductor: where.value }));
  });

  const loose = box("Wires: press to pull off or put back");
  for (const wire of menu.wires) {
    const made = button(loose, wire, () =>
      send(view().pulled.includes(wire) ? "put_back_wire" : "pull_wire", { wire }));
    updates.push((now) => {
      const off = now.pulled.includes(wire);
      made.setAttribute("aria-pressed", off);
      made.textContent = off ? `${wire}: off` : wire;
    });
  }

  const bench = box("Warm parts, new parts");
  row(bench, (now) => now.celsius[0] === null ? "Parts" : `Parts at ${Math.round(now.celsius[0] * 1.8 + 32)} °F`, (line) => {
    const degrees = tag("input", { type: "number", value: "122", min: "-4", max: "482", "aria-label": "Degrees Fahrenheit to hold the heat switches at" }, line);
    button(line, "Hold at °F", () => send("warm_parts", { celsius: degrees.value === "" ? "nothing" : Math.round((degrees.value - 32) / 0.018) / 100 }));
  });
  row(bench, () => "Replace", (line) => {
    const part = select(line, "Part to replace", menu.parts);
    button(line, "Fit a new one", () => send("replace_part", { part: part.value }));
  });
  row(bench, () => "Vent", (line) => {
    button(line, "Look into filter, duct and hood", () => send("look_vent"));
  });
  row(bench, () => "Close without repair", (line) => {
    const to = select(line, "Hand off to", menu.hands);
    button(line, "Stop and hand it off", () => send("stop_and_hand_over", { to: to.value }));
  });

  if (menu.more.length) {
    const more = box("More acts");
    for (const { act, title, fields } of menu.more) {
      row(more, () => title, (line) => {
        const given = fields.map(({ name, choices }) => {
          const label = `${title}: ${name}`;
          return [name, choices ? select(line, label, choices) : tag("input", { type: "text", "aria-label": label }, line)];
        });
        const made = button(line, "Do it", () => send(act, Object.fromEntries(given.map(([name, input]) => [name, input.value]))));
        made.setAttribute("aria-label", `Do it: ${title}`);
      });
    }
  }

  /* trail and findings */
  const logs = tag("div", { class: "ltl-logs" }, root);
  const logOf = (label) => {
    const section = tag("section", {}, logs);
    const head = tag("div", { class: "ltl-head" }, section, label);
    return { head, list: tag("div", { class: "ltl-list", tabindex: "0", role: "log", "aria-label": label }, section) };
  };
  const trail = logOf("Trail");
  const steps = tag("ol", {}, trail.list);
  const findings = logOf("Safety");
  if (menu.kept) startAgain(logs, () => send("start_again"));

  const showLogs = (now) => {
    trail.head.textContent = `Trail: ${now.trail.length} acts, ${now.minutes.toFixed(1)} minutes`;
    if (now.trail.length < steps.children.length) steps.replaceChildren();
    for (const line of now.trail.slice(steps.children.length)) tag("li", {}, steps, line);
    trail.list.scrollTop = trail.list.scrollHeight;
    findings.list.replaceChildren();
    if (!now.findings?.length) tag("div", {}, findings.list, now.findings ? "Nothing unsafe so far." : "You'll find out when the test is graded.");
    for (const [gate, place, what, caution] of now.findings ?? []) {
      const one = tag("div", { class: gate ? "ltl-finding ltl-gate" : "ltl-finding" }, findings.list);
      tag("b", {}, one, gate ? `⚠ Unsafe, act ${place}: ` : `Note, act ${place}: `);
      one.append(`${what} ${caution}`);
    }
    findings.list.scrollTop = findings.list.scrollHeight;
  };
  const showMeter = (now) => {
    const { shown: value = "", beep = "", trouble = "", of: what = "Put both probes on a point.", old = false } = now.reading;
    shown.textContent = value ? `${value}${beep}` : "– – –";
    shown.classList.toggle("ltl-old", old);
    of.textContent = what + (trouble ? ` · ${trouble}` : "") + (old ? " · read before the last act" : "");
    for (const [mode, pick] of Object.entries(picks)) pick.checked = mode === now.mode;
    const wanted = JSON.stringify([now.mode, menu.ranges[now.mode]]);
    if (range.dataset.offers !== wanted) {
      range.dataset.offers = wanted;
      range.replaceChildren();
      tag("option", { value: "" }, range, "automatic");
      for (const [scale, words] of menu.ranges[now.mode]) tag("option", { value: scale }, range, words);
    }
    range.value = now.full_scale === null ? "" : String(now.full_scale);
    meterState.textContent = `Fuse: ${now.fuse ? "whole" : "GONE"} · Leads: ${now.nulled ? "stored" : "not stored"}`;
  };
  const showDrawing = (now) => {
    under.ground.setAttribute("fill", now.cover_off ? "#fff" : "#e3e3e3");
    under.said.textContent = now.cover_off ? "cover off" : "cover on: what is inside cannot be reached";
    for (const [name, { line, off }] of Object.entries(wires)) {
      const loose = now.pulled.includes(name);
      line.setAttribute("stroke-dasharray", loose ? "2 6" : "");
      off.setAttribute("visibility", loose ? "visible" : "hidden");
    }
    for (const [name, group] of Object.entries(points)) {
      const away = !now.reach.includes(name);
      group.classList.toggle("ltl-away", away);
      const on = ["A", "B"].filter((letter) => now.probes[letter] === name).map((letter) => `, probe ${letter} is here`);
      group.setAttribute("aria-label", `${name}, ${spot[name].title}${on.join("")}${away ? ", out of reach now" : ""}`);
    }
    showProbes();
  };
  const show = () => {
    const now = view();
    if (now.minutes === undefined) return;
    updates.forEach((update) => update(now));
    showDrawing(now);
    showMeter(now);
    showLogs(now);
    say.classList.toggle("ltl-refused", now.refused);
    say.textContent = now.refused ? `Not possible: ${now.said}` : now.said;
    root.dataset.turn = now.turn;
    if (now.turn === turn && turn > 0) root.dataset.milliseconds = (performance.now() - sentAt).toFixed(1);
  };
  model.on("change:view", show);
  show();
  return () => model.off("change:view", show);
}

export default { render };
