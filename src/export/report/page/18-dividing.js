// Ways of dividing in words, the best first, as on the printed sheets.

const holesOf = (holes, circle) => holes + " of " + circle + " holes";

/** Whole turns and holes, either left out where there is none. */
function moved(whole, holes) {
  const turns = counted(whole, "turn", "turns");
  if (!holes) return turns;
  return whole === 0 ? holes : turns + " + " + holes;
}

function simpleWay(way) {
  if (!way.circles.length) return "crank " + moved(way.whole_turns, "") + ", any circle";
  const circles = way.circles.map((one, i) =>
    i === 0 ? holesOf(one.move_holes, one.circle_holes) : one.move_holes + " of " + one.circle_holes);
  const last = circles.pop();
  return "crank " + moved(way.whole_turns, circles.length ? circles.join(", ") + " or " + last : last);
}

function twoCircles(way) {
  return "two circles, plate " + way.plate + ": crank " + moved(way.whole_turns, holesOf(way.crank_holes, way.crank_circle)) +
    ", then plate and crank together " + holesOf(way.plate_holes, way.plate_circle) + (way.back ? " back" : " on");
}

function changeGears(way) {
  const pairs = way.gears.map(([driver, driven]) => driver + " drives " + driven).join(", on its shaft ");
  const sense = way.ratio === undefined ? "" : String(way.ratio).startsWith("-") ? "against" : "with";
  return "change gears, set for " + way.set_for + ": " + simpleWay(way.crank) + "; from the spindle " + pairs + ", " +
    counted(way.idlers, "idler", "idlers") + (sense ? "; the plate turns " + sense + " the crank (if it does not, one idler more or less)" : "");
}

const atWork = (error) => fixed(Math.abs(error.arc_seconds), 1) + " seconds of arc, " + fixed(Math.abs(error.pitch_circle_um), 1) + " µm at the pitch circle";

function nearlyWays(near, errors) {
  const step = near.step === 1 ? "" : ", " + near.step + " teeth at a time, " + near.step + " times round";
  const off = errors.nearest_move && errors.nearest_all
    ? " (a move is off by " + atWork(errors.nearest_move) + "; all together by " + atWork(errors.nearest_all) + ")" : "";
  return "nearly: " + twoCircles(near.moves) + step + off;
}

function printedWay(page) {
  const way = page.dividing.printed;
  const plate = (entry().sheets.plates || []).find((one) => one.teeth === page.teeth);
  const radius = plate ? ", circle of " + short(plate.drawing.radius_mm) + " mm radius" : "";
  const error = page.dividing_errors.printed;
  const off = error ? " (a hole " + fixed(page.dividing_errors.hole_off_mm, 1) + " mm out of place: " + atWork(error) + ")" : "";
  return "printed plate" + radius + ": " + moved(way.whole_turns, holesOf(way.move_holes, way.circle_holes)) + off;
}

/** Every way that serves, a sentence each. */
function dividingWays(page) {
  const { dividing } = page;
  return [
    ...dividing.direct.map((way) => "direct: plate of " + way.plate_holes + " holes, move " + counted(way.move_holes, "hole", "holes")),
    ...(dividing.simple ? [simpleWay(dividing.simple)] : []),
    ...(dividing.printed ? [printedWay(page)] : []),
    ...dividing.compound.map(twoCircles),
    ...dividing.differential.map(changeGears),
    ...(dividing.nearest ? [nearlyWays(dividing.nearest, page.dividing_errors)] : []),
  ];
}
