// A frame for diagrams: places in percent of the frame, text at its own size,
// so that the same diagram reads on a phone, a screen and paper.

/** Round steps between two values, about `wanted` of them. */
function ticksOf(low, high, wanted) {
  const rough = (high - low) / wanted || 1;
  const power = 10 ** Math.floor(Math.log10(rough));
  const unit = [1, 2, 2.5, 5, 10].find((one) => one * power >= rough) * power;
  const all = [];
  for (let i = Math.ceil(low / unit - 1e-9); i * unit <= high + unit * 1e-6; i += 1) all.push(i * unit);
  return { all, digits: Math.max(0, -Math.floor(Math.log10(unit) + 1e-9) + (unit / power === 2.5 ? 1 : 0)) };
}

/** The ends of an axis: a little beyond the least and the most. */
function reach(values, room) {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const spare = (high - low) * room || Math.abs(high) * 0.1 || 1;
  return [low - spare, high + spare];
}

/**
 * An empty diagram. `x` and `y`: { name, from, to, ticks }. Gives the frame,
 * the SVG to draw into, and both scales as text in percent.
 */
function chart({ x, y, label, cls, role }) {
  const X = (value) => ((value - x.from) / (x.to - x.from)) * 100 + "%";
  const Y = (value) => (1 - (value - y.from) / (y.to - y.from)) * 100 + "%";
  const svg = s("svg", { class: "plot", role: role || "img", "aria-label": label, width: "100%", height: "100%" });
  const across = ticksOf(x.from, x.to, x.ticks || 6);
  const up = ticksOf(y.from, y.to, y.ticks || 5);
  const grid = s("g", { class: "grid", "aria-hidden": "true" },
    across.all.map((value) => [
      s("line", { class: "gr", x1: X(value), x2: X(value), y1: 0, y2: "100%" }),
      s("text", { class: "tk", x: X(value), y: "100%", dy: 18, "text-anchor": "middle" }, fixed(value, across.digits)),
    ]),
    up.all.map((value) => [
      s("line", { class: "gr", x1: 0, x2: "100%", y1: Y(value), y2: Y(value) }),
      s("text", { class: "tk", x: 0, y: Y(value), dx: -7, dy: 4.5, "text-anchor": "end" }, fixed(value, up.digits)),
    ]),
    s("line", { class: "ax", x1: 0, x2: 0, y1: 0, y2: "100%" }),
    s("line", { class: "ax", x1: 0, x2: "100%", y1: "100%", y2: "100%" }));
  svg.append(grid);
  const frame = h("div", { class: "frame " + (cls || "") },
    h("div", { class: "yname", "aria-hidden": "true" }, y.name),
    h("div", { class: "canvas" }, svg),
    h("div", { class: "xname", "aria-hidden": "true" }, x.name));
  return { frame, svg, X, Y };
}

/** Shapes by number of cutters: told apart without colour. */
const SHAPES = {
  1: "M-6-2.6H6V2.6H-6Z",
  2: "M0-8L8 7H-8Z",
  3: "M-6.5-6.5H6.5V6.5H-6.5Z",
  4: "M0-7.5A7.5 7.5 0 1 1-.01-7.5Z",
  5: "M0-8.5L8.5 0L0 8.5L-8.5 0Z",
  6: "M-6.5-2.4H-2.4V-6.5H2.4V-2.4H6.5V2.4H2.4V6.5H-2.4V2.4H-6.5Z",
  7: "M-7-3L0-8L7-3L4.5 6.5H-4.5Z",
  8: "M-7 7L-3-7H3L7 7L0 2Z",
};

const shapeFor = (cutters) => SHAPES[Math.min(cutters, 8)] || SHAPES[8];
const shadeFor = (cutters) => "c" + Math.max(1, Math.min(cutters, 8));
