// Strength: how near everything is to what it may bear, weakest first.

const FIRST_BARS = 10;

/** Bars: teeth by the share of the safety asked for, parts by their own share. */
function strengthBars(strength) {
  const least = { root: strength.asked_safety.root || 1, flank: strength.asked_safety.flank || strength.asked_safety.root || 1 };
  const teeth = strength.meshes.flatMap((mesh) => mesh.gears.flatMap((gear) => ["root", "flank"].map((place) => {
    const safety = gear[place + "_safety"];
    return { name: capital(gearWords(gear.gear)).replace(/^The /, "").replace(/^./, (one) => one.toUpperCase()) + ", " + place + (mesh.gears[0].gear === "idler" || mesh.gears[1].gear === "idler" ? " (with " + gearWords(mesh.gears.find((one) => one !== gear).gear) + ")" : ""),
      share: (least[place] / safety) * 100, told: "safety " + percent(safety), more: figure(gear[place + "_mpa"]) + " of " + figure(gear[place + "_limit_mpa"]) + " MPa" };
  })));
  const parts = strength.parts.map((part) => ({ name: capital(part.part), share: part.share_percent, told: fixed(part.share_percent, 0) + " %",
    more: part.what + ", " + figure(part.value) + " of " + figure(part.limit) + " " + part.unit + ", " + part.when }));
  const worst = (bars) => bars.filter((bar) => typeof bar.share === "number" && Number.isFinite(bar.share)).sort((a, b) => b.share - a.share);
  return { teeth: worst(teeth), parts: worst(parts) };
}

/** Of each part its worst figure alone, in the order given. */
function firstOfEach(bars) {
  const told = new Set();
  return bars.filter((bar) => !told.has(bar.name) && told.add(bar.name));
}

/** How many parts bear more than they may in one way or another. */
function overloaded(strength) {
  return new Set(strength.parts.filter((part) => part.share_percent > 100).map((part) => part.part)).size;
}

function barLine(bar, most) {
  const weak = bar.share > 100;
  const width = Math.min(100, (bar.share / most) * 100) + "%";
  const track = h("span", { class: "rb" }, h("i", { class: weak ? "over" : null }), h("b", { class: "line" }));
  track.firstChild.style.width = width;
  track.lastChild.style.left = (100 / most) * 100 + "%";
  return h("li", { class: weak ? "weak" : null },
    h("span", { class: "what" }, bar.name, h("span", { class: "mut" }, " " + bar.more)), track,
    h("span", { class: "told" }, weak ? h("strong", null, "too weak ") : null, bar.told));
}

function barList(bars, heading) {
  if (!bars.length) return null;
  const most = Math.max(100, Math.min(400, bars[0].share)) * 1.02;
  const first = firstOfEach(bars).slice(0, FIRST_BARS);
  const rest = bars.filter((bar) => !first.includes(bar));
  const lines = (some) => h("ul", { class: "rate" }, some.map((bar) => barLine(bar, most)));
  return [h("h3", null, heading), lines(first),
    rest.length ? fold(rest.length + " more figures", false, restTable(rest, heading)) : null];
}

function restTable(bars, heading) {
  return table({ caption: heading.split(",")[0] + ", the other figures",
    heads: [{ name: "What" }, { name: "Is, of what may be" }, { name: "Standing", num: true }],
    rows: bars.map((bar) => [bar.name, bar.more, (bar.share > 100 ? "too weak, " : "") + bar.told]) });
}

function meshTable(strength) {
  const rows = strength.meshes.flatMap((mesh) => mesh.gears.map((gear) => [gear.gear, mesh.gears.map((one) => one.teeth).join(ARROW),
    percent(mesh.driver_torque_n_m), fixed(mesh.face_width_mm, 1), figure(gear.root_mpa) + "/" + figure(gear.root_limit_mpa),
    figure(gear.flank_mpa) + "/" + figure(gear.flank_limit_mpa), percent(gear.root_safety), percent(gear.flank_safety)]));
  return table({ caption: "Teeth, gear by gear", wide: true, rows,
    heads: [{ name: "Gear" }, { name: "Mesh" }, { name: "Torque", unit: "N m", num: true }, { name: "Width", unit: "mm", num: true },
      { name: "Root is/may", unit: "MPa", num: true }, { name: "Flank is/may", unit: "MPa", num: true }, { name: "Safety root", num: true }, { name: "Safety flank", num: true }] });
}

/** Whether anything that is rated bears more than it may. */
const isWeak = (strength) => Boolean(strength && strength.rated && (strength.teeth_hold === false || strength.parts_hold === false));

function strengthWords(strength) {
  const asked = strength.asked_safety.root || strength.asked_safety.flank;
  const least = asked ? "the file asks for " + percent(asked) : "the file asks for none, so 1.00 is the least";
  const weakest = strength.weakest;
  const teeth = weakest
    ? (strength.teeth_hold ? "The teeth hold: " : "Too weak: ") + "least safety " + percent(weakest.safety) + ", at the " + weakest.place + " of " + gearWords(weakest.gear) + "; " + least + "."
    : "";
  const parts = strength.parts_hold === null ? "" : strength.parts_hold ? " The other parts hold." : " " + counted(overloaded(strength), "other part bears", "other parts bear") + " too much.";
  return teeth + parts;
}

function takenFigures(strength) {
  const teeth = strength.taken_for_teeth.map((one) => one.what + ": " + (one.symbol ? one.symbol + " " : "") + short(one.value) + (one.unit ? " " + one.unit : "") +
    (one.roles ? " for " + listed(one.roles) : "") + " (" + one.key + ")");
  const parts = strength.part_factors.filter((one) => one.origin === "defaulted").map((one) => one.what + " " + short(one.value) + (one.unit ? " " + one.unit : "") + ", " + one.source);
  if (!teeth.length && !parts.length) return null;
  const items = (all) => h("ul", { class: "facts two-up" }, all.map((one) => h("li", null, capital(one))));
  return fold("Figures that were taken because the file does not give them (" + (teeth.length + parts.length) + ")", false,
    teeth.length ? [h("h3", null, "For the teeth"), items(teeth)] : null, parts.length ? [h("h3", null, "For the other parts"), items(parts)] : null);
}

function unratedWords(strength) {
  const all = strength.unrated || [];
  if (!all.length) return null;
  const words = all.map((one) => (typeof one === "string" ? one : [one.part || one.gear || one.what, one.why].filter(Boolean).join(": ")));
  return h("p", { class: "flag" }, "Not rated, which is not to say that it holds: " + words.join("; ") + ".");
}

function paintStrength() {
  const { strength } = entry();
  if (!strength.rated) {
    const why = "Nothing here is rated for strength: the problem file has no duty to rate it for.";
    fill("strength-body", h("p", { class: "flag" }, why), unratedWords(strength),
      h("p", null, "Give it a \"duty\" with the torque on the input shaft, and \"input_rpm\", then make this page again: " + state.record.made_with + "."));
  } else {
    const { teeth, parts } = strengthBars(strength);
    fill("strength-body", h("p", { class: isWeak(strength) ? "flag" : null }, strengthWords(strength)), unratedWords(strength),
      h("p", { class: "mut" }, "At " + short(strength.input_torque_n_m) + " N m on the input shaft. A bar is the share of what may be borne; the upright line is all of it."),
      h("div", { class: "two" }, h("div", null, barList(teeth, "Teeth, weakest first")), h("div", null, barList(parts, "Other parts, weakest first"))),
      fold("Teeth, gear by gear", false, meshTable(strength)), takenFigures(strength));
  }
  showPart("strength", true);
}
