// Put it in gear: both views at one scale, their axes level, and the list.

const stage = { groups: [], svgs: [], angle: 0 };

/** Both boxes with the same heights, so that the axes stand level. */
function levelled(end, section) {
  const low = Math.min(end.box[1], section.box[1]);
  const high = Math.max(end.box[3], section.box[3]);
  const at = (box) => [box[0], low, box[2], high];
  return [at(end.box), at(section.box)];
}

function paintStage() {
  const of = entry();
  stage.groups = [];
  state.side = state.side || (of.layout ? of.layout.idler_side : null);
  const list = gearList(of);
  if (!of.end || !of.section) {
    paintEndAlone(of, list);
    return;
  }
  const [endBox, sectionBox] = levelled(of.end, of.section);
  const end = paintDrawing(of.end, endBox, "end");
  const section = paintDrawing(of.section, sectionBox, "sec");
  stage.groups = [...end.groups, ...section.groups];
  const widths = [endBox[2] - endBox[0], sectionBox[2] - sectionBox[0]];
  const views = h("div", { class: "views" },
    h("figure", { class: "f-end" }, end.svg), h("figure", { class: "f-sec" }, section.svg));
  const widest = Math.max(...widths);
  views.style.setProperty("--cols", widths.map((width) => "minmax(0, " + width + "fr)").join(" "));
  views.style.setProperty("--end-part", (widths[0] / widest) * 100 + "%");
  views.style.setProperty("--sec-part", (widths[1] / widest) * 100 + "%");
  stage.svgs = [end.svg, section.svg];
  fill("stage", h("div", { class: "drawn" }, views, stageNote()), list);
  sizeText();
  applyState();
}

/** Without a box there is no section: the end view alone, and why. */
function paintEndAlone(of, list) {
  const why = h("p", { class: "flag" }, noBoxWords(of));
  const end = of.end ? paintDrawing(of.end, null, "end") : { svg: null, groups: [] };
  stage.groups = end.groups;
  stage.svgs = end.svg ? [end.svg] : [];
  fill("stage", h("div", { class: "drawn" }, why, end.svg ? h("figure", { class: "alone" }, end.svg) : null), list);
  sizeText();
  applyState();
}

/** Lettering stays readable where a small screen shrinks the drawing. */
const LEAST_PX = 9.5;
const LETTER_MM = 3.3;
const MOST_LARGER = 1.7;

function sizeText() {
  for (const svg of stage.svgs) {
    const pxPerMm = svg.clientWidth / svg.viewBox.baseVal.width;
    const larger = pxPerMm > 0 ? LEAST_PX / (LETTER_MM * pxPerMm) : 1;
    svg.style.setProperty("--k", Math.max(1, Math.min(MOST_LARGER, larger)).toFixed(3));
  }
}

function stageNote() {
  return h("p", { class: "fine" },
    "Both views at one scale; the end view is seen from the input end. Lengths in mm. Chain line: pitch circle. Thin line: tips. Third angle ",
    s("svg", { class: "ta", viewBox: "0 0 34 14", "aria-hidden": "true" },
      s("path", { d: "M18 4.2L32 1.2V12.8L18 9.8ZM16 7H34" }), s("circle", { cx: 7, cy: 7, r: 5.8 }), s("circle", { cx: 7, cy: 7, r: 2.8 })), ".");
}

function gearLine(one) {
  const pair = one.pair;
  const input = h("input", {
    type: "radio", name: "gear", value: one.id, checked: one.id === state.gear,
    on: { change: () => shift(one.id) },
  });
  const geared = pair && !pair.direct;
  const way = !pair ? "" : pair.direct ? "input locked to output" : teethOf(pair);
  return h("label", { class: "sp" }, input,
    h("span", { class: "nm" }, capital(one.name)),
    h("span", { class: "ra" }, pair ? ratioOf(pair.ratio) : ""),
    h("span", { class: "tg" }, geared ? askedOf(pair) : ""),
    h("span", { class: "er" }, geared && typeof pair.error_percent === "number" ? offBy(pair.error_percent) : ""),
    h("span", { class: "pr" }, way));
}

function gearList(of) {
  const head = h("div", { class: "sp hd", "aria-hidden": "true" }, h("span"), h("span"),
    h("span", { class: "ra" }, "ratio"), h("span", { class: "tg" }, "asked"), h("span", { class: "er" }, "off, %"));
  return h("fieldset", { class: "speeds" },
    h("legend", null, "Put it in gear"), head, gearStates(of).map(gearLine),
    h("p", { class: "say", id: "say", "aria-live": "polite" }, sayOf(of)),
    h("div", { class: "ctl" }, turnButton(), sideButton(of)),
    h("p", { class: "fine", id: "side-why", hidden: true }));
}

function sayOf(of) {
  const reverse = of.set.reverse;
  const key = state.gear === "reverse" && reverse && !of.say[state.gear] ? reverse.name : state.gear;
  return of.say[key] || "";
}

/** The box is put into another state. */
function shift(id) {
  state.gear = id;
  const say = byId("say");
  if (say) say.textContent = sayOf(entry());
  applyState();
}

/** `layshaft, 1` works in the role 1. */
const roleOf = (name) => name.split(", ").slice(1).join(", ");

/** Gears that carry power in the state shown. */
function liveGears(of) {
  const id = state.gear;
  if (id === "neutral") return [];
  const pair = gearStates(of).find((one) => one.id === id).pair;
  if (pair && pair.direct) return ["input"];
  const ofRole = of.set.gears.map((gear) => gear.gear).filter((name) => roleOf(name) === id);
  const head = of.set.head ? ["input", "layshaft, head"] : [];
  const shared = id === "reverse" && of.set.head && !ofRole.some((name) => name.startsWith("layshaft"));
  const driver = shared ? of.set.gears.map((gear) => gear.gear).filter((name) => name.startsWith("layshaft, ")).slice(1, 2) : [];
  return [...head, ...driver, ...ofRole, ...(id === "reverse" ? ["idler"] : [])];
}

function seen(group) {
  return isIn(group.states, state.gear) && (!group.side || !state.side || group.side === state.side);
}

function moveOf(group) {
  if (!group.moves) return 0;
  const reverse = entry().set.reverse;
  const key = state.gear === "reverse" && reverse && !(state.gear in group.moves) ? reverse.name : state.gear;
  return group.moves[key] || 0;
}

/** Shows, lights and moves what belongs to the state; redraws nothing else. */
function applyState() {
  const live = new Set(liveGears(entry()));
  for (const { outer, group, draw } of stage.groups) {
    const shown = seen(group);
    if (shown) draw();
    outer.style.display = shown ? "" : "none";
    outer.classList.toggle("live", live.has(group.of));
    if (group.moves) outer.style.transform = "translate(" + moveOf(group) + "px, 0)";
  }
  turnTo(stage.angle);
}
