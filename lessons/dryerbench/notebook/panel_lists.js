// The acts and records of the panel as lists, for keyboard and screen reader. Read before machine_panel.js.
/* Add the lists to the bench: each act sends itself, each `updates` shows how the bench now is. */
function actLists({ root, menu, view, send, updates, button, mark }) {
  const tabs = tag("div", { class: "mv-tabs", role: "tablist", "aria-label": "Acts and records" }, root);
  const pages = {};
  const open = (name) => {
    if (!pages[name]) return;
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

  let degrees = () => "°F"; // the unit that is chosen in the list
  const lists = {}; // how each list is filled
  lists["Make it dead"] = (safe) => {
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
      toggle(line, (now) => now.gear, ["Rated gloves on (qualified)", "gear_on"], ["Gloves off", "gear_off"]));
  };
  lists.Covers = (covers) => {
    for (const [at, name] of menu.covers) {
      row(covers, (now) => `${name[0].toUpperCase()}${name.slice(1)}: ${now.covers_off.includes(at) ? "off" : "on"}`, (line) => {
        const made = button(line, "", () => send("press", { at }));
        updates.push((now) => (made.textContent = now.covers_off.includes(at) ? `Put the ${name} on` : `Take the ${name} off`));
      });
    }
  };
  lists.Wires = (loose) => {
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
    if (menu.tag) {
      row(loose, () => "Your tag", (line) => {
        const wire = select(line, "Wire to tag", []);
        const words = tag("input", { type: "text", "aria-label": "Words on the tag", placeholder: "what you call it", maxlength: menu.tag, autocomplete: "off", spellcheck: "false" }, line);
        let asked = false;
        const put = () => {
          asked = true;
          send("tag_wire", { wire: wire.value, text: words.value });
        };
        const made = button(line, "Tag the wire", put);
        words.addEventListener("keydown", (event) => event.key === "Enter" && put());
        updates.push((now) => { // the words are used up once they are on a tag
          fill(wire, now.wires.filter(([id]) => id.includes("/")).map(([id, called]) => [id, called]));
          wire.disabled = words.disabled = made.disabled = !wire.options.length;
          if (asked && !now.refused) words.value = "";
          asked = false;
        });
      });
    }
  };
  lists.Meter = (probing) => {
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
    row(probing, () => "After the 500 V test", (line) => button(line, "Discharge the wires", () => send("discharge")));
    row(probing, (now) => `Fuse in the meter: ${now.fuse ? "whole" : "open"}`, (line) =>
      button(line, "New meter fuse", () => send("replace_fuse")));
  };
  lists.Run = (run) => {
    row(run, (now) => `Door: ${now.door_closed ? "closed" : "open"}`, (line) =>
      toggle(line, (now) => now.door_closed, ["Close the door", "close_door"], ["Open the door", "open_door"]));
    row(run, () => "Set to", (line) => {
      for (const [heat, words] of menu.heats) {
        const made = button(line, words, () => send("ask_heat", { heat }), { "aria-label": `Set heat to ${words}` });
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
    row(run, (now) => `Clamp around ${now.put.clamp || "no wire"}`, (line) => {
      const where = select(line, "Conductor to clamp", menu.cords);
      updates.push((now) => fill(where, [...menu.cords.map((one) => [one, one]), ...now.wires.filter(([id]) => id !== "ground wire").map(([id, words]) => [id, words])]));
      button(line, "Read amps", () => send("clamp", { conductor: where.value }));
    });
    row(run, (now) => `Temperature probe at ${now.put.temp || "no place"}`, (line) => {
      const where = select(line, "Where to take the temperature", menu.warm);
      const unit = select(line, "Unit of the temperature", ["°F", "°C"]);
      degrees = () => unit.value;
      button(line, "Read the temperature", () => send("temperature", { spot: where.value, unit: unit.value }));
    });
  };
  lists.Parts = (parts) => {
    row(parts, (now) => (now.fahrenheit === null ? "Parts" : `Parts at ${now.fahrenheit} °F`), (line) => {
      const degrees = tag("input", { type: "number", value: "122", min: "-4", max: "482", "aria-label": "Degrees Fahrenheit to hold the thermostats at" }, line);
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
      button(line, "Install a new one", () =>
        send("replace_part", a && part.value === "" ? { a: a.value, b: b.value } : { part: part.value }));
    });
    row(parts, () => "Vent", (line) => button(line, "Look into filter, duct and hood", () => send("look_vent")));
    row(parts, () => "Close without repair", (line) => {
      const to = select(line, "Hand off to", menu.hands);
      button(line, "Stop and hand it off", () => send("stop_and_hand_over", { to: to.value }));
    });
  };
  lists.More = (more) => {
    for (const { act, title, fields } of menu.more) {
      row(more, () => title, (line) => {
        const given = fields.map(({ name, choices }) => {
          const label = `${title}: ${name}`;
          return [name, choices ? select(line, label, choices) : tag("input", { type: "text", "aria-label": label }, line)];
        });
        let asked = false;
        button(line, "Do it", () => {
          asked = true;
          send(act, Object.fromEntries(given.map(([name, input]) => [name, input.value])));
        }, { "aria-label": `Do it: ${title}` });
        updates.push((now) => { // what was written is used up once it is done, as the words on a tag are
          if (asked && !now.refused) for (const [, input] of given) if (input.type === "text") input.value = "";
          asked = false;
        });
      });
    }
  };
  for (const name of [...menu.pages, ...(menu.more.length ? ["More"] : [])]) lists[name](page(name)); // those that a lesson needs

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
  return { open, pages, trail, steps, findings, unit: () => degrees() };
}

/* One press asks, the second does it: a slip of the finger starts nothing. */
function startAgain(parent, act) {
  const words = "Start this dryer over";
  const line = tag("div", { class: "mv-row" }, parent);
  const made = tag("button", { type: "button" }, line, words);
  const quiet = () => (made.textContent = words);
  made.addEventListener("blur", quiet);
  made.addEventListener("click", () => {
    if (made.textContent !== words) act();
    made.textContent = made.textContent === words ? "Start again: press once more" : words;
  });
}
