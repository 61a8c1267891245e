// Assemble: what sits where, which gears are of one piece, how the levers
// move, and the steps in order.

function alongTable(layout, set) {
  const teeth = (role) => (role === "head" ? set.head : role === "reverse" ? set.reverse : set.speeds.find((speed) => speed.name === role));
  const planes = layout.planes.map((one) => ({ from: one.from_mm, to: one.to_mm, what: one.role, note: teethOf(teeth(one.role)) }));
  const sleeves = layout.sleeves.map((one) => {
    const part = layout.parts.find((each) => each.part === one.sleeve);
    return { from: part ? part.from_mm : one.middle_mm, to: part ? part.to_mm : one.middle_mm, what: one.sleeve,
      note: "moves " + diameter(one.travel_mm) + " mm, dog rings Ø " + diameter(one.dog_ring_diameter_mm) };
  });
  const rows = [...planes, ...sleeves].sort((a, b) => a.from - b.from).map((one) => [one.what, diameter(one.from), diameter(one.to), one.note]);
  rows.push(["inner face of the output wall", diameter(layout.length_mm), "", ""]);
  return table({ caption: "Along the shafts, from the inner face of the input wall", rows,
    heads: [{ name: "What" }, { name: "From", unit: "mm", num: true }, { name: "To", unit: "mm", num: true }, { name: "" }] });
}

function shaftTable(shafts) {
  // Without a duty nobody knows how thick a shaft must be.
  const needs = shafts.some((one) => typeof one.needed_mm === "number") ? [{ name: "Needs", unit: "mm", num: true }] : [];
  return table({ caption: "Shafts and bearings", heads: [{ name: "Shaft" }, { name: "Ø", unit: "mm", num: true }, { name: "Bearing", unit: "mm" }, ...needs],
    rows: shafts.map((one) => [one.shaft, diameter(one.diameter_mm),
      one.bearing ? [one.bearing.bore_mm, one.bearing.outside_mm, one.bearing.width_mm].map((mm) => short(mm)).join(" × ") : "",
      ...needs.map(() => (typeof one.needed_mm === "number" ? diameter(one.needed_mm) : ""))]) });
}

/** Levers as rows, their places as columns: one row may be out of neutral. */
function shiftPattern(rods) {
  const cell = (rod, towards) => {
    const place = rod.positions.find((one) => one.towards === towards);
    return place ? [h("strong", null, place.engages), " ", signed(place.move_mm, 2), " mm, notch " + signed(place.notch_mm, 2)] : "";
  };
  return [table({ caption: "Shift pattern", heads: [{ name: "Rod moves" }, { name: "Towards the input" }, { name: "Middle" }, { name: "Towards the output" }],
    rows: rods.map((rod) => [rod.moves, cell(rod, "input"), "neutral", cell(rod, "output")]) }),
  h("p", { class: "flag" }, "Only one rod may be out of neutral: fit the interlock before power.")];
}

function onePieceWords(gears) {
  const words = [];
  const alone = [];
  const told = new Set();
  for (const gear of gears) {
    if (told.has(gear.role)) continue;
    const all = [gear.role, ...gear.one_piece_with];
    all.forEach((role) => told.add(role));
    if (all.length > 1) words.push(listed(all) + " can be of one piece");
    else alone.push(gear.role);
  }
  if (alone.length) words.push(listed(alone) + (alone.length > 1 ? " each by itself" : " by itself") + ", keyed or bonded");
  return words.length ? h("p", null, "Fixed gears: " + words.join("; ") + ".") : null;
}

function paintAssemble() {
  const { layout, set } = entry();
  const box = boxOf(entry());
  if (!box) {
    fill("assemble-body", h("p", { class: "flag" }, noBoxWords(entry())));
    showPart("assemble", true);
    return;
  }
  const chosen = diameter(box.length_mm) + " mm between the walls" + (box.chosen_by === "shortest" ? ", the shortest of all orders of planes and sleeves" : ", by " + String(box.chosen_by).replace(/[-_]/g, " ")) + (box.proved ? " (proved)." : ".");
  const steps = box.assembly && box.assembly.steps ? box.assembly.steps : [];
  fill("assemble-body", h("p", null, chosen),
    h("div", { class: "two" },
      h("div", null, alongTable(box, set), shaftTable(layout.shafts), onePieceWords(box.fixed_gears)),
      h("div", null,
        h("h3", null, "Put together in this order"),
        steps.length ? h("ol", { class: "steps" }, steps.map((one) => h("li", null, one.words))) : h("p", { class: "flag" }, capital(assemblyTrouble(box))),
        shiftPattern(box.rods))));
  showPart("assemble", true);
}

function assemblyTrouble(box) {
  const told = (box.assembly && box.assembly.impossible) || [];
  const words = told.map((one) => one.words || one.part + (one.in_the_way ? ": in the way is " + one.in_the_way : ""));
  return "it does not go together: " + (words.join("; ") || "no order free of collisions was found") + ".";
}
