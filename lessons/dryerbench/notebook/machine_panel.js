// The panel of a drawn machine: shows the drawings that Python sends, sends presses back. It decides nothing about the machine.
function tag(name, attributes, parent, text) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  if (parent) parent.append(made);
  return made;
}

const HINT = "Click two terminals: the meter reads. Keys: arrows, Enter, A, B, W (wire), Escape.";
const JUDGED_LATER = "You'll find out when the test is graded.";
const WAIT = "One moment: your last step is not answered yet. It is kept; do not press again.";
const PATIENCE = 700; // milliseconds until it is said that a press is not answered yet
const AGAIN = 4000; // milliseconds after which it is sent once more; Python does each press once
const NEAR = 30; // units of the drawing: a press takes the nearest spot within them
const COVERS_AND_GEAR = ["plug", "breaker", "tray"];

/* What can be pressed on a drawing, each with its middle in the drawing's units. */
function targets(svg) {
  return [...svg.querySelectorAll("[data-point], [data-place]")].map((group) => {
    const hand = group.querySelector("circle");
    return { group, x: Number(hand.getAttribute("cx")), y: Number(hand.getAttribute("cy")) };
  });
}

function nearest(svg, event) {
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  let best = null;
  let least = NEAR;
  for (const one of targets(svg)) {
    const far = Math.hypot(one.x - at.x, one.y - at.y);
    if (far < least) [best, least] = [one.group, far];
  }
  return best;
}

/* The target in the direction of an arrow key: the nearest one, sideways counted double. */
function toward(svg, from, key) {
  const all = targets(svg);
  const here = all.find((one) => one.group === from);
  const [dx, dy] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  let best = null;
  let least = Infinity;
  for (const one of all) {
    const [x, y] = [one.x - here.x, one.y - here.y];
    const along = x * dx + y * dy;
    const far = along + 2 * Math.abs(x * dy - y * dx);
    if (along > 0.5 && far < least) [best, least] = [one.group, far];
  }
  return best;
}

function key(group) {
  for (const name of ["point", "place", "mode", "press"]) if (group.dataset[name]) return `[data-${name}="${group.dataset[name]}"]`;
  return "";
}

function beep() {
  try {
    const audio = new AudioContext();
    const tone = audio.createOscillator();
    const loud = audio.createGain();
    loud.gain.value = 0.05;
    tone.frequency.value = 2300;
    tone.connect(loud).connect(audio.destination);
    tone.start();
    tone.stop(audio.currentTime + 0.18);
    tone.onended = () => audio.close();
  } catch { /* a page without sound: the sign on the display is there */ }
}

