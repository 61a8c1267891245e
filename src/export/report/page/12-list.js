// The same sets as a table, to be sorted and sifted.

const list = { rows: new Map(), sort: { key: "order", down: false }, text: "", unbeaten: false, cutters: 0, without: new Set() };

/** Columns: name, unit, what sorts, what stands in the cell. */
function listColumns() {
  const first = setOf(pageMarks()[0]);
  const sorts = (key, value, cell, name, unit) => ({ key, value, cell, name, unit, num: true });
  const teeth = (key, name, of) => ({ key, name, value: (set) => (of(set) ? of(set).ratio : 0), cell: (set) => pairCell(of(set)), teeth: true });
  const more = [];
  const optional = (key, name, unit, cell) => {
    if (first[key] !== undefined) more.push(sorts(key, (set) => (set[key] === null ? Infinity : set[key]), (set) => cell(set[key]), name, unit));
  };
  optional("least_safety", "Safety", "least", percent);
  optional("cost", "Cost", state.record.sets[first.mark].stock.currency || "", money);
  optional("distinct_bars", "Bars", "", String);
  optional("distinct_blanks", "Blanks", "", String);
  optional("distinct_setups", "Set-ups", "", String);
  return [
    sorts("error", (set) => set.worst_error_percent, (set) => percent(set.worst_error_percent), "Error", "%"),
    sorts("metal", (set) => set.blank_volume_mm3, (set) => metal(set.blank_volume_mm3), "Metal", "cm³"),
    sorts("cutters", (set) => set.distinct_cutters, (set) => String(set.distinct_cutters), "Cutters", ""),
    ...more,
    ...(first.head ? [teeth("head", "Head", (set) => set.head)] : []),
    ...first.speeds.map((speed, i) => (speed.direct ? null : teeth("s" + i, speed.name, (set) => set.speeds[i]))).filter(Boolean),
    ...(first.reverse ? [teeth("reverse", "Reverse", (set) => set.reverse)] : []),
  ];
}

/** The module that most pairs of the page's sets have: it goes without saying. */
function usualModule() {
  if (list.module) return list.module;
  const counts = new Map();
  for (const gear of pageMarks().flatMap((mark) => setOf(mark).gears)) counts.set(gear.module_mm, (counts.get(gear.module_mm) || 0) + 1);
  list.module = [...counts].sort((a, b) => b[1] - a[1])[0][0];
  return list.module;
}

/** Teeth, with the module where it is not the usual one. */
function pairCell(pair) {
  if (!pair) return "";
  const other = pair.module_mm !== undefined && pair.module_mm !== usualModule();
  return [teethOf(pair), other ? h("span", { class: "md" }, " ×" + short(pair.module_mm)) : null];
}

/** The shape that stands for the set in the diagram: solid where unbeaten. */
function swatchOf(cutters, unbeaten) {
  const told = h("span", { class: "vh" }, unbeaten ? "unbeaten, " : "beaten, ");
  return [told, s("svg", { class: "sw pt " + shadeFor(cutters) + (unbeaten ? "" : " other"), viewBox: "-10 -10 20 20", "aria-hidden": "true" },
    s("path", { d: shapeFor(cutters) }))];
}

function listRow(mark, columns) {
  const { set, unbeaten } = entryOf(mark);
  const tick = h("input", { type: "checkbox", "aria-label": "Compare set " + mark, checked: state.ticked.includes(mark), on: { change: () => tickSet(mark, tick) } });
  const link = h("a", { href: "#set=" + mark, on: { click: (event) => { event.preventDefault(); choose(mark); } } }, mark);
  const rank = rankOf(set);
  const cells = columns.map((column) => h("td", {
    role: "cell", class: column.num ? "n" : "t", "data-l": column.name + (column.unit ? " " + column.unit : ""), "data-k": column.key,
  }, column.key === "cutters" ? swatchOf(set.distinct_cutters, unbeaten) : null, h("span", { class: "v" }, column.cell(set))));
  const row = h("tr", { role: "row", "data-mark": mark },
    h("td", { role: "cell", class: "pick" }, h("label", null, tick)),
    h("th", { scope: "row", role: "rowheader" }, rank ? h("span", { class: "rk" }, rank + " ") : null, link,
      set.remark_words.length ? h("span", { class: "under" }, marksOf(set)) : null),
    cells);
  list.rows.set(mark, row);
  return row;
}

function headCell(column) {
  const press = () => sortBy(column.key);
  return h("th", { scope: "col", role: "columnheader", class: column.num ? "n" : null, "aria-sort": "none", "data-k": column.key,
    "data-n": column.name + (column.unit ? ", " + column.unit : "") },
    h("button", { type: "button", class: "sortb", on: { click: press } },
      column.name, column.unit ? h("span", { class: "unit" }, " " + column.unit) : null, h("span", { class: "dir", "aria-hidden": "true" })));
}

function sortBy(key) {
  list.sort = { key, down: list.sort.key === key ? !list.sort.down : false };
  orderRows();
}

