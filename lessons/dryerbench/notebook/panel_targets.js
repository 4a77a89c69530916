// What can be pressed on a drawing of the panel, by mouse, finger or arrow keys. Read before machine_panel.js.
const NEAR = 30; // units of the drawing: a press takes the nearest spot within them

function tag(name, attributes, parent, text) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  if (parent) parent.append(made);
  return made;
}

const PRESSED = "[data-point], [data-place], [data-jaw], [data-warm]"; // terminals, things, wires, what is touched

/* What can be pressed on a drawing, each with its middle in the drawing's units. */
function targets(svg) {
  return [...svg.querySelectorAll(PRESSED)].map((group) => {
    const hand = group.querySelector("circle");
    return { group, x: Number(hand.getAttribute("cx")), y: Number(hand.getAttribute("cy")) };
  });
}

/* The wire right under a mouse: of two that run side by side it is the one that is pointed at. */
function wireUnder(event) {
  if (event.pointerType && event.pointerType !== "mouse") return null;
  const ways = document.elementsFromPoint(event.clientX, event.clientY).filter((one) => one.matches(".mv-way"));
  return ways.length ? ways[0].closest("[data-jaw]") : null;
}

function nearest(svg, event) {
  const wire = wireUnder(event);
  if (wire) return wire;
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
  for (const name of ["point", "place", "jaw", "warm", "mode", "press"]) if (group.dataset[name]) return `[data-${name}="${group.dataset[name]}"]`;
  return "";
}