function render({ model, el }) {
  const menu = model.get("menu");
  const view = () => model.get("view");
  let turn = 0;
  let sentAt = 0;
  let next = "";
  const root = tag("div", { class: "ltl-bench ltl-machine", role: "group", "aria-label": "Bench", "data-turn": "0" }, el);
  const wrap = `.ltl-machine { ${menu.colors.light} } [data-jp-theme-light="false"] .ltl-machine { ${menu.colors.dark} }`;
  tag("style", {}, root, wrap);
  // JupyterLab takes single keys for its cells unless the focused element itself says no; with Ctrl they stay its own.
  const keep = (event) => event.target.setAttribute("data-lm-suppress-shortcuts", "true");
  root.addEventListener("focusin", keep);
  root.addEventListener("keyup", keep);
  root.addEventListener("keydown", (event) => {
    if (event.key === "Control" || event.key === "Meta") event.target.removeAttribute("data-lm-suppress-shortcuts");
  });
  const mark = Math.random().toString(36).slice(2);
  const unanswered = new Map(); // a press stays here until the answer to it came: a line that drops one gets it again
  let again = 0;
  const send = (act, given = {}) => {
    turn += 1;
    sentAt = performance.now();
    unanswered.set(turn, { act, with: given, turn, page: mark });
    model.send(unanswered.get(turn));
    clearTimeout(again);
    again = setTimeout(sendAgain, PATIENCE);
  };
  const sendAgain = () => {
    if (!unanswered.size) return;
    say.classList.remove("ltl-refused");
    say.textContent = WAIT;
    if (performance.now() - sentAt > AGAIN) for (const press of unanswered.values()) model.send(press);
    again = setTimeout(sendAgain, AGAIN);
  };
  const updates = [];
  const button = (parent, words, act, more = {}) => {
    const made = tag("button", { type: "button", ...more }, parent, words);
    made.addEventListener("click", act);
    return made;
  };

  /* --- machine, meter, message ----------------------------------------------------------------------------- */
  const looks = tag("div", { class: "mv-bar mv-places", role: "group", "aria-label": "Where to look" }, root);
  const top = tag("div", { class: "mv-top" }, root);
  const left = tag("div", { class: "mv-left" }, top);
  const stage = tag("div", { class: "mv-stage" }, left);
  const hand = tag("div", { class: "mv-bar", role: "group", "aria-label": "What a press on a terminal does" }, left);
  const side = tag("div", { class: "mv-side" }, top);
  const meter = tag("div", { class: "mv-meter", role: "group", "aria-label": "Meter" }, side);
  const face = tag("div", { class: "ltl-face", role: "status", "aria-live": "polite" }, side);
  const shown = tag("div", { class: "ltl-shown" }, face);
  const of = tag("div", { class: "ltl-of" }, face);
  const say = tag("div", { class: "ltl-say", role: "status", "aria-live": "polite" }, side);
  const svg = () => stage.querySelector("svg");

  const tools = { A: "Probe A", B: "Probe B", wire: "Pull or put back a wire" };
  const held = {};
  let tool = "A";
  let alone = false; // a probe that was taken in hand by its button moves alone
  const take = (name, byHand = false) => {
    tool = name;
    alone = byHand;
    for (const [one, made] of Object.entries(held)) made.setAttribute("aria-pressed", one === name);
  };
  for (const [name, words] of Object.entries(tools)) {
    held[name] = button(hand, words, () => take(name, true), name === "wire" ? {} : { class: "mv-probe", "data-probe": name });
  }
  button(hand, "Lift probes", () => send("lift"));
  button(hand, "Read again", () => send("again"));
  const caption = tag("span", {}, hand, HINT);
  take("A");

  const place = (letter, spot, alone) => {
    next = letter === "A" ? "B" : "A";
    send("place", { probe: letter, spot, alone });
  };
  const pressed = (group) => {
    const { point, place: thing } = group.dataset;
    if (point) {
      if (tool === "wire") return pull(point);
      return place(tool, point, alone || tool === "B" || !view().tips.A);
    }
    if (thing === "dial") return open("Run");
    if (COVERS_AND_GEAR.includes(thing) || thing.startsWith("cover-")) return send("press", { at: thing });
    return send("go", { at: thing });
  };
  const pull = (spot) => {
    const there = view().wires.filter(([id, , , spots]) => spots.includes(spot) || id.startsWith(`${spot}/`));
    if (there.length === 1) return send("wire", { wire: there[0][0] });
    open("Wires");
    say.classList.remove("ltl-refused");
    say.textContent = there.length ? `${there.length} wires are on this terminal: choose one in the list below.` : "No wire on this terminal can be pulled.";
  };
  stage.addEventListener("click", (event) => {
    const group = svg() && nearest(svg(), event);
    if (!group || dragged) return;
    focusOn(group);
    pressed(group);
  });
  const focusOn = (group) => {
    for (const one of targets(svg())) one.group.setAttribute("tabindex", "-1");
    group.setAttribute("tabindex", "0");
    group.focus({ preventScroll: true });
    group.scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  stage.addEventListener("keydown", (event) => {
    const group = event.target.closest?.("[data-point], [data-place]");
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const pressedKey = event.key.length === 1 ? event.key.toUpperCase() : event.key;
    if (event.key.startsWith("Arrow")) {
      const other = toward(svg(), group, event.key);
      if (other) focusOn(other);
    } else if (pressedKey === "Enter" || pressedKey === " ") pressed(group);
    else if ((pressedKey === "A" || pressedKey === "B") && group.dataset.point) place(pressedKey, group.dataset.point, true);
    else if (pressedKey === "W" && group.dataset.point) pull(group.dataset.point);
    else if (pressedKey === "Escape") Object.values(view().tips).some(Boolean) ? send("lift") : send("go", { at: "front" });
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  const tell = (event) => {
    const group = event.target.closest?.("[aria-label][role=button]");
    if (group) caption.textContent = group.getAttribute("aria-label");
  };
  stage.addEventListener("pointerover", tell);
  stage.addEventListener("focusin", tell);

  /* a probe is dragged from its button, or from where its tip is */
  let dragged = false;
  const drag = (letter, start) => {
    let ghost = null;
    const move = (event) => {
      if (!ghost && Math.hypot(event.clientX - start.clientX, event.clientY - start.clientY) > 8) {
        ghost = tag("div", { class: "mv-ghost" }, root, letter);
        dragged = true;
      }
      if (ghost) Object.assign(ghost.style, { left: `${event.clientX}px`, top: `${event.clientY}px` });
    };
    const end = (event) => {
      for (const [name, act] of [["pointermove", move], ["pointerup", end], ["pointercancel", end]]) window.removeEventListener(name, act);
      if (ghost && event.type === "pointerup") {
        const group = nearest(svg(), event);
        if (group?.dataset.point) place(letter, group.dataset.point, true);
      }
      ghost?.remove();
      setTimeout(() => (dragged = false));
    };
    for (const [name, act] of [["pointermove", move], ["pointerup", end], ["pointercancel", end]]) window.addEventListener(name, act);
  };
  for (const letter of ["A", "B"]) held[letter].addEventListener("pointerdown", (event) => drag(letter, event));
  stage.addEventListener("pointerdown", (event) => {
    const group = event.pointerType === "mouse" && svg() ? nearest(svg(), event) : null;
    const letter = group && ["A", "B"].find((one) => view().tips[one] === group.dataset.point);
    if (letter) drag(letter, event);
  });

  /* the meter's own dial and keys */
  const dialTo = (at) => {
    send("dial", { at });
    if (at === "clamp" || at === "temp") open("Run");
  };
  const onMeter = (group) => (group.dataset.mode ? dialTo(group.dataset.mode) : send("key", { name: group.dataset.press }));
  meter.addEventListener("click", (event) => {
    const group = event.target.closest?.("[data-mode], [data-press]");
    if (group) onMeter(group);
  });
  meter.addEventListener("keydown", (event) => {
    const group = event.target.closest?.("[data-mode], [data-press]");
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const all = [...group.closest("svg").querySelectorAll("[data-mode], [data-press]")];
    const step = { ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[event.key];
    if (step) turnTo(all[(all.indexOf(group) + step + all.length) % all.length], all);
    else if (event.key === "Enter" || event.key === " ") onMeter(group);
    else return;
    event.preventDefault();
    event.stopPropagation();
  });
  const turnTo = (group, all) => {
    for (const one of all) one.setAttribute("tabindex", one === group ? "0" : "-1");
    group.focus({ preventScroll: true });
  };

  /* --- the acts as lists ------------------------------------------------------------------------------------ */
  const tabs = tag("div", { class: "mv-tabs", role: "tablist", "aria-label": "Acts and records" }, root);
  const pages = {};
  const open = (name) => {
    for (const [one, { tab, page }] of Object.entries(pages)) {
      tab.setAttribute("aria-selected", one === name);
      tab.setAttribute("tabindex", one === name ? "0" : "-1");
      page.hidden = one !== name;
    }
  };
  const page = (name) => {
    const id = `mv-${mark}-${name.replaceAll(" ", "-")}`;
    const tab = button(tabs, name, () => open(name), { role: "tab", id: `${id}-tab`, "aria-controls": id });
    const made = tag("div", { class: "mv-panel", role: "tabpanel", id, "aria-labelledby": `${id}-tab`, tabindex: "0" }, root);
    pages[name] = { tab, page: made };
    tab.addEventListener("keydown", (event) => {
      const all = Object.keys(pages);
      const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
      if (!step) return;
      const other = all[(all.indexOf(name) + step + all.length) % all.length];
      open(other);
      pages[other].tab.focus();
      event.preventDefault();
      event.stopPropagation();
    });
    return made;
  };
  const row = (parent, words, make) => {
    const made = tag("div", { class: "mv-row" }, parent);
    const label = tag("b", {}, made);
    updates.push((now) => (label.textContent = words(now)));
    make(made);
  };
  const toggle = (parent, isOn, on, off) => {
    const made = button(parent, "", () => send((isOn(view()) ? off : on)[1]));
    updates.push((now) => (made.textContent = (isOn(now) ? off : on)[0]));
  };
  const fill = (made, choices) => {
    const wanted = JSON.stringify(choices);
    if (made.dataset.offers === wanted) return;
    const before = made.value;
    made.dataset.offers = wanted;
    made.replaceChildren();
    for (const [value, words] of choices) tag("option", { value }, made, words);
    if (choices.some(([value]) => value === before)) made.value = before;
  };
  const select = (parent, label, choices) => {
    const made = tag("select", { "aria-label": label }, parent);
    fill(made, choices.map((one) => (Array.isArray(one) ? one : [one, one])));
    return made;
  };

  const safe = page("Make it dead");
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
  const [takeOff, putOn] = menu.named
    ? ["Take the cover off", "Put the cover on"]
    : ["Take every cover off", "Put every cover on"];
  row(safe, (now) => `Covers off: ${now.covers_off.length} of ${menu.covers.length}`, (line) => {
    button(line, takeOff, () => send("cover_off"));
    button(line, putOn, () => send("cover_on"));
  });
  row(safe, (now) => `Rated gloves: ${now.gear ? "on" : "off"}`, (line) =>
    toggle(line, (now) => now.gear, ["Qualified: gloves on", "gear_on"], ["Gloves off", "gear_off"]));

  const covers = page("Covers");
  for (const [at, name] of menu.covers) {
    row(covers, (now) => `${name[0].toUpperCase()}${name.slice(1)}: ${now.covers_off.includes(at) ? "off" : "on"}`, (line) => {
      const made = button(line, "", () => send("press", { at }));
      updates.push((now) => (made.textContent = now.covers_off.includes(at) ? `Put the ${name} on` : `Take the ${name} off`));
    });
  }

  const loose = page("Wires");
  const wires = tag("div", { class: "mv-row", role: "group", "aria-label": "Wires: press to pull off or put back" }, loose);
  updates.push((now) => {
    const wanted = JSON.stringify(now.wires);
    if (wires.dataset.offers === wanted) return;
    const on = wires.contains(document.activeElement) ? document.activeElement.dataset.wire : "";
    wires.dataset.offers = wanted;
    wires.replaceChildren();
    if (!now.wires.length) wires.textContent = "Look closer at an open place: its wires are listed here.";
    for (const [id, words, off] of now.wires) {
      const made = button(wires, off ? `${words}: off` : words, () => send("wire", { wire: id }), { "aria-pressed": off, "data-wire": id });
      if (id === on) made.focus();
    }
  });

  const probing = page("Meter");
  const ends = {};
  for (const letter of ["A", "B"]) {
    row(probing, (now) => `Probe ${letter}: ${now.tip_words[letter] || "in the air"}`, (line) => {
      ends[letter] = select(line, `Where to put probe ${letter}`, []);
      button(line, `Put probe ${letter} there`, () => send("place", { probe: letter, spot: ends[letter].value, alone: true }));
    });
  }
  updates.push((now) => {
    for (const made of Object.values(ends)) {
      const wanted = JSON.stringify(now.reach);
      if (made.dataset.offers === wanted) continue;
      const before = made.value;
      made.dataset.offers = wanted;
      made.replaceChildren();
      for (const [name, spots] of now.reach) {
        const group = name ? tag("optgroup", { label: name }, made) : made;
        for (const [value, words] of spots) tag("option", { value }, group, words);
      }
      if (before && [...made.options].some((one) => one.value === before)) made.value = before;
    }
  });
  row(probing, (now) => `Leads: ${now.nulled ? "stored" : "not stored"}`, (line) =>
    button(line, "Join tips, store leads", () => send("null_leads")));
  row(probing, (now) => `Fuse in the meter: ${now.fuse ? "whole" : "open"}`, (line) =>
    button(line, "New meter fuse", () => send("replace_fuse")));

  const run = page("Run");
  row(run, (now) => `Door: ${now.door_closed ? "closed" : "open"}`, (line) =>
    toggle(line, (now) => now.door_closed, ["Close the door", "close_door"], ["Open the door", "open_door"]));
  row(run, () => "Set to", (line) => {
    for (const heat of menu.heats) {
      const made = button(line, heat, () => send("ask_heat", { heat }), { "aria-label": `Set heat to ${heat}` });
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
  row(run, () => "Clamp around", (line) => {
    const where = select(line, "Conductor to clamp", menu.cords);
    updates.push((now) => fill(where, [...menu.cords.map((one) => [one, one]), ...now.wires.filter(([id]) => id !== "ground wire").map(([id, words]) => [id, words])]));
    button(line, "Read amps", () => send("clamp", { conductor: where.value }));
  });
  row(run, () => "Temperature at", (line) => {
    const where = select(line, "Where to take the temperature", menu.warm);
    const unit = select(line, "Unit of the temperature", ["°F", "°C"]);
    button(line, "Read the temperature", () => send("temperature", { spot: where.value, unit: unit.value }));
  });

  const parts = page("Parts");
  row(parts, (now) => (now.fahrenheit === null ? "Parts" : `Parts at ${now.fahrenheit} °F`), (line) => {
    const degrees = tag("input", { type: "number", value: "122", min: "-4", max: "482", "aria-label": "Degrees Fahrenheit to hold the heat switches at" }, line);
    button(line, "Hold at °F", () => send("warm_parts", { fahrenheit: degrees.value === "" ? "nothing" : Number(degrees.value) }));
  });
  row(parts, () => "Replace", (line) => {
    const part = select(line, "Part to replace", menu.parts);
    if (!menu.named) updates.push((now) => fill(part, [...menu.parts, ...now.wires.filter(([id]) => id.includes("/")).map(([id, words]) => [id, `wire: ${words}`])]));
    const a = menu.box.length ? select(line, "One end of the coil", menu.box) : null;
    const b = menu.box.length ? select(line, "Other end of the coil", menu.box) : null;
    const show = () => [a, b].forEach((one) => one && (one.hidden = part.value !== ""));
    part.addEventListener("change", show);
    updates.push(show);
    button(line, "Fit a new one", () =>
      send("replace_part", a && part.value === "" ? { a: a.value, b: b.value } : { part: part.value }));
  });
  row(parts, () => "Vent", (line) => button(line, "Look into filter, duct and hood", () => send("look_vent")));
  row(parts, () => "Close without repair", (line) => {
    const to = select(line, "Hand off to", menu.hands);
    button(line, "Stop and hand it off", () => send("stop_and_hand_over", { to: to.value }));
  });

  if (menu.more.length) {
    const more = page("More");
    for (const { act, title, fields } of menu.more) {
      row(more, () => title, (line) => {
        const given = fields.map(({ name, choices }) => {
          const label = `${title}: ${name}`;
          return [name, choices ? select(line, label, choices) : tag("input", { type: "text", "aria-label": label }, line)];
        });
        button(line, "Do it", () => send(act, Object.fromEntries(given.map(([name, input]) => [name, input.value]))), { "aria-label": `Do it: ${title}` });
      });
    }
  }

  const log = (name) => {
    const made = tag("div", { class: "mv-log" }, page(name));
    const head = tag("div", { class: "ltl-head" }, made, name);
    return { head, list: tag("div", { class: "ltl-list", role: "log", "aria-label": name }, made) };
  };
  const trail = log("Trail");
  const steps = tag("ol", {}, trail.list);
  const findings = log("Safety");
  if (menu.kept) startAgain(trail.head.parentElement, () => send("start_again"));
  open("Make it dead");

  /* --- show ------------------------------------------------------------------------------------------------- */
  const showDrawing = () => {
    const now = model.get("drawing");
    if (!now.svg || stage.dataset.shown === now.svg) return;
    const on = stage.contains(document.activeElement) ? key(document.activeElement) : "";
    const moved = stage.dataset.at !== now.at;
    stage.dataset.shown = now.svg;
    stage.dataset.at = now.at;
    stage.innerHTML = now.svg + (now.close ? `<div class="mv-where" aria-hidden="true">${now.locator}</div>` : "");
    if (moved) stage.scrollTo((stage.scrollWidth - stage.clientWidth) / 2, 0);
    const all = targets(svg());
    for (const one of all) one.group.setAttribute("tabindex", "-1");
    const again = (on && svg().querySelector(on)) || all[0]?.group;
    if (!again) return;
    again.setAttribute("tabindex", "0");
    if (on) again.focus({ preventScroll: true });
  };
  const showMeter = (now) => {
    const drawn = model.get("faces");
    if (meter.dataset.shown !== drawn[0]) {
      const on = meter.contains(document.activeElement) ? key(document.activeElement) : "";
      const form = on && document.activeElement.closest(".mv-wide") ? ".mv-wide" : ".mv-upright";
      meter.dataset.shown = drawn[0];
      meter.innerHTML = `<div class="mv-upright">${drawn[0]}</div><div class="mv-wide">${drawn[1]}</div>`;
      for (const one of meter.children) {
        for (const target of one.querySelectorAll("[data-mode], [data-press]")) {
          target.setAttribute("tabindex", target.dataset.mode === now.dial ? "0" : "-1");
        }
      }
      const again = on && meter.querySelector(`${form} ${on}`);
      if (again) turnTo(again, [...again.closest("svg").querySelectorAll("[data-mode], [data-press]")]);
    }
    const { shown: value = "", of: what = "Put both probes on a terminal.", trouble = "", old = false, held = false } = now.reading;
    shown.textContent = value || "– – –";
    shown.classList.toggle("ltl-old", old);
    of.textContent = what + (trouble ? ` · ${trouble}` : "") + (held ? " · held" : old ? " · read before the last act" : "");
  };
  const showPlaces = (now) => {
    const at = model.get("drawing").at;
    const wanted = JSON.stringify([now.places, at]);
    if (looks.dataset.offers === wanted) return;
    const on = looks.contains(document.activeElement) ? document.activeElement.dataset.go : "";
    looks.dataset.offers = wanted;
    looks.replaceChildren();
    for (const [view, words] of now.places) {
      const made = button(looks, words, () => send("go", { at: view }), { "aria-pressed": view === at, "data-go": view });
      if (view === on) made.focus();
    }
  };
  const showLogs = (now) => {
    trail.head.textContent = `Trail: ${now.trail.length} acts, ${now.minutes.toFixed(1)} minutes`;
    pages.Safety.tab.textContent = now.findings?.length ? `Safety: ${now.findings.length}` : "Safety";
    const lines = [...steps.children].map((one) => one.textContent);
    if (now.trail.length < lines.length || lines.some((line, place) => line !== now.trail[place])) steps.replaceChildren();
    for (const line of now.trail.slice(steps.children.length)) tag("li", {}, steps, line);
    findings.list.replaceChildren();
    if (!now.findings?.length) tag("div", {}, findings.list, now.findings ? "Nothing unsafe so far." : JUDGED_LATER);
    for (const [gate, at, what, caution] of now.findings ?? []) {
      const one = tag("div", { class: gate ? "ltl-finding ltl-gate" : "ltl-finding" }, findings.list);
      tag("b", {}, one, gate ? `⚠ Unsafe, act ${at}: ` : `Note, act ${at}: `);
      one.append(`${what} ${caution}`);
    }
  };
  let heard = "";
  const show = () => {
    const now = view();
    if (now.minutes === undefined) return;
    showDrawing();
    updates.forEach((update) => update(now));
    showPlaces(now);
    showMeter(now);
    showLogs(now);
    if (next && now.turn === turn) {
      if (!now.refused && tool !== "wire") take(next);
      next = "";
    }
    if (!now.tips.A && !now.tips.B && tool === "B") take("A");
    const read = JSON.stringify([now.trail.length, now.reading.beeps]);
    if (now.reading.beeps && !now.reading.old && heard && heard !== read) beep();
    heard = read;
    if (now.page === mark) unanswered.delete(now.turn);
    say.classList.toggle("ltl-refused", now.refused);
    say.textContent = now.refused ? `Not possible: ${now.said}` : now.said;
    root.dataset.turn = now.turn;
    if (now.turn === turn && turn > 0) root.dataset.milliseconds = (performance.now() - sentAt).toFixed(1);
  };
  model.on("change:view", show);
  show();
  return () => {
    clearTimeout(again);
    model.off("change:view", show);
  };
}

/* One press asks, the second does it: a slip of the finger starts nothing. */
function startAgain(parent, act) {
  const words = "Start this machine again";
  const line = tag("div", { class: "mv-row" }, parent);
  const made = tag("button", { type: "button" }, line, words);
  const quiet = () => (made.textContent = words);
  made.addEventListener("blur", quiet);
  made.addEventListener("click", () => {
    if (made.textContent !== words) act();
    made.textContent = made.textContent === words ? "Start again: press once more" : words;
  });
}

export default { render };
