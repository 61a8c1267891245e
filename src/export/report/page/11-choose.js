// Choose: the trade-off as a picture. Error against metal, shapes by cutters,
// over the pale field of every other set.

const plot = { nodes: new Map(), order: [], at: 0 };

function chooseSentence() {
  const { solve, field } = state.record;
  const unbeaten = solve.front.length;
  const names = { worst_error: "error", blank_volume: "metal", distinct_cutters: "cutters", distinct_bars: "bars",
    bars: "bars", blanks: "blanks", setups: "set-ups", cost: "cost", least_safety: "safety" };
  const measures = listed(solve.measures.map((one) => names[one] || one.replace(/_/g, " ")));
  const here = pageMarks().length;
  if (here === 1 && solve.feasible_sets === "1") return "There is one set, so there is nothing to choose.";
  const first = unbeaten === 1
    ? "1 set is unbeaten: it is as good as any in " + measures + "."
    : thousands(unbeaten) + " sets are unbeaten: nothing else is as good in " + measures + " together.";
  const shown = " This page holds " + counted(here, "set", "sets") + ".";
  if (!field || here < 2) return first + shown;
  const all = field.drawn === field.of ? "every set that fits" : thousands(field.drawn) + " of the " + thousands(field.of) + " sets that fit";
  return first + shown + " The shaded field is " + all + ", darker where more lie together.";
}

function spans() {
  const sets = pageMarks().map(setOf);
  const xs = sets.map((set) => set.worst_error_percent);
  const ys = sets.map((set) => set.blank_volume_mm3 / 1000);
  for (const [x0, x1, y0, y1] of (state.record.field || { cells: [] }).cells) {
    xs.push(x0, x1);
    ys.push(y0 / 1000, y1 / 1000);
  }
  return [reach(xs, 0.04), reach(ys, 0.06)];
}

function paintField(svg, X, Y) {
  const { field } = state.record;
  if (!field) return;
  const most = Math.max(...field.cells.map((cell) => cell[4]));
  const tint = (count) => 0.14 + 0.5 * (Math.log1p(count) / Math.log1p(most));
  const cells = field.cells.map(([x0, x1, y0, y1, count]) => s("rect", {
    x: X(x0), y: Y(y1 / 1000), class: "den", "fill-opacity": tint(count).toFixed(3),
    width: parseFloat(X(x1)) - parseFloat(X(x0)) + "%",
    height: parseFloat(Y(y0 / 1000)) - parseFloat(Y(y1 / 1000)) + "%",
  }));
  svg.append(s("g", { "aria-hidden": "true" }, cells));
}

function pointWords(set, unbeaten) {
  const marks = set.remark_words.length ? ", " + listed(set.remark_words) : "";
  return "Set " + set.mark + ": worst error " + percent(set.worst_error_percent) + " %, metal " +
    metal(set.blank_volume_mm3) + " cm³, " + counted(set.distinct_cutters, "cutter", "cutters") +
    (unbeaten ? ", unbeaten" : "") + marks;
}

function pointOf(mark, X, Y) {
  const { set, unbeaten } = entryOf(mark);
  const words = pointWords(set, unbeaten);
  const link = s("a", {
    href: "#set=" + mark, class: "pt " + shadeFor(set.distinct_cutters) + (unbeaten ? "" : " other"),
    "aria-label": words, tabindex: -1,
    on: { click: (event) => { event.preventDefault(); choose(mark); }, focus: () => { plot.at = plot.order.indexOf(mark); } },
  },
  s("title", null, words),
  s("circle", { class: "hit", r: 13 }), s("circle", { class: "ring", r: 12 }),
  s("path", { d: shapeFor(set.distinct_cutters) }));
  const at = s("svg", { x: X(set.worst_error_percent), y: Y(set.blank_volume_mm3 / 1000), class: "at" }, link);
  plot.nodes.set(mark, { at, link });
  return at;
}

/** Left and right walk by error, up and down by metal. */
function walk(event) {
  const by = { ArrowRight: ["x", 1], ArrowLeft: ["x", -1], ArrowUp: ["y", 1], ArrowDown: ["y", -1] }[event.key];
  if (!by) return;
  event.preventDefault();
  const key = by[0] === "x" ? (mark) => setOf(mark).worst_error_percent : (mark) => setOf(mark).blank_volume_mm3;
  const seenOnes = plot.order.filter((mark) => !plot.nodes.get(mark).link.classList.contains("dim"));
  const sorted = seenOnes.slice().sort((a, b) => key(a) - key(b) || (a < b ? -1 : 1));
  const here = sorted.indexOf(plot.order[plot.at]);
  const next = sorted[Math.max(0, Math.min(sorted.length - 1, here + by[1]))];
  if (next) focusPoint(next);
}

function focusPoint(mark) {
  for (const { link } of plot.nodes.values()) link.setAttribute("tabindex", -1);
  const { link } = plot.nodes.get(mark);
  link.setAttribute("tabindex", 0);
  link.focus();
  plot.at = plot.order.indexOf(mark);
}

function legend() {
  const all = [...new Set(pageMarks().map((mark) => setOf(mark).distinct_cutters))].sort((a, b) => a - b);
  const swatch = (cls, count) => s("svg", { viewBox: "-10 -10 20 20", "aria-hidden": "true", class: cls }, s("path", { d: shapeFor(count) }));
  const one = (count) => h("li", null, swatch("pt " + shadeFor(count), count), String(count));
  return h("ul", { class: "leg", "aria-label": "Shapes by number of cutters" },
    h("li", { class: "lt", "aria-hidden": "true" }, "Cutters"), all.map(one),
    h("li", null, swatch("pt other c4", 4), "hollow: beaten"));
}

function plotFigure() {
  plot.nodes.clear();
  if (pageMarks().length < 2) return null;
  const [[x0, x1], [y0, y1]] = spans();
  const { frame, svg, X, Y } = chart({
    x: { name: "worst speed error, %", from: Math.min(0, x0) === 0 ? x0 : Math.max(0, x0), to: x1 },
    y: { name: "metal in the blanks, cm³", from: y0, to: y1 },
    label: "Trade-off: worst error against metal, a shape for each number of cutters. Arrow keys walk through the sets, Enter shows one.",
    cls: "tall", role: "group",
  });
  paintField(svg, X, Y);
  // Drawn from the last to the first, so that the best lie on top.
  plot.order = pageMarks();
  svg.append(s("g", { class: "pts", on: { keydown: walk } },
    plot.order.slice().reverse().map((mark) => pointOf(mark, X, Y))));
  return h("figure", { class: "trade" }, frame, legend(),
    h("figcaption", { class: "fine" }, "Down and to the left is better. Choose a shape to show its set everywhere on this page; on the keyboard, arrows walk and Enter shows."));
}

/** Rings the set shown, and makes it the one that Tab comes to. */
function markPlot() {
  for (const [mark, { link, at }] of plot.nodes) {
    const on = mark === state.mark;
    link.classList.toggle("on", on);
    link.setAttribute("tabindex", on ? 0 : -1);
    if (on) {
      link.setAttribute("aria-current", "true");
      if (at.parentNode.lastChild !== at && document.activeElement !== link) at.parentNode.append(at);
      plot.at = plot.order.indexOf(mark);
    } else {
      link.removeAttribute("aria-current");
    }
  }
}
