// Two to four sets side by side: what each is best at, in plain words.

const MOST_COMPARED = 4;

function tickSet(mark, box) {
  if (box.checked && state.ticked.length >= MOST_COMPARED) {
    box.checked = false;
    tell("Four sets are compared already: untick one first.");
    return;
  }
  state.ticked = box.checked ? [...state.ticked, mark] : state.ticked.filter((one) => one !== mark);
  paintCompare();
}

/** Figures that tell sets apart: less (or more) is better, or neither. */
function comparedFigures(sets) {
  const first = sets[0].set;
  const lines = [];
  const add = (name, value, digits, unit, better, show) => {
    if (sets.every((of) => typeof value(of) === "number")) lines.push({ name, value, digits, unit, better, show });
  };
  first.speeds.forEach((speed, i) => {
    if (speed.direct) return;
    add("error of " + speed.name, (of) => Math.abs(of.set.speeds[i].error_percent), 2, "%", "less",
      (of) => ratioOf(of.set.speeds[i].ratio) + "  " + offBy(of.set.speeds[i].error_percent) + " %");
  });
  if (first.reverse) {
    add("error of reverse", (of) => Math.abs(of.set.reverse.error_percent), 2, "%", "less",
      (of) => ratioOf(of.set.reverse.ratio) + "  " + offBy(of.set.reverse.error_percent) + " %");
  }
  add("worst error", (of) => of.set.worst_error_percent, 2, "%", "less");
  add("evenness of the steps", (of) => of.set.step_evenness, 2, "", "less");
  add("metal", (of) => of.set.blank_volume_mm3 / 1000, 1, "cm³", "less");
  add("largest blank", (of) => of.set.largest_blank_mm, 2, "mm", "less");
  add("number of cutters", (of) => of.set.distinct_cutters, 0, "", "less", (of) => cuttersLine(of));
  add("money for gears and cutters", (of) => (of.stock.money || {}).gears_and_cutters, 2, sets[0].stock.currency || "", "less");
  add("counts not divided simply", (of) => (of.stock.not_divided_simply || []).length, 0, "", "less");
  add("length between the walls", (of) => (boxOf(of) ? boxOf(of).length_mm : undefined), 2, "mm", "less");
  add("least safety of a tooth", (of) => of.set.least_safety, 2, "", "more");
  add("remarks", (of) => of.set.remarks.length, 0, "", "less", (of) => of.set.remark_words.join(", ") || "none");
  return lines;
}

function cuttersLine(of) {
  const cutters = of.stock.cutters || [];
  const name = (cutter) => (cutter.number === null || cutter.number === undefined ? cutterOf(cutter) : String(cutter.number));
  const modules = [...new Set(cutters.map((cutter) => cutter.module_mm))];
  const named = modules.map((module) => (modules.length > 1 ? "module " + short(module) + " no. " : "no. ") +
    cutters.filter((cutter) => cutter.module_mm === module).map(name).join(", "));
  return of.set.distinct_cutters + (named.length ? ": " + named.join("; ") : "");
}

/** Who is better by the digits shown, and by how much. */
function standing(line, sets) {
  const shown = sets.map((of) => Number(line.value(of).toFixed(line.digits)));
  const best = line.better === "less" ? Math.min(...shown) : Math.max(...shown);
  const leaders = sets.filter((_, i) => shown[i] === best);
  if (leaders.length === sets.length) return { words: "alike", leaders: [] };
  const second = line.better === "less" ? Math.min(...shown.filter((v) => v !== best)) : Math.max(...shown.filter((v) => v !== best));
  const by = fixed(Math.abs(second - best), line.digits) + (line.unit ? " " + line.unit : "");
  return { words: listed(leaders.map((of) => of.set.mark)) + " by " + by, leaders };
}

function compareTable(sets, lines) {
  const heads = [{ name: "Figure" }, ...sets.map((of) => ({ name: of.set.mark })), { name: "Better" }];
  const teeth = (name, of) => [name, ...sets.map((one) => pairCell(of(one.set))), ""];
  const rows = [];
  if (sets[0].set.head) rows.push(teeth("head", (set) => set.head));
  sets[0].set.speeds.forEach((speed, i) => { if (!speed.direct) rows.push(teeth(speed.name, (set) => set.speeds[i])); });
  if (sets[0].set.reverse) rows.push(teeth("reverse", (set) => set.reverse));
  for (const line of lines) {
    const { words, leaders } = standing(line, sets);
    const cell = (of) => {
      const text = line.show ? line.show(of) : fixed(line.value(of), line.digits) + (line.unit ? " " + line.unit : "");
      return leaders.includes(of) ? h("strong", null, text) : text;
    };
    rows.push([line.name, ...sets.map(cell), words]);
  }
  return table({ caption: "Sets side by side; teeth of module " + short(usualModule()) + " mm unless marked ×", heads, rows, wide: true });
}

/** `QFMD: best in metal; behind in reverse.` */
function standingWords(sets, lines) {
  return sets.map((of) => {
    const best = lines.filter((line) => { const { leaders } = standing(line, sets); return leaders.length === 1 && leaders[0] === of; });
    const behind = lines.filter((line) => { const { leaders } = standing(line, sets); return leaders.length > 0 && !leaders.includes(of); });
    const marks = of.set.remark_words.length ? " Marked " + listed(of.set.remark_words) + ", so not for cutting as it stands." : "";
    const names = (some) => listed(some.map((line) => line.name));
    const words = best.length
      ? "alone best in " + names(best) + (behind.length ? "; behind in " + names(behind) : "; behind in nothing")
      : behind.length ? "behind in " + names(behind) : "level with the best in everything";
    return h("div", null, h("dt", null, "Set " + of.set.mark), h("dd", null, capital(words) + "." + marks));
  });
}

function paintCompare() {
  const place = byId("compare");
  const sets = state.ticked.map(entryOf);
  place.hidden = sets.length === 0;
  if (sets.length < 2) {
    fill("compare", h("p", { class: "mut" }, sets.length ? "Set " + state.ticked[0] + " is ticked: tick one to three more to compare them." : ""));
    return;
  }
  const lines = comparedFigures(sets);
  fill("compare",
    h("h3", null, "Set " + sets[0].set.mark + " beside " + listed(sets.slice(1).map((of) => of.set.mark))),
    h("dl", { class: "words" }, standingWords(sets, lines)),
    compareTable(sets, lines),
    h("p", { class: "fine" }, "Better by the digits shown; alike where these are the same."));
  tell(counted(sets.length, "set", "sets") + " compared: " + listed(state.ticked) + ".");
}
