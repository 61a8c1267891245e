// Idler: its places on either side, what is near, the load of its pin.

/** Either side may hold the set's own idler: the hole is bored for one. */
const isBored = (place) => place.own_idler && place.side === (entry().layout ? entry().layout.idler_side : place.side);

function placeRow(place) {
  const nearest = place.near && place.near.length ? place.near[0].to : "";
  const load = place.pin_load || {};
  return { mark: isBored(place) ? "own" : null, cells: [
    place.idler_teeth + " " + place.side + (isBored(place) ? " (bored here)" : place.own_idler ? " (this set's)" : ""), coordinate(place.x_mm), coordinate(place.y_mm), nearest, diameter(place.nearest_gap_mm),
    load.drive ? fixed(load.drive.size_n, 0) : "", load.overrun ? fixed(load.overrun.size_n, 0) : ""] };
}

const PLACE_HEADS = [{ name: "Idler" }, { name: "x", unit: "mm", num: true }, { name: "y", unit: "mm", num: true }, { name: "Nearest" },
  { name: "Gap", unit: "mm", num: true }, { name: "Pin load", unit: "N", num: true }, { name: "Overrun", unit: "N", num: true }];

function kinderWords(own) {
  const loaded = own.filter((place) => place.pin_load);
  if (loaded.length < 2) {
    return own.length === 1 ? "Its own idler is clear on the " + own[0].side + " alone." : "";
  }
  const [kind, harsh] = loaded.slice().sort((a, b) => a.pin_load.drive.size_n - b.pin_load.drive.size_n);
  const drive = (place) => fixed(place.pin_load.drive.size_n, 0);
  if (drive(kind) === drive(harsh)) return "Both sides load the pin alike: " + drive(kind) + " N.";
  return "Kinder side: the " + kind.side + ", " + drive(kind) + " N on the pin against " + drive(harsh) + " N; overrun, it is " +
    fixed(kind.pin_load.overrun.size_n, 0) + " and " + fixed(harsh.pin_load.overrun.size_n, 0) + " N.";
}

function backlashWords(place) {
  const change = place.backlash_change_mm;
  if (!change) return [];
  const one = (name, value) => name + " mesh " + coordinate(Math.abs(value)) + " mm " + (value < 0 ? "tighter" : "looser");
  const words = (to, moved) => coordinate(change.centre_error_mm) + " mm " + to + ": " + one("driver's", moved.driver_mesh) + ", " + one("driven's", moved.driven_mesh) + ".";
  return [h("li", null, capital("pin hole " + words("too low", change.lower))), h("li", null, capital("pin hole " + words("too far right", change.to_the_right)))];
}

function ownPlace(of) {
  const own = of.idler.places.filter((place) => place.own_idler);
  const chosen = own.find((place) => of.layout && place.side === of.layout.idler_side) || own[0];
  if (!chosen) return h("p", { class: "flag" }, "This set's own idler has no clear place: see the reasons below.");
  const gaps = chosen.gaps.map((gap) => gap.to + " " + diameter(gap.gap_mm) + " mm (" + diameter(gap.asked_mm) + " asked)");
  return h("ul", { class: "facts" },
    h("li", null, kinderWords(own)),
    h("li", null, "Bored for " + chosen.idler_teeth + " teeth on the " + chosen.side + ": x " + coordinate(chosen.x_mm) + ", y " + coordinate(chosen.y_mm) + " mm from the " + (of.set.head ? "main" : "input") + " shaft, seen from the input end."),
    gaps.length ? h("li", null, "Gaps: " + gaps.join("; ") + ".") : null,
    backlashWords(chosen));
}

function refusedList(refused) {
  const byWhy = new Map();
  for (const one of refused) {
    const why = one.why.join("; ");
    if (!byWhy.has(why)) byWhy.set(why, []);
    byWhy.get(why).push(one.idler_teeth + (one.side ? " " + one.side : " either side"));
  }
  return h("ul", { class: "facts" }, [...byWhy].map(([why, which]) => h("li", null, listed(which) + ": " + why + ".")));
}

function placesTable(caption, places) {
  return table({ caption, heads: PLACE_HEADS, rows: places.map(placeRow) });
}

function paintIdler() {
  const of = entry();
  if (!of.set.reverse || !of.idler) {
    fill("idler-body", of.set.reverse ? h("p", null, "No study of the idler was made for this set.") : null);
    showPart("idler", Boolean(of.set.reverse));
    return;
  }
  const { places, refused } = of.idler;
  const torque = of.idler.torque_given
    ? "Pin loads at " + short(of.idler.input_torque_n_m) + " N m of input torque" : "Pin loads for each " + short(of.idler.input_torque_n_m) + " N m of input torque (the file has no duty)";
  fill("idler-body",
    h("p", null, of.idler.driver_teeth + ARROW + "idler" + ARROW + of.idler.driven_teeth + ", module " + short(of.idler.module_mm) + " mm: " +
      (places.length ? counted(places.length, "side is clear", "sides are clear") : "no side is clear") + "."),
    ownPlace(of),
    places.length ? placesTable("Places, seen from the input end", places) : null,
    refused.length ? [h("h3", null, "Refused"), refusedList(refused)] : null,
    h("p", { class: "fine" }, torque + ", friction left out: an estimate by forces at the pitch circle. " +
      "Idlers of other tooth counts: layshaft idler " + state.record.problem.file + " --set " + state.mark + "."));
  showPart("idler", true);
}
