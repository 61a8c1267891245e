// The gears turn at their true relative speeds, and the idler changes sides.

const turning = { on: false, last: 0 };
const DEG_PER_S = 48;
const SLOW_DEG_PER_S = 12;

const wantsStill = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

/** Turns of everything for one turn of the input, in the state shown. */
function speedsNow() {
  const of = entry();
  const all = new Map();
  const motions = motionsOf(of);
  const motion = motions ? motions.states.find((one) => one.state === state.gear) : null;
  if (!motion) return all;
  for (const shaft of motion.shafts) {
    for (const name of [shaft.shaft, shaft.shaft + " shaft"]) all.set(name, shaft.turns.per_input_turn);
  }
  for (const gear of motion.gears) {
    if (gear.turns) all.set(gear.gear, gear.turns.per_input_turn);
  }
  return all;
}

/** Everything at the angle to which `deg` of the input brings it. */
function turnTo(deg) {
  const of = entry();
  const sense = of.layout && of.layout.input_turns === "anticlockwise" ? -1 : 1;
  const speeds = speedsNow();
  for (const { outer, inner, group } of stage.groups) {
    if (!group.axis || outer.style.display === "none") continue;
    const per = speeds.get(group.of);
    if (per === undefined) continue;
    const [x, y] = group.axis;
    inner.setAttribute("transform", "rotate(" + ((sense * deg * per) % 360) + " " + x + " " + -y + ")");
  }
}

function step(now) {
  if (!turning.on) return;
  const seconds = turning.last ? Math.min(0.1, (now - turning.last) / 1000) : 0;
  turning.last = now;
  stage.angle += seconds * (wantsStill() ? SLOW_DEG_PER_S : DEG_PER_S);
  turnTo(stage.angle);
  requestAnimationFrame(step);
}

function turnButton() {
  const press = () => {
    turning.on = !turning.on;
    turning.last = 0;
    button.setAttribute("aria-pressed", String(turning.on));
    button.textContent = turning.on ? "Stop the gears" : "Turn the gears";
    if (turning.on) requestAnimationFrame(step);
  };
  const button = h("button", {
    type: "button", id: "turn", "aria-pressed": String(turning.on), on: { click: press },
  }, turning.on ? "Stop the gears" : "Turn the gears");
  return button;
}

/** Why the set's own idler cannot sit on `side`; nothing where it can. */
function refusalOf(of, side) {
  const study = of.idler;
  if (!study) return "no study of the idler was made";
  if (study.places.some((place) => place.own_idler && place.side === side)) return null;
  const teeth = of.set.reverse.idler_teeth;
  const told = study.refused.filter((one) =>
    one.idler_teeth === teeth && (one.side === side || one.side === null));
  const why = told.flatMap((one) => one.why);
  return why.length ? why.join("; ") : "its place there is not clear";
}

const otherSide = (side) => (side === "right" ? "left" : "right");

function sideButton(of) {
  if (!of.set.reverse || !state.side) return null;
  const press = () => {
    const to = otherSide(state.side);
    const why = refusalOf(entry(), to);
    const place = byId("side-why");
    if (why) {
      place.textContent = "Not on the " + to + ": " + why + ".";
      place.hidden = false;
      return;
    }
    state.side = to;
    button.textContent = "Idler on the " + otherSide(to);
    place.textContent = sideNote(entry());
    place.hidden = !place.textContent;
    applyState();
  };
  const button = h("button", { type: "button", id: "side", on: { click: press } }, "Idler on the " + otherSide(state.side));
  return button;
}

/** The sheets below are worked for one side: said where the other is drawn. */
function sideNote(of) {
  if (state.side === of.layout.idler_side) return "";
  const place = of.idler.places.find((one) => one.own_idler && one.side === state.side);
  return "Drawn on the " + state.side + ". Boring, loads and assembly below hold for the " + of.layout.idler_side +
    "; on the " + state.side + " the pin stands at x " + coordinate(place.x_mm) + ", y " + coordinate(place.y_mm) + " mm.";
}
