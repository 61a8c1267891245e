// Buy: the bars as strips to be cut, the order, what stays.

function barName(bar) {
  return "Ø" + short(bar.diameter_mm) + " " + bar.material + ", " + length(bar.length_mm) + " mm";
}

/** Teeth stand in a gear's blank; other parts have the letter of the list. */
function pieceLabel(piece, parts) {
  const part = parts.find((one) => one.names.includes(piece.part) || one.names.includes(piece.label));
  if (part && part.letter) return part.letter;
  return piece.label;
}

function stripOf(bar, stock, longest) {
  const share = (mm) => (mm / longest) * 100 + "%";
  const end = bar.pieces.length ? bar.pieces[bar.pieces.length - 1].to_mm + (bar.kerfs_mm[bar.pieces.length - 1] || 0) : 0;
  const words = barName(bar) + ": " + bar.pieces.map((piece) => piece.part + " " + length(piece.from_mm) + " to " + length(piece.to_mm)).join("; ") + "; " + length(bar.left_mm) + " mm left";
  const pieces = bar.pieces.map((piece, i) => {
    const cut = bar.kerfs_mm[i] || 0;
    const middle = share((piece.from_mm + piece.to_mm) / 2);
    return [
      s("rect", { class: "blank", x: share(piece.from_mm), y: 2, width: share(piece.to_mm - piece.from_mm), height: 30 }, s("title", null, piece.part)),
      cut ? s("rect", { class: "kerf", x: share(piece.to_mm), y: 2, width: share(cut), height: 30 }) : null,
      s("text", { x: middle, y: 22, "text-anchor": "middle" }, pieceLabel(piece, stock.parts)),
      s("line", { class: "tick", x1: share(piece.to_mm), x2: share(piece.to_mm), y1: 32, y2: 36 + (i % 3) * 13 }),
      s("text", { class: "tkl", x: share(piece.to_mm), y: 47 + (i % 3) * 13, "text-anchor": "middle" }, length(piece.to_mm)),
    ];
  });
  const left = bar.length_mm - end;
  return s("svg", { class: "strip", role: "img", "aria-label": words, width: "100%", height: 82 },
    s("rect", { class: "stock", x: 0, y: 2, width: share(bar.length_mm), height: 30 }), pieces,
    left / longest > 0.12 ? s("text", { class: "left", x: share(end + left / 2), y: 22, "text-anchor": "middle" }, length(bar.left_mm) + " left") : null);
}

function barFigure(bar, stock, longest) {
  const from = bar.from === "buy" ? "to buy" + (bar.price ? ", " + money(bar.price) : "") : "on the rack";
  return h("figure", { class: "bar" }, h("figcaption", null, barName(bar), h("span", null, " " + from)), stripOf(bar, stock, longest));
}

function stockAnswer(stock) {
  const bars = stock.new_bars === 0 ? "Nothing to buy: the rack holds all of it." : "Buy " + counted(stock.new_bars, "bar", "bars") + ", " + withCurrency(stock.money.bars, stock) + ".";
  const proved = stock.proved.money ? " No plan costs less (proved)." : " A cheaper plan may exist: at least " + money(stock.proved.money_at_least) + " is certain.";
  return bars + proved;
}

const withCurrency = (value, stock) => money(value) + (stock.currency ? " " + stock.currency : "");

function orderTable(stock) {
  const taken = stock.bars_taken || stock.cutter_prices_taken;
  const rows = stock.buy.map((one) => [one.count + " × " + barName(one), fixed(one.mass_kg, 2), (one.count > 1 ? one.count + " × " : "") + money(one.price)]);
  for (const cutter of stock.cutters) {
    const at = cutter.at_hand ? "at hand" : money(cutter.price);
    rows.push(["cutter " + (cutter.number ? "no. " : "") + cutterOf(cutter) + ", module " + short(cutter.module_mm) + ", cuts " + listed(cutter.cuts_teeth.map(String)), "", at]);
  }
  rows.push({ cells: ["together", "", withCurrency(stock.money.together, stock)], mark: "sum" });
  return [table({ caption: "Order list", heads: [{ name: "What" }, { name: "Mass", unit: "kg", num: true }, { name: "Price", unit: stock.currency, num: true }], rows }),
    taken ? h("p", { class: "fine" }, "Prices of " + [stock.bars_taken ? "bars" : "", stock.cutter_prices_taken ? "cutters" : ""].filter(Boolean).join(" and ") + " are taken, not yours, where the file gives none: see \"workshop\" in the problem file.") : null];
}

function partsTable(stock) {
  return table({
    caption: "Every part as it is sawn and turned",
    heads: [{ name: "Part" }, { name: "In the bar" }, { name: "Outside", unit: "mm", num: true }, { name: "Bore", unit: "mm", num: true },
      { name: "Long", unit: "mm", num: true }, { name: "Cut", unit: "mm", num: true }, { name: "Least bar", unit: "mm", num: true }],
    rows: stock.parts.map((part) => [(part.count > 1 ? part.count + " × " : "") + part.names.join(", "), part.letter || String(part.teeth || ""),
      diameter(part.outside_mm), part.bore_mm ? diameter(part.bore_mm) : "", diameter(part.length_mm), diameter(part.cut_length_mm), diameter(part.least_bar_mm)]),
  });
}

function stockNotes(stock) {
  const rest = stock.bars.filter((bar) => bar.left_mm > 0).map((bar) => "Ø" + short(bar.diameter_mm) + " × " + length(bar.left_mm));
  const divided = stock.not_divided_simply.length
    ? "Not divided simply: " + listed(stock.not_divided_simply.map(String)) + " teeth; the sheets below say how."
    : "Every count divides with the circles at hand.";
  return h("ul", { class: "facts" },
    h("li", null, "Saw cut " + length(stock.kerf_mm) + " mm. Left on each piece: " + length(stock.facing_mm) + " mm to face at either end, " + length(stock.turning_mm) + " mm to turn off the diameter."),
    rest.length ? h("li", null, "Back on the rack: " + listed(rest) + " mm.") : null,
    h("li", null, divided),
    stock.left_out.length ? h("li", null, "Left out: " + listed(stock.left_out.map((one) => (typeof one === "string" ? one : one.part || one.name || JSON.stringify(one)))) + ".") : null,
    stock.box_laid_out ? null : h("li", null, "No box was laid out for this set, so shafts, sleeves and pins are not among the parts."));
}

function paintBuy() {
  const { stock } = entry();
  const why = !stock ? "No stock plan was made." : stock.impossible || stock.not_planned;
  if (why) {
    fill("buy-body", h("p", { class: stock && stock.impossible ? "flag" : null }, why));
  } else {
    const longest = Math.max(...stock.bars.map((bar) => bar.length_mm), 1);
    fill("buy-body",
      h("p", null, stockAnswer(stock)),
      h("p", { class: "fine" }, "Numbers in a bar are teeth, letters the parts of the list; distances are mm from the faced end. Orange is the saw cut, hatched what is left."),
      hatchDefs(), stock.bars.map((bar) => barFigure(bar, stock, longest)),
      h("div", { class: "two" }, h("div", null, orderTable(stock), stockNotes(stock)), h("div", null, partsTable(stock))));
  }
  showPart("buy", true);
}

function hatchDefs() {
  return s("svg", { width: 0, height: 0, class: "defs", "aria-hidden": "true" },
    s("defs", null, s("pattern", { id: "rest", width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, s("line", { x1: 0, y1: 0, x2: 0, y2: 7, class: "hl" }))));
}
