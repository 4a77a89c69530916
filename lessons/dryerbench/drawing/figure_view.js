// A figure with its knobs: native sliders with names, the picture with its words, one move at a time to the kernel.
const STYLE = `
.fig-view { max-width: 62em; font: 400 1em/1.45 var(--jp-ui-font-family, sans-serif); color: var(--jp-ui-font-color1, #20272c); }
.fig-view .knobs { display: grid; gap: 0.35em 0.9em; grid-template-columns: minmax(9em, max-content) minmax(8em, 18em) auto; align-items: center; margin: 0.2em 0 0.5em; }
.fig-view input { width: 100%; min-height: 28px; margin: 0; accent-color: #0072b2; }
.fig-view .value { min-width: 4.5em; font-variant-numeric: tabular-nums; }
.fig-view img { display: block; width: 100%; height: auto; background: #fff; }
.fig-view .frame { overflow-x: auto; }
@media screen {
  [data-jp-theme-light="false"] .fig-view img { filter: invert(1) hue-rotate(180deg); mix-blend-mode: screen; }
}
.fig-view p { margin: 0.4em 0 0; max-width: 58em; }
@container (max-width: 480px) {
  .fig-view .knobs { grid-template-columns: 1fr auto; }
  .fig-view .knobs label { grid-column: 1 / -1; margin-bottom: -0.3em; min-width: 0; overflow-wrap: anywhere; }
}
.fig-box { container-type: inline-size; }
`;

let made = 0;

function element(tag, parent, properties = {}) {
  const one = Object.assign(document.createElement(tag), properties);
  parent.append(one);
  return one;
}

function shown(value, knob) {
  const digits = knob.step >= 1 ? 0 : 1;
  return value.toFixed(digits) + (knob.unit ? " " + knob.unit : "");
}

function render({ model, el }) {
  const box = element("div", el, { className: "fig-box" });
  element("style", box, { textContent: STYLE });
  const view = element("div", box, { className: "fig-view" });
  view.setAttribute("role", "group");
  view.setAttribute("aria-label", model.get("title"));
  const knobs = element("div", view, { className: "knobs" });
  const quiet = (on) => (event) => event.target.toggleAttribute("data-lm-suppress-shortcuts", on);
  const save = ["Control", "Meta"];
  knobs.addEventListener("focusin", quiet(true)); // else JupyterLab takes the arrow keys
  knobs.addEventListener("keydown", (event) => save.includes(event.key) && quiet(false)(event));
  knobs.addEventListener("keyup", (event) => save.includes(event.key) && quiet(true)(event));
  const values = { ...model.get("values") };
  let waiting = false;
  let changed = false;

  const send = () => {
    if (waiting) {
      changed = true;
      return;
    }
    waiting = true;
    changed = false;
    model.send({ values: { ...values }, ratio: window.devicePixelRatio });
  };

  for (const knob of model.get("knobs")) {
    const id = `fig-knob-${(made += 1)}`;
    element("label", knobs, { htmlFor: id, textContent: knob.named });
    const slider = element("input", knobs, { type: "range", id, min: knob.low, max: knob.high, step: knob.step });
    slider.value = values[knob.name];
    slider.setAttribute("aria-label", knob.named);
    const output = element("span", knobs, { className: "value" });
    output.setAttribute("aria-hidden", "true");
    const tell = () => {
      output.textContent = shown(Number(slider.value), knob);
      slider.setAttribute("aria-valuetext", output.textContent);
    };
    tell();
    slider.addEventListener("input", () => {
      values[knob.name] = Number(slider.value);
      tell();
      send();
    });
  }

  const wide = model.get("wide");
  const frame = element("div", view, { className: "frame" });
  const image = element("img", frame);
  image.style.maxWidth = `${wide}px`;
  image.style.minWidth = `${model.get("least")}px`;
  if (model.get("least") > 400) {
    frame.tabIndex = 0;
    frame.setAttribute("role", "region");
    frame.setAttribute("aria-label", `${model.get("title")}, can be moved sideways`);
  }
  const words = element("p", view);
  words.setAttribute("role", "status");
  let address = "";
  const draw = () => {
    const before = address;
    address = URL.createObjectURL(new Blob([model.get("picture")], { type: "image/png" }));
    image.src = address;
    if (before) URL.revokeObjectURL(before);
  };
  const say = () => {
    words.textContent = model.get("words");
    image.alt = `${model.get("title")}. ${model.get("words")}`;
  };
  const arrived = () => {
    draw();
    say();
    waiting = false;
    if (changed) send();
  };
  draw();
  say();
  model.on("change:turn", arrived);
  return () => {
    model.off("change:turn", arrived);
    URL.revokeObjectURL(address);
  };
}

export default { render };
