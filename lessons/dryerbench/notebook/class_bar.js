// The button that hands a page in, and in a class one to raise a hand. In a class it asks every minute how it stands. Saving is the page's own business: it is asked for as the keyboard asks for it.
const MINUTE = 60000;
function save() {
  const mac = navigator.platform.startsWith("Mac");
  document.body.dispatchEvent(new KeyboardEvent("keydown", {
    key: "s", code: "KeyS", keyCode: 83, which: 83, ctrlKey: !mac, metaKey: mac, bubbles: true, cancelable: true,
  }));
}

function render({ model, el }) {
  const box = document.createElement("div");
  box.className = "ltl-hand-in";
  box.style.cssText = "border-left:5px solid #0072B2;padding:.4em .8em;margin:.2em 0;max-width:58em;line-height:1.45";
  const button = (words) => {
    const made = document.createElement("button");
    made.textContent = words;
    made.style.cssText = "font-size:1em;padding:.5em 1.1em;margin:0 .6em .3em 0;min-height:2.6em;border:1px solid #0072B2;border-radius:3px;background:#fff;color:#0072B2;cursor:pointer";
    made.setAttribute("data-lm-suppress-shortcuts", "");
    box.append(made);
    return made;
  };
  const give = button("Hand in this page");
  give.style.background = "#0072B2"; give.style.color = "#fff";
  const hand = button("");
  hand.hidden = !model.get("in_class");
  give.hidden = !model.get("gives");
  const said = document.createElement("div");
  said.setAttribute("role", "status");
  said.style.overflowWrap = "anywhere";
  box.append(said);
  const show = () => {
    said.innerText = model.get("said");
    give.disabled = model.get("busy");
    hand.textContent = model.get("hand") ? "Take the hand down" : "Raise a hand";
    hand.setAttribute("aria-pressed", String(model.get("hand")));
    box.style.borderLeftColor = model.get("fine") ? "#0072B2" : "#B85C00";
  };
  give.addEventListener("click", () => { give.disabled = true; save(); model.send({ want: "hand-in" }); });
  hand.addEventListener("click", () => model.send({ want: "hand" }));
  model.on("change", show);
  show();
  el.append(box);
  if (!model.get("in_class")) return undefined;
  let answered = true;
  const heard = () => { answered = true; };
  model.on("change:asked", heard);
  const every = setInterval(() => {
    if (document.hidden || !answered) return;
    answered = false;
    model.send({ want: "state" });
  }, MINUTE);
  return () => { clearInterval(every); model.off("change:asked", heard); };
}

export default { render };
