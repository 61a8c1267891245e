// Cut: a page a gear in the order of work, each to be printed alone.

const limits = (size) => [fixed(size.smallest_mm, 3), fixed(size.largest_mm, 3)];

function pageName(page) {
  return listed(page.gears);
}

function blankStep(page) {
  const { blank } = page;
  const material = blank.material || page.metal.material;
  const given = page.metal.given || blank.material ? "" : " (taken: the file names none)";
  return "Ø" + diameter(blank.rough_diameter_mm) + " by " + diameter(blank.rough_length_mm) + " mm at the least, " + material + given +
    (blank.bar_mm ? ": bar of " + fixed(blank.bar_mm, 1) + " mm" : "");
}

function turnStep(page) {
  const { blank } = page;
  const ring = blank.dog_ring_mm > 0
    ? "; face " + diameter(blank.face_width_mm) + " mm, then the dog ring " + diameter(blank.dog_ring_mm) + " mm, of one piece" : "";
  return "Ø" + diameter(blank.outside_mm) + " mm outside, " + diameter(blank.length_mm) + " mm long" + ring;
}

function boreStep(page) {
  const hole = page.blank.hole;
  if (!hole) return "to suit the shaft: the file gives no bores";
  const bush = hole.bush_wall_mm > 0 ? ", for a bush of " + diameter(hole.bush_wall_mm) + " mm wall on a shaft of " + diameter(hole.shaft_mm) + " mm" : "";
  const key = hole.keyway_mm > 0 ? ", keyway " + diameter(hole.keyway_mm) + " mm deep" : "";
  return "Ø" + diameter(hole.bore_mm) + " mm" + bush + key;
}

function cutterStep(page) {
  const { cutter } = page;
  const name = cutter.number ? "form cutter no. " + cutterOf(cutter) : cutterOf(cutter);
  const fifteen = page.cutting.form_cutter_of_fifteen;
  const finer = fifteen && cutter.number && fifteen.number !== String(cutter.number)
    ? "; of a set of fifteen, no. " + fifteen.number + " (" + fifteen.from_teeth + DASH + fifteen.to_teeth + ")" : "";
  return name + ", module " + short(page.module_mm) + " mm: " + cutter.state + finer;
}

function depthStep(page) {
  const { depth } = page.cutting;
  return coordinate(depth.least_mm) + " to " + coordinate(depth.most_mm) + " mm from the outside, for the least to the most backlash; full teeth without backlash " + coordinate(depth.full_mm) + " mm";
}

/** A column to write in for every gear that the page is for. */
const readHeads = (page) => (page.gears.length === 1 ? ["read"] : page.gears).map((name) => ({ name: capital(name), unit: "mm" }));

function measures(page) {
  const reads = readHeads(page);
  const { inspection } = page;
  const rows = [["outside Ø, to", "", diameter(page.blank.outside_mm)]];
  if (inspection.span) rows.push(["over " + inspection.span.teeth + " teeth", ...limits(inspection.span.size)]);
  if (inspection.over_pins) rows.push(["over two " + (inspection.over_pins.balls ? "balls" : "pins") + " of " + diameter(inspection.over_pins.pin_mm) + " mm", ...limits(inspection.over_pins.size)]);
  if (inspection.chord) rows.push(["a tooth, " + coordinate(inspection.chord.height_mm) + " mm below its tip", ...limits(inspection.chord.thickness)]);
  if (inspection.constant_chord) rows.push(["constant chord, " + coordinate(inspection.constant_chord.height_mm) + " mm below its tip", ...limits(inspection.constant_chord.thickness)]);
  return table({
    caption: "Measure " + pageName(page),
    heads: [{ name: "Size" }, { name: "Least", unit: "mm", num: true }, { name: "Most", unit: "mm", num: true }, ...reads],
    rows: rows.map((row) => [...row, ...reads.map(readBox)]), plain: true, cls: "measure",
  });
}

function pageRemarks(page) {
  const told = entry().sheets.remarks.filter((one) => page.gears.includes(one.where));
  return told.length ? h("p", { class: "flag" }, capital([...new Set(told.map((one) => one.text))].join("; ")) + ".") : null;
}

function workStep(name, ...words) {
  return h("div", null, h("dt", null, h("span", { class: "tick on-paper" }), name), h("dd", null, words));
}

/** What a form at the lathe is about, and who filled it in. */
function formHead(place, of) {
  const { set } = entry();
  return h("p", { class: "formhead on-paper" }, h("span", null, state.record.solve.title || state.record.problem.file), h("span", null, "set " + set.mark + ", gear page " + place + " of " + of));
}

