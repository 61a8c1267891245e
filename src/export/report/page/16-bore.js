// Bore: where the holes go in either wall, how to check, how true to hold.

const boreName = (name) => (name === "idler" ? "idler pin" : name === "input" || name === "main" || name === "output" ? name + " shaft" : name);

function boreTable(face, bores) {
  const mirrored = face === "output" ? "seen from the output end: left and right change places" : "seen from the input end";
  return table({
    caption: capital(face) + " wall, " + mirrored,
    heads: [{ name: "Bore" }, { name: "Ø", unit: "mm", num: true }, { name: "x", unit: "mm", num: true }, { name: "y", unit: "mm", num: true },
      { name: "x", unit: "in", num: true }, { name: "y", unit: "in", num: true }],
    rows: bores.map((bore) => [boreName(bore.for), diameter(bore.diameter_mm), coordinate(bore.x_mm), coordinate(bore.y_mm), inches(bore.x_in), inches(bore.y_in)]),
  });
}

function checksTable(checks) {
  return table({
    caption: "Check over pins",
    heads: [{ name: "Between" }, { name: "Pins", unit: "mm", num: true }, { name: "Apart", unit: "mm", num: true },
      { name: "Outside", unit: "mm", num: true }, { name: "Inside", unit: "mm", num: true }],
    rows: checks.map((check) => [check.between.map(boreName).join(" and "), check.pins_mm.map(diameter).join(", "),
      coordinate(check.apart_mm), coordinate(check.outside_mm), coordinate(check.inside_mm)]),
  });
}

function holdWords(name, tolerance) {
  if (!tolerance) return null;
  const meshes = tolerance.set_by === "head" || tolerance.set_by === "reverse" ? tolerance.set_by : "speed " + tolerance.set_by;
  if (tolerance.reached === false) {
    return h("li", null, name + " may not be off at all: even where they should be, " + meshes + " misses its backlash. See the remarks of the set.");
  }
  const keeps = tolerance.normal_backlash_mm;
  const words = name + " may be " + coordinate(tolerance.closer_mm) + " mm closer or " + coordinate(tolerance.wider_mm) + " mm wider: " +
    meshes + " then keeps " + coordinate(keeps.min) + " to " + coordinate(keeps.max) + " mm between the flanks.";
  return h("li", null, words);
}

function growthWords(growth) {
  if (!growth) return null;
  const way = growth.opens_mm < 0 ? "closes" : "opens";
  return h("li", null, "Warmed by " + fixed(growth.warmer_k, 0) + " K, a case of " + growth.material + " " + way + " the centres by " +
    coordinate(Math.abs(growth.opens_mm)) + " mm beyond what steel gears grow: " + signed(growth.normal_backlash_mm, 3) + " mm of backlash.");
}

function boringPlans(of) {
  if (!of.boring) return null;
  const plan = (drawing) => {
    if (!drawing) return null;
    const { svg, groups } = paintDrawing(drawing, null, "bores");
    groups.forEach((one) => one.draw());
    return h("figure", { class: "plan" }, h("figcaption", { class: "cap" }, drawing.title), svg);
  };
  return h("div", { class: "plans" }, plan(of.boring.input), plan(of.boring.output));
}

function paintBore() {
  const of = entry();
  if (!of.layout || !of.layout.boring) {
    fill("bore-body", h("p", null, "No boring table was made for this set."));
    showPart("bore", true);
    return;
  }
  const { boring } = of.layout;
  fill("bore-body",
    h("p", null, "Measured from the axis of the " + (of.set.head ? "main" : "input") + " shaft where the file names no other datum; x to the right, y up. Mark out, check over pins in a scrap plate first, then bore."),
    h("div", { class: "two" },
      h("div", null, boreTable("input", boring.input_face), boreTable("output", boring.output_face)),
      h("div", null, checksTable(boring.checks),
        h("ul", { class: "facts" }, holdWords("The shafts", boring.centres_tolerance), holdWords("The idler's pin", boring.idler_tolerance), growthWords(boring.growth)))),
    boringPlans(of));
  showPart("bore", true);
}
