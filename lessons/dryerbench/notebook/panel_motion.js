// What is at another place in the next drawing slides there. Read before machine_panel.js.
// A drawing is always shown as it now is: motion is laid over it, so an early next press finds nothing half moved.
const CALM = window.matchMedia("(prefers-reduced-motion: reduce)"); // then everything is a cut
const LASTS = { cover: 200, tip: 120, clamp: 120, temp: 120, airflow: 120, sleeve: 180, knob: 120, digits: 150 }; // ms
const FROM = { cover: [46, 0], tip: [26, 34], clamp: [26, 34], temp: [26, 34], airflow: [26, 34] }; // what is new comes from there

/* Where everything that can move is on the drawings in `parent`: place, size and turn by name. */
function standing(parent) {
  const found = new Map();
  for (const one of parent.querySelectorAll("[data-move]")) {
    const [x, y, size = 0, turn = 0] = (one.dataset.at || "0 0").split(" ").map(Number);
    if (!found.has(one.dataset.move)) found.set(one.dataset.move, { x, y, size, turn, shown: one.dataset.shown });
  }
  return found;
}

/* Let what is in `parent` now come from where it was `before`; null where another place is looked at. */
function settle(parent, before) {
  if (!before || CALM.matches) return;
  for (const one of parent.querySelectorAll("[data-move]")) {
    const kind = one.dataset.move.split(" ")[0];
    const was = before.get(one.dataset.move);
    const [x, y, size = 0, turn = 0] = (one.dataset.at || "0 0").split(" ").map(Number);
    const timing = { duration: LASTS[kind], easing: "ease-out" };
    if (kind === "digits") {
      if (one.dataset.shown !== was?.shown) one.animate([{ opacity: 0.2 }, { opacity: 1 }], { ...timing, easing: "steps(3, end)" });
      continue;
    }
    if (!was && !FROM[kind]) continue;
    const from = was || { x: x + FROM[kind][0], y: y + FROM[kind][1], size, turn };
    const [dx, dy] = [from.x - x, from.y - y];
    const grown = size && from.size ? from.size / size : 1;
    const turned = ((from.turn - turn + 540) % 360) - 180;
    if (!dx && !dy && !turned && grown === 1) continue;
    const at = (u, v, degrees, scale) => `translate(${x + u}px, ${y + v}px) rotate(${degrees}deg) scale(${scale}) translate(${-x}px, ${-y}px)`;
    one.animate([{ transform: at(dx, dy, turned, grown) }, { transform: at(0, 0, 0, 1) }], timing);
  }
}