function formFoot() {
  const blank = (name) => h("span", null, name, h("span", { class: "blank" }));
  return h("div", { class: "formfoot on-paper" }, h("p", { class: "signed" }, blank("Made by"), blank("Date"), blank("Remarks")), h("p", { class: "fine" }, entry().sheets.cautions));
}

function gearPage(page, place, of) {
  const shift = page.profile_shift ? ", shift " + signed(page.profile_shift, 3) : "";
  const helix = page.helix_angle_deg ? ", helix " + fixed(page.helix_angle_deg, 3) + "°" : "";
  const safety = page.least_safety
    ? workStep("Strength", (isWeak(entry().strength) && page.least_safety.safety < 1 ? "too weak for its duty: " : "") + "least safety " + percent(page.least_safety.safety) + ", at the " + page.least_safety.place) : null;
  const article = h("article", { class: "sheet", "aria-label": "Gear page " + place },
    formHead(place, of),
    h("div", { class: "sheethead" },
      h("h3", null, place + ". " + capital(pageName(page)) + ": " + page.teeth + " teeth, module " + short(page.module_mm) + " mm" + shift + helix),
      h("button", { type: "button", class: "ctl1", "aria-label": "Print the page of " + pageName(page), on: { click: () => printSheet(article) } }, "Print this page")),
    pageRemarks(page),
    h("dl", { class: "work" }, workStep("Blank", blankStep(page)), workStep("Turn", turnStep(page)), workStep("Bore", boreStep(page)),
      workStep("Cutter", cutterStep(page)), workStep("Depth", depthStep(page)),
      workStep("Divide", h("ul", null, dividingWays(page).map((way) => h("li", null, capital(way))))), workStep("Metal", page.metal.note), safety),
    measures(page), formFoot());
  return article;
}

/** Only this gear's page goes to the printer. */
function printSheet(article) {
  const kept = [article, byId("cut")];
  document.body.classList.add("one-sheet");
  for (const part of kept) part.classList.add("keep");
  const done = () => {
    document.body.classList.remove("one-sheet");
    for (const part of kept) part.classList.remove("keep");
    window.removeEventListener("afterprint", done);
  };
  window.addEventListener("afterprint", done);
  window.print();
}

function cutOverview(sheets) {
  return table({
    cls: "over", caption: "Gears in the order of cutting",
    heads: [{ name: "Gear" }, { name: "Teeth", num: true }, { name: "Blank Ø", unit: "mm", num: true }, { name: "Cutter" },
      { name: "Depth", unit: "mm" }, { name: "Dividing" }, { name: "Span", unit: "mm" }],
    rows: sheets.pages.map((page) => {
      const span = page.inspection.span;
      return [capital(pageName(page)), String(page.teeth), diameter(page.blank.outside_mm), "m " + short(page.module_mm) + ", " + cutterOf(page.cutter),
        coordinate(page.cutting.depth.least_mm) + DASH + coordinate(page.cutting.depth.most_mm), dividingWays(page)[0] || "no way found",
        span ? fixed(span.size.smallest_mm, 3) + DASH + fixed(span.size.largest_mm, 3) + " over " + span.teeth : NONE];
    }),
  });
}

function setUps(sheets) {
  const words = sheets.set_ups.map((one) => "module " + short(one.module_mm) + ", " + (one.number ? "no. " : "") + cutterOf(one) + " (" + one.state + "): " +
    one.cuts.map((cut) => cut.teeth + " teeth" + (cut.gears > 1 ? " × " + cut.gears : "")).join(", "));
  return [h("h3", null, "Set-ups, a cutter each"), h("ul", { class: "facts" }, words.map((one) => h("li", null, one)))];
}

function paintCut() {
  const { sheets, set } = entry();
  if (!sheets || !sheets.pages) {
    fill("cut-body", h("p", null, "No gear pages were made for this set."));
  } else {
    fill("cut-body", h("p", null, counted(set.gears.length, "gear", "gears") + " on " + counted(sheets.pages.length, "page", "pages") + ", " + counted(sheets.set_ups.length, "cutter", "cutters") + "."),
      cutOverview(sheets), setUps(sheets),
      fold("Gear pages, one each", false, sheets.pages.map((page, i) => gearPage(page, i + 1, sheets.pages.length))));
  }
  showPart("cut", true);
}
