// A drawing (mm, y up) as SVG (y down): flipped here once and nowhere else.

const points = (x, y) => Number(x.toFixed(4)) + " " + Number((-y).toFixed(4));

/** `[x, y]` is reached by a line, `[x, y, r, large, ccw]` by an arc. */
function vertexTo(vertex) {
  const [x, y, r, large, ccw] = vertex;
  if (r === undefined) return "L" + points(x, y);
  const sweep = ccw ? 0 : 1;
  return "A" + r + " " + r + " 0 " + (large ? 1 : 0) + " " + sweep + " " + points(x, y);
}

function outline(vertices, closed) {
  const [first, ...rest] = vertices;
  return "M" + points(first[0], first[1]) + rest.map(vertexTo).join("") + (closed ? "Z" : "");
}

function turned([x, y, ...arc], angle) {
  const c = Math.cos(angle);
  const si = Math.sin(angle);
  return [x * c - y * si, x * si + y * c, ...arc];
}

/** One tooth repeated all round: a closed outline about 0, 0. */
function toothed(tooth, times) {
  const all = [];
  for (let i = 0; i < times; i += 1) {
    const angle = (2 * Math.PI * i) / times;
    for (const vertex of tooth) all.push(turned(vertex, angle));
  }
  return outline(all, true);
}

function arcOutline([x, y, r, from, to]) {
  const at = (deg) => [x + r * Math.cos((deg * Math.PI) / 180), y + r * Math.sin((deg * Math.PI) / 180)];
  const large = (((to - from) % 360) + 360) % 360 > 180;
  return outline([at(from), [...at(to), r, large ? 1 : 0, 1]], false);
}

function rectOf([x0, y0, x1, y1], attrs) {
  return s("rect", { x: Math.min(x0, x1), y: -Math.max(y0, y1), width: Math.abs(x1 - x0), height: Math.abs(y1 - y0), ...attrs });
}

function textOf(item) {
  const [x, y] = item.at;
  return s("text", {
    x, y: -y, "text-anchor": item.anchor || "start", class: "y-" + item.layer,
    style: "--s:" + (item.size || 3.3) + "px",
  }, item.text);
}

/** A cut face: its colour and edge below, the hatching on top. */
function cutFace(item, hatch) {
  const make = item.rect
    ? (attrs) => rectOf(item.rect, attrs)
    : (attrs) => s("path", { d: outline(item.path, true), ...attrs });
  return [make({ class: "y-cut" }), make({ class: "y-hatch", style: "fill:url(#" + hatch + ")" })];
}

function shapeOf(item, hatch) {
  const cls = "y-" + item.layer;
  if (item.layer === "hatch" && (item.rect || item.path)) return cutFace(item, hatch);
  if (item.text !== undefined) return textOf(item);
  if (item.line) {
    const [x1, y1, x2, y2] = item.line;
    return s("line", { x1, y1: -y1, x2, y2: -y2, class: cls });
  }
  if (item.circle) {
    const [cx, cy, r] = item.circle;
    return s("circle", { cx, cy: -cy, r, class: cls });
  }
  if (item.arc) return s("path", { d: arcOutline(item.arc), class: cls });
  if (item.path) return s("path", { d: outline(item.path, item.closed), class: cls + (item.closed ? "" : " open") });
  if (item.rect) return rectOf(item.rect, { class: cls });
  if (item.tooth) {
    const [x, y] = item.at || [0, 0];
    const turn = "translate(" + points(x, y) + ") rotate(" + -(item.turned_deg || 0) + ")";
    return s("path", { d: toothed(item.tooth, item.times), transform: turn, class: cls + " teeth" });
  }
  return null;
}

function shaftOf(of) {
  if (!of) return "";
  if (of.startsWith("layshaft") || of.startsWith("output")) return "of-lay";
  return of.startsWith("idler") ? "of-idler" : "of-main";
}

/** A group of a drawing; its shapes are made when it is first to be seen. */
function groupOf(group, hatches) {
  const cls = ["k-" + group.kind, shaftOf(group.of)].join(" ").trim();
  const hatch = hatches[shaftOf(group.of) === "of-lay" ? 1 : 0];
  const inner = s("g", { class: "turns" });
  const outer = s("g", { class: cls }, inner);
  const draw = () => {
    if (!inner.firstChild) put(inner, group.items.map((item) => shapeOf(item, hatch)));
  };
  return { outer, inner, group, draw };
}

function hatchPattern(id, angle) {
  return s("pattern", { id, width: 2, height: 2, patternUnits: "userSpaceOnUse", patternTransform: "rotate(" + angle + ")" },
    s("line", { x1: 0, y1: 0, x2: 0, y2: 2, class: "hl" }));
}

function arrowHead(id) {
  return s("marker", { id, viewBox: "0 0 4 4", refX: 2, refY: 2, markerWidth: 2.4, markerHeight: 2.4, orient: "auto" },
    s("path", { d: "M0 0L4 2L0 4Z", class: "tipfill" }));
}

/**
 * Paints `drawing` into a box (given, so that two views can share their
 * heights). Returns the SVG and its groups, to be drawn, moved and turned.
 */
function paintDrawing(drawing, box, cls) {
  const id = freshId("view");
  const [x0, y0, x1, y1] = box || drawing.box;
  const hatches = [id + "-p", id + "-q"];
  const groups = drawing.groups.map((group) => groupOf(group, hatches));
  const svg = s("svg", {
    class: "draw " + (cls || ""), viewBox: [x0, -y1, x1 - x0, y1 - y0].join(" "),
    role: "img", "aria-labelledby": id + "-t " + id + "-d",
  },
  s("title", { id: id + "-t" }, drawing.title),
  s("desc", { id: id + "-d" }, drawing.about),
  s("defs", null, hatchPattern(hatches[0], 45), hatchPattern(hatches[1], -45), arrowHead(id + "-a")),
  groups.map((one) => one.outer));
  svg.style.setProperty("--tip", "url(#" + id + "-a)");
  return { svg, groups };
}
