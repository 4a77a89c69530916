// The panel of a drawn machine: shows the drawings that Python sends, sends presses back. It decides nothing about the machine.
// Python joins it with the files panel_*.js, which come first.
const HINT = "Click two terminals: the meter reads. Keys: arrows, Enter, A, B, W (wire), Escape.";
const HINTS = {
  clamp: "Press a wire: the clamp reads. Keys: arrows, Enter, W (wire), Escape.",
  temp: "Press a place: the probe reads. Keys: arrows, Enter, Escape.",
};
const NOTHING_READ = {
  probes: "Put both probes on a terminal.",
  clamp: "Put the clamp around one wire.",
  temp: "Put the temperature probe on a place.",
};
const JUDGED_LATER = "You'll find out when the test is graded.";
const WAIT = "One moment: your last step is not answered yet. It is kept; do not press again.";
const PATIENCE = 700; // milliseconds until it is said that a press is not answered yet
const AGAIN = 4000; // milliseconds after which it is sent once more; Python does each press once
const COVERS_AND_GEAR = ["plug", "breaker", "tray", "hood"];

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
  const whole = tag("div", { class: "mv-whole" }, root); // what stands beside what is told by its size, in machine_panel.css
  const wrap = `.ltl-machine { ${menu.colors.light} } @media screen { [data-jp-theme-light="false"] .ltl-machine { ${menu.colors.dark} } }`;
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
    tellOf(WAIT);
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
  const looks = tag("div", { class: "mv-bar mv-places", role: "group", "aria-label": "Where to look" }, whole);
  const stage = tag("div", { class: "mv-stage" }, whole);
  const zoom = zoomable(stage, tag("button", { type: "button", class: "mv-back", hidden: "" }, whole, "Whole drawing"));
  const hand = tag("div", { class: "mv-bar mv-hand", role: "group", "aria-label": "What a press on a terminal does" }, whole);
  const meter = tag("div", { class: "mv-meter" }, whole);
  const face = tag("div", { class: "ltl-face", role: "status", "aria-live": "polite" }, whole);
  const shown = tag("div", { class: "ltl-shown" }, face);
  const of = tag("div", { class: "ltl-of" }, face);
  const say = tag("div", { class: "ltl-say", role: "status", "aria-live": "polite" }, whole);
  const svg = () => stage.querySelector("svg");

  const tools = { A: "Probe A", B: "Probe B", put: "Clamp", wire: "Pull or put back a wire" };
  const inHand = () => (["clamp", "temp"].includes(view().dial) ? view().dial : "");
  const held = {};
  let tool = "A";
  let alone = false; // a probe that was taken in hand by its button moves alone
  const take = (name, byHand = false) => {
    tool = name;
    alone = byHand;
    const now = name !== "wire" && inHand() ? "put" : name;
    for (const [one, made] of Object.entries(held)) made.setAttribute("aria-pressed", one === now);
  };
  for (const [name, words] of Object.entries(tools)) {
    const act = () => (name === "put" ? take("A") : take(name, true));
    if (name === "wire") held.lift = button(hand, "Lift probes", () => send("lift"));
    held[name] = button(hand, words, act, "AB".includes(name) ? { class: "mv-probe", "data-probe": name } : {});
  }
  const { lift } = held;
  delete held.lift;
  updates.push((now) => { // the dial says what is in hand: two probes, the clamp or the temperature probe
    const it = inHand();
    held.A.hidden = held.B.hidden = Boolean(it);
    held.put.hidden = !it;
    if (caption.dataset.hand !== it) caption.textContent = HINTS[it] || HINT;
    caption.dataset.hand = it;
    if (it) held.put.textContent = { clamp: "Clamp", temp: "Temperature probe" }[it];
    lift.textContent = it && !now.put.airflow ? "Take it off" : now.put.airflow ? "Take all off" : "Lift probes";
    take(tool, alone);
  });
  button(hand, "Read again", () => send("again"));
  const caption = tag("span", { "data-hand": "" }, hand, HINT);
  take("A");

  const place = (letter, spot, alone) => {
    next = letter === "A" ? "B" : "A";
    send("place", { probe: letter, spot, alone });
  };
  const tellOf = (words) => {
    say.classList.remove("ltl-refused");
    say.textContent = words;
  };
  const MISSED = {
    clamp: "There is no wire for the clamp. Press a wire, or its ring.",
    temp: "The temperature probe touches nothing there. Press a white spot with a blue rim.",
  };
  const slips = (letter) => tellOf(MISSED[inHand()] || `Probe ${letter} slips off: there is no bare metal. Put it on a white spot with a blue rim.`);
  const pressed = (group) => {
    const { point, place: thing, jaw, warm } = group.dataset;
    if (jaw) return tool === "wire" ? pullHeld(jaw) : send("clamp", { conductor: jaw });
    if (warm) return send("temperature", { spot: warm, unit: unit() });
    if (point) {
      if (tool === "wire") return pull(point);
      return place(tool, point, alone || tool === "B" || !view().tips.A);
    }
    if (thing === "dial") return pages.Run ? open("Run") : tellOf("Nothing runs in this lesson: the settings stay as they are.");
    if (COVERS_AND_GEAR.includes(thing) || thing.startsWith("cover-")) return send("press", { at: thing });
    return send("go", { at: thing });
  };
  const pullHeld = (jaw) => {
    if (/\/\d+$/.test(jaw) || jaw === "ground wire") return send("wire", { wire: jaw });
    tellOf("Only the dryer's own wires and its ground wire are pulled off here.");
  };
  const pull = (spot) => {
    const there = view().wires.filter(([id, , , spots]) => spots.includes(spot) || id.startsWith(`${spot}/`));
    if (there.length === 1) return send("wire", { wire: there[0][0] });
    open("Wires");
    tellOf(there.length ? `${there.length} wires are on this terminal: choose one in the list of wires.` : "No wire on this terminal can be pulled.");
  };
  stage.addEventListener("click", (event) => {
    const group = svg() && nearest(svg(), event);
    if (dragged) return;
    if (!group) return model.get("drawing").close && (tool !== "wire" || inHand()) ? slips(tool) : undefined;
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
    const group = event.target.closest?.(PRESSED);
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const pressedKey = event.key.length === 1 ? event.key.toUpperCase() : event.key;
    if (event.key.startsWith("Arrow")) {
      const other = toward(svg(), group, event.key);
      if (other) focusOn(other);
    } else if (pressedKey === "Enter" || pressedKey === " ") pressed(group);
    else if ((pressedKey === "A" || pressedKey === "B") && group.dataset.point) place(pressedKey, group.dataset.point, true);
    else if (pressedKey === "W" && group.dataset.point) pull(group.dataset.point);
    else if (pressedKey === "W" && group.dataset.jaw) pullHeld(group.dataset.jaw);
    else if (pressedKey === "Escape") [...Object.values(view().tips), ...Object.values(view().put)].some(Boolean) ? send("lift") : send("go", { at: "front" });
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
        else slips(letter);
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

  const { open, pages, trail, steps, findings, unit } = actLists({ root: whole, menu, view, send, updates, button, mark });

  /* --- show ------------------------------------------------------------------------------------------------- */
  const toMiddle = () => zoom.is() || stage.scrollTo((stage.scrollWidth - stage.clientWidth) / 2, (stage.scrollHeight - stage.clientHeight) / 2);
  const sized = new ResizeObserver(toMiddle); // when it comes onto the page, and when its window gets another size
  sized.observe(stage);
  const showDrawing = () => {
    const now = model.get("drawing");
    if (!now.svg || stage.dataset.shown === now.svg) return;
    const on = stage.contains(document.activeElement) ? key(document.activeElement) : "";
    const moved = stage.dataset.at !== now.at;
    const before = moved ? null : standing(stage);
    if (moved) zoom.reset();
    stage.dataset.shown = now.svg;
    stage.dataset.at = now.at;
    stage.innerHTML = now.svg + (now.close ? `<div class="mv-where" aria-hidden="true">${now.locator}</div>` : "");
    zoom.sized();
    if (moved) toMiddle();
    settle(stage, before);
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
      const before = meter.dataset.shown && standing(meter);
      meter.dataset.shown = drawn[0];
      meter.innerHTML = `<div class="mv-upright">${drawn[0]}</div><div class="mv-wide">${drawn[1]}</div>`;
      for (const one of meter.children) {
        for (const target of one.querySelectorAll("[data-mode], [data-press]")) {
          target.setAttribute("tabindex", target.dataset.mode === now.dial ? "0" : "-1");
        }
      }
      settle(meter, before);
      const again = on && meter.querySelector(`${form} ${on}`);
      if (again) turnTo(again, [...again.closest("svg").querySelectorAll("[data-mode], [data-press]")]);
    }
    const { shown: value = "", of: what = NOTHING_READ[inHand() || "probes"], trouble = "", old = false, held = false } = now.reading;
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
    sized.disconnect();
    zoom.end();
    model.off("change:view", show);
  };
}

export default { render };
