// Two fingers enlarge the drawing about the place between them, one finger moves it; a button returns. Read before machine_panel.js.
const LARGEST = 4; // times the size at which the drawing is shown

/* Let `stage` be enlarged; `button` is shown while it is. Returns what the panel asks and tells it. */
function zoomable(stage, back) {
  let zoom = 1;
  let base = null; // the drawing's size, in px, before it was enlarged
  let held = null; // the pinch: how far apart the fingers were, at which size, and the place of the drawing between them
  const svg = () => stage.querySelector("svg");
  const sized = () => {
    const shown = svg();
    if (!shown) return;
    const large = zoom > 1 && base;
    Object.assign(shown.style, large
      ? { width: `${base.width * zoom}px`, height: `${base.height * zoom}px`, maxWidth: "none", maxHeight: "none" }
      : { width: "", height: "", maxWidth: "", maxHeight: "" });
    stage.style.height = large ? `${base.stage}px` : "";
    stage.classList.toggle("mv-zoomed", Boolean(large));
    back.hidden = !large;
  };
  const share = (x, y) => {
    const box = svg().getBoundingClientRect();
    return [(x - box.left) / box.width, (y - box.top) / box.height];
  };
  /* Show the drawing `next` times its size, with the place `at` (shares of it) under x and y of the window. */
  const show = (next, at, x, y) => {
    if (zoom === 1) {
      const box = svg().getBoundingClientRect();
      base = { width: box.width, height: box.height, stage: stage.getBoundingClientRect().height };
    }
    zoom = Math.min(Math.max(next, 1), LARGEST);
    sized();
    const box = svg().getBoundingClientRect();
    stage.scrollLeft += box.left + at[0] * box.width - x;
    stage.scrollTop += box.top + at[1] * box.height - y;
  };
  const reset = () => {
    zoom = 1;
    held = null;
    sized();
  };
  const pair = ({ touches: [one, other] }) => ({
    apart: Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY) || 1,
    x: (one.clientX + other.clientX) / 2,
    y: (one.clientY + other.clientY) / 2,
  });
  stage.addEventListener("touchstart", (event) => {
    if (event.touches.length !== 2 || !svg()) return;
    event.preventDefault(); // the page keeps its size
    const { apart, x, y } = pair(event);
    held = { apart, zoom, at: share(x, y) };
  }, { passive: false });
  stage.addEventListener("touchmove", (event) => {
    if (!held || event.touches.length !== 2) return;
    if (event.cancelable) event.preventDefault();
    const { apart, x, y } = pair(event);
    show((held.zoom * apart) / held.apart, held.at, x, y);
  }, { passive: false });
  const letGo = (event) => {
    if (event.touches.length < 2) held = null;
  };
  stage.addEventListener("touchend", letGo);
  stage.addEventListener("touchcancel", letGo);
  stage.addEventListener("wheel", (event) => { // two fingers on a touch pad arrive as a wheel with Ctrl
    if (!event.ctrlKey || !svg()) return;
    event.preventDefault();
    show(zoom * Math.exp(-event.deltaY / 200), share(event.clientX, event.clientY), event.clientX, event.clientY);
  }, { passive: false });
  back.addEventListener("click", reset);
  window.addEventListener("resize", reset);
  return { reset, sized, is: () => zoom > 1, end: () => window.removeEventListener("resize", reset) };
}
