// Speeds: what was asked and what comes out, the speed diagram, the steps.

function motionOf(of, id) {
  return motionsOf(of) ? motionsOf(of).states.find((one) => one.state === id) : null;
}

function outputTurns(motion) {
  const shafts = motion.shafts.filter((one) => one.shaft === "main" || one.shaft === "output");
  return shafts.length ? shafts[0].turns : null;
}

function speedRows(of) {
  const road = motionsOf(of) && motionsOf(of).states.some((one) => one.road_speed_kmh !== null);
  const rpm = motionsOf(of) && motionsOf(of).states.some((one) => outputTurns(one) && outputTurns(one).rpm !== null);
  const rows = gearStates(of).filter((one) => one.pair).map((one) => {
    const motion = motionOf(of, one.id);
    const turns = motion ? outputTurns(motion) : null;
    const geared = !one.pair.direct;
    return [one.name, teethOf(one.pair), geared ? askedOf(one.pair) || "as cut" : "direct", ratioOf(one.pair.ratio),
      geared && typeof one.pair.error_percent === "number" ? offBy(one.pair.error_percent) : "",
      ...(rpm ? [turns ? fixed(turns.rpm, 0) : ""] : []),
      ...(road ? [motion ? fixed(motion.road_speed_kmh, 2) : ""] : [])];
  });
  rows.push(rows.shift());
  const heads = [{ name: "Speed" }, { name: "Teeth" }, { name: "Asked", num: true }, { name: "Ratio", num: true }, { name: "Off", unit: "%", num: true },
    ...(rpm ? [{ name: "Output", unit: "rpm", num: true }] : []), ...(road ? [{ name: "Road", unit: "km/h", num: true }] : [])];
  return { heads, rows: of.set.reverse ? rows : [rows.pop(), ...rows] };
}

/** In what the output's speed is told: road speed, rpm, or turns of the input. */
function outputScale(of) {
  const states = motionsOf(of).states.filter((one) => one.state !== "neutral");
  if (states.some((one) => one.road_speed_kmh !== null)) return { name: "road speed, km/h", of: (one) => Math.abs(one.road_speed_kmh) };
  if (states.some((one) => outputTurns(one).rpm !== null)) return { name: "output, rpm", of: (one) => Math.abs(outputTurns(one).rpm) };
  return { name: "output, turns a turn of the input", of: (one) => Math.abs(outputTurns(one).per_input_turn) };
}

function inputScale(of) {
  const state0 = motionsOf(of).states[0].shafts.find((one) => one.shaft === "input");
  const rpm = state0 ? state0.turns.rpm : null;
  return rpm === null ? { name: "input, share of its full speed", full: 1, after: (shiftOf) => shiftOf.input_after.per_input_turn, digits: 2 }
    : { name: "input, rpm", full: rpm, after: (shiftOf) => shiftOf.input_after.rpm, digits: 0 };
}

/** Each speed a line from rest; the zigzag is the way up through the speeds. */
function speedDiagram(of) {
  if (!motionsOf(of)) return null;
  const across = outputScale(of);
  const up = inputScale(of);
  const states = motionsOf(of).states.filter((one) => one.state !== "neutral");
  const most = Math.max(...states.map(across.of));
  const { frame, svg, X, Y } = chart({
    x: { name: across.name, from: 0, to: most * 1.04 }, y: { name: up.name, from: 0, to: up.full * 1.2 },
    label: "Speed diagram: " + up.name + " against " + across.name + ", a line for each speed", cls: "mid",
  });
  const lines = states.map((one) => s("line", { class: one.state === "reverse" ? "fanR" : "fan", x1: X(0), y1: Y(0), x2: X(across.of(one)), y2: Y(up.full) }));
  svg.append(s("g", null, lines), s("g", null, zigzag(of, states, across, up, X, Y)),
    s("g", null, states.map((one) => speedLabel(one, X(across.of(one)), Y(up.full)))));
  return h("figure", null, frame, h("figcaption", { class: "fine" }, "Each thin line is a speed (reverse dashed). The zigzag changes up at full speed of the input."));
}

/** Words at drops this near, as a share of the width, go a line lower in turn. */
const NEAR = 0.12;

/** Reverse often ends where a speed does: its name stands a line higher. */
function speedLabel(one, x, y) {
  return s("text", { class: "fl", x, y, dy: one.state === "reverse" ? -21 : -6, "text-anchor": "middle" }, one.state);
}

function zigzag(of, states, across, up, X, Y) {
  const forward = states.filter((one) => one.state !== "reverse").sort((a, b) => across.of(a) - across.of(b));
  const parts = [];
  const most = Math.max(...states.map(across.of));
  let lower = false;
  forward.forEach((one, i) => {
    const full = across.of(one);
    const changed = i === 0 ? null : motionsOf(of).shifts.find((change) => change.from === forward[i - 1].state && change.to === one.state);
    const low = i === 0 ? 0 : changed ? up.after(changed) : null;
    if (low === null) return;
    const from = i === 0 ? 0 : across.of(forward[i - 1]);
    if (i > 0) {
      parts.push(s("line", { class: "saw", x1: X(from), y1: Y(up.full), x2: X(from), y2: Y(low) }));
      lower = i > 1 && !lower && (from - across.of(forward[i - 2])) / most < NEAR;
      parts.push(s("text", { class: "drop", x: X(from), y: Y(low), dx: 5, dy: lower ? 30 : 14 }, "to " + fixed(low, up.digits)));
    }
    parts.push(s("line", { class: "saw", x1: X(from), y1: Y(low), x2: X(full), y2: Y(up.full) }));
  });
  return parts;
}

function shiftTable(of) {
  if (!motionsOf(of) || !motionsOf(of).shifts.length) return null;
  const rpm = motionsOf(of).shifts[0].difference.rpm !== null;
  const heads = [{ name: "Change" }, ...(rpm ? [{ name: "Dog takes up", unit: "rpm", num: true }] : []), { name: "of the shaft", unit: "%", num: true },
    rpm ? { name: "Input then", unit: "rpm", num: true } : { name: "Input then", unit: "of its speed", num: true }];
  const rows = motionsOf(of).shifts.map((one) => [one.from + " to " + one.to, ...(rpm ? [signed(one.difference.rpm, 0)] : []),
    signed(one.difference_percent, 1), rpm ? fixed(one.input_after.rpm, 0) : ratioOf(one.input_after.per_input_turn)]);
  return table({ caption: "Changing speed, the output keeping its own", heads, rows });
}

function paintSpeeds() {
  const of = entry();
  const { heads, rows } = speedRows(of);
  const even = typeof of.set.step_evenness === "number" ? "Largest step over smallest: " + fixed(of.set.step_evenness, 2) + "." : "";
  fill("speeds-body",
    h("div", { class: "two" },
      h("div", null, table({ caption: "Speeds of set " + of.set.mark, heads, rows }), h("p", { class: "fine" }, even), shiftTable(of)),
      h("div", null, speedDiagram(of), sweepFigure())));
  showPart("speeds", true);
}
