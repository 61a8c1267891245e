// Other centre distances, where they may still be chosen.

function sweepFigure() {
  const { sweep } = state.record;
  if (!sweep) return null;
  const fits = sweep.rows.filter((row) => row.best);
  if (!fits.length) return null;
  const all = sweep.rows.map((row) => row.centre_distance_mm);
  const [x0, x1] = reach(all, 0.03);
  const [y0, y1] = reach(fits.map((row) => row.best.blank_volume_mm3 / 1000), 0.12);
  const { frame, svg, X, Y } = chart({
    x: { name: "centre distance, mm", from: x0, to: x1 }, y: { name: "least metal, cm³", from: y0, to: y1 },
    label: "Other centre distances: the least metal at each", cls: "low",
  });
  const here = entry().set.centre_distance_mm;
  put(svg, [s("line", { class: "lead", x1: X(here), x2: X(here), y1: 0, y2: "100%" }),
    sweep.rows.filter((row) => !row.best).map((row) => s("text", { class: "tk", x: X(row.centre_distance_mm), y: "100%", dy: -5, "text-anchor": "middle" }, "×")),
    fits.map((row) => s("svg", { x: X(row.centre_distance_mm), y: Y(row.best.blank_volume_mm3 / 1000), class: "at" },
      s("g", { class: "pt " + shadeFor(row.best.distinct_cutters) + (row.unbeaten ? "" : " other") },
        s("title", null, coordinate(row.centre_distance_mm) + " mm: " + thousands(row.feasible_sets) + " sets, best error " + percent(row.best.worst_error_percent) + " %"),
        s("path", { d: shapeFor(row.best.distinct_cutters) }))))]);
  return h("figure", { class: "sweep" }, h("h3", null, "Other centre distances"), frame,
    h("figcaption", { class: "fine" }, "Shape: fewest cutters there. Filled: unbeaten among the distances. × : no set fits. The line is the distance of this box."),
    fold("The distances as a table", false, sweepTable(sweep)));
}

function sweepTable(sweep) {
  const heads = [{ name: "Centres", unit: "mm", num: true }, { name: "Sets", num: true }, { name: "Best error", unit: "%", num: true },
    { name: "Least metal", unit: "cm³", num: true }, { name: "Fewest cutters", num: true }, { name: "" }];
  const fits = sweep.rows.filter((row) => row.best);
  const none = sweep.rows.filter((row) => !row.best).map((row) => coordinate(row.centre_distance_mm));
  const rows = fits.map((row) => [coordinate(row.centre_distance_mm), thousands(row.feasible_sets),
    percent(row.best.worst_error_percent), metal(row.best.blank_volume_mm3), String(row.best.distinct_cutters), row.unbeaten ? "unbeaten" : ""]);
  return [table({ caption: "Each measure's best at every distance, one at a time", heads, rows }),
    none.length ? h("p", { class: "fine" }, "No set fits at " + listed(none) + " mm.") : null];
}