function orderRows() {
  const { key, down } = list.sort;
  const column = list.columns.find((one) => one.key === key);
  const marks = pageMarks();
  const place = new Map(marks.map((mark, i) => [mark, i]));
  const value = column ? (mark) => column.value(setOf(mark)) : (mark) => place.get(mark);
  marks.sort((a, b) => (value(a) - value(b)) * (down ? -1 : 1) || place.get(a) - place.get(b));
  list.body.append(...marks.map((mark) => list.rows.get(mark)));
  for (const th of list.head.querySelectorAll("[aria-sort]")) {
    const on = th.dataset.k === key;
    th.setAttribute("aria-sort", on ? (down ? "descending" : "ascending") : "none");
  }
}

function listWords(set) {
  const pairs = [set.head, ...set.speeds, set.reverse].filter(Boolean).map(teethOf);
  return [set.mark, ...pairs, ...pairs.map((one) => one.split(ARROW).join(">")), ...set.remark_words].join(" ").toLowerCase();
}

function sifted(mark) {
  const { set, unbeaten } = entryOf(mark);
  if (list.unbeaten && !unbeaten) return false;
  if (list.cutters && set.distinct_cutters > list.cutters) return false;
  if ([...list.without].some((word) => set.remark_words.includes(word))) return false;
  return list.text.split(/\s+/).every((word) => listWords(set).includes(word));
}

function sift() {
  let count = 0;
  for (const [mark, row] of list.rows) {
    const stays = sifted(mark);
    row.hidden = !stays;
    const point = plot.nodes.get(mark);
    if (point) point.link.classList.toggle("dim", !stays);
    if (stays) count += 1;
  }
  const all = list.rows.size;
  if (byId("sifted")) byId("sifted").textContent = count === all ? counted(all, "set", "sets") : thousands(count) + " of " + counted(all, "set", "sets");
}

function sifter() {
  const sets = pageMarks().map(setOf);
  const cutters = [...new Set(sets.map((set) => set.distinct_cutters))].sort((a, b) => a - b);
  const words = [...new Set(sets.flatMap((set) => set.remark_words))].sort();
  const check = (label, act) => h("label", { class: "ck" }, h("input", { type: "checkbox", on: { change: (event) => { act(event.target.checked); sift(); } } }), label);
  const text = h("input", { type: "search", id: "sift", placeholder: "mark, teeth or a word", on: { input: (event) => { list.text = event.target.value.trim().toLowerCase(); sift(); } } });
  const most = h("select", { id: "most", on: { change: (event) => { list.cutters = Number(event.target.value); sift(); } } },
    h("option", { value: 0 }, "any number"), cutters.slice(0, -1).map((n) => h("option", { value: n }, "at most " + n)));
  return h("form", { class: "sift", "aria-label": "Sift the sets", on: { submit: (event) => event.preventDefault() } },
    h("label", { for: "sift" }, "Find"), text,
    cutters.length > 1 ? [h("label", { for: "most" }, "Cutters"), most] : null,
    sets.some((_, i) => !entryOf(pageMarks()[i]).unbeaten) ? check("unbeaten only", (on) => { list.unbeaten = on; }) : null,
    words.length ? h("span", { class: "ckset" }, h("span", null, "Leave out"),
      words.map((word) => check(word, (on) => { if (on) list.without.add(word); else list.without.delete(word); }))) : null,
    h("span", { id: "sifted", class: "mut", role: "status" }));
}

function listTable() {
  list.columns = listColumns();
  list.rows.clear();
  list.head = h("tr", { role: "row" },
    h("th", { scope: "col", role: "columnheader" }, h("span", { class: "vh" }, "Compare")),
    headCell({ key: "order", name: "Set" }), list.columns.map(headCell));
  list.body = h("tbody", { role: "rowgroup" }, pageMarks().map((mark) => listRow(mark, list.columns)));
  return h("div", { class: "tw sets", tabindex: 0, role: "region", "aria-label": "Sets of this page, as a table" },
    h("table", { role: "table", class: pageMarks().length > 1 ? "list" : "list lone", id: "sets" },
      h("caption", { class: "vh" }, "Sets of this page. Teeth driver to driven, times module in mm. Buttons in the heads sort."),
      h("thead", { role: "rowgroup" }, list.head), list.body));
}

function markList() {
  for (const [mark, row] of list.rows) {
    const on = mark === state.mark;
    row.classList.toggle("on", on);
    if (on) row.setAttribute("aria-current", "true");
    else row.removeAttribute("aria-current");
  }
}

/** Picture beside table; one above the other where the table is wide. */
const MOST_BESIDE = 7;

function chooseShape() {
  if (pageMarks().length < 2) return null;
  return listColumns().length > MOST_BESIDE ? "two stacked" : "two beside";
}

const COMPARING = " A solid shape is unbeaten, a hollow one is not. Tick two to four sets to compare them.";

function buildChoose() {
  fill("choose-body",
    h("p", null, chooseSentence()),
    h("div", { class: chooseShape() }, plotFigure(),
      h("div", { class: "listed" }, pageMarks().length > 1 ? sifter() : null, listTable(),
        h("p", { class: "fine" }, "Teeth read driver→driven. Module " + short(usualModule()) + " mm unless marked ×." + (pageMarks().length > 1 ? COMPARING : "")))),
    h("div", { id: "compare", class: "cmp", hidden: true }));
  orderRows();
  sift();
  showPart("choose", true);
}

function paintChoose() {
  markPlot();
  markList();
}
