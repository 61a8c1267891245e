// Small builders of page parts. Text goes in as text, never as markup.

const SVG = "http://www.w3.org/2000/svg";

function put(node, kids) {
  for (const kid of kids.flat(Infinity)) {
    if (kid === null || kid === undefined || kid === false) continue;
    node.append(kid);
  }
  return node;
}

function dress(node, attrs) {
  for (const [key, value] of Object.entries(attrs || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (key === "on") {
      for (const [event, act] of Object.entries(value)) node.addEventListener(event, act);
    } else {
      node.setAttribute(key, value === true ? "" : value);
    }
  }
  return node;
}

/** An HTML element with attributes and content. */
function h(tag, attrs, ...kids) {
  return put(dress(document.createElement(tag), attrs), kids);
}

/** An SVG element with attributes and content. */
function s(tag, attrs, ...kids) {
  return put(dress(document.createElementNS(SVG, tag), attrs), kids);
}

const byId = (id) => document.getElementById(id);

function fill(id, ...kids) {
  const place = byId(id);
  place.replaceChildren();
  return put(place, kids);
}

/** Whether a part of the report has anything to tell for this set. */
function showPart(id, shown) {
  byId(id).hidden = !shown;
  const link = document.querySelector('#parts a[href="#' + id + '"]');
  if (link) link.hidden = !shown;
}

let numbered = 0;
const freshId = (stem) => stem + "-" + (numbered += 1);

/**
 * A table. `heads`: { name, unit, num } a column; `rows`: arrays of cells, or
 * { cells, mark } where a row stands out. The first column heads its row. On a
 * narrow screen each row becomes a card, so roles are spelled out. A `quiet`
 * caption is read aloud but not shown: a heading above says the same.
 */
function table({ caption, heads, rows, plain, wide, quiet, cls }) {
  const head = heads.map((one) =>
    h("th", { scope: "col", role: "columnheader", class: one.num ? "n" : null },
      one.name, one.unit ? h("span", { class: "unit" }, " " + one.unit) : null));
  const body = rows.map((row) => tableRow(row, heads));
  const shape = wide ? "scrolls" : plain ? "plain" : "cards";
  return h("div", wide ? { class: "tw scrolls", tabindex: 0, role: "region", "aria-label": caption } : { class: "tw" },
    h("table", { role: "table", class: [shape, cls || ""].join(" ").trim() },
      h("caption", { class: quiet ? "vh" : "cap" }, caption),
      h("thead", { role: "rowgroup" }, h("tr", { role: "row" }, head)),
      h("tbody", { role: "rowgroup" }, body)));
}

function tableRow(row, heads) {
  const cells = Array.isArray(row) ? row : row.cells;
  const made = cells.map((cell, i) => {
    const num = heads[i].num ? "n" : null;
    if (i === 0) return h("th", { scope: "row", role: "rowheader", class: num }, cell);
    const label = heads[i].name + (heads[i].unit ? " " + heads[i].unit : "");
    const empty = cell === "" || cell === null ? " none" : "";
    return h("td", { role: "cell", class: ((num || "") + empty).trim() || null, "data-l": label },
      h("span", { class: "v" }, cell));
  });
  return h("tr", { role: "row", class: row.mark || null }, made);
}

/** A button over a part that is folded on the screen and open on paper. */
function fold(label, open, ...kids) {
  const id = freshId("fold");
  const part = h("div", { class: "folded", id, hidden: !open }, kids);
  const turn = () => {
    part.hidden = !part.hidden;
    button.setAttribute("aria-expanded", String(!part.hidden));
  };
  const button = h("button", {
    type: "button", class: "foldb", "aria-expanded": String(Boolean(open)), "aria-controls": id,
    on: { click: turn },
  }, label);
  return h("div", { class: "fold" }, button, part);
}

/** Marks of a set ("undercut"), never left out where the set is named. */
function marksOf(set) {
  return (set.remark_words || []).map((word) => h("span", { class: "chip" }, word));
}

function tell(text) {
  byId("told").textContent = text;
}
