// Trial and fault finding: the steps at the bench, spelled from the record's
// headings, words, lists and tables.

const readBox = () => h("span", { class: "box" });

/** The name of a speed stays on one line. */
const unbroken = (text) => text.replaceAll(" ", "\u00a0");

function trialCell(cell, head) {
  if (cell === "read") return readBox();
  if (cell === "nothing") return "";
  if (cell.figure) return fixed(cell.figure[0], cell.figure[1]);
  if (cell.range) return range(cell.range.slice(0, 2), cell.range[2]);
  return head.name === "in" ? unbroken(cell.words) : cell.words;
}

const TRIAL_BLOCKS = {
  words: (text) => h("p", null, text),
  warning: (text) => h("p", { class: "flag" }, h("strong", null, text)),
  points: (points) => h("ul", { class: "facts" }, points.map((one) => h("li", null, one))),
  steps: (steps) => h("ol", { class: "steps" }, steps.map((one) => h("li", null, one))),
  readings: (readings) => h("ul", { class: "readings" }, readings.map((one) => h("li", null, readBox(), h("span", null, one)))),
  table: ({ heads, rows }, heading) => table({
    caption: heading, quiet: true,
    heads: heads.map((one) => ({ name: capital(one.name), unit: one.unit, num: one.figures })),
    rows: rows.map((row) => row.map((cell, i) => trialCell(cell, heads[i]))),
    cls: heads.some((one) => one.figures) ? "" : "words",
  }),
};

function trialBlock(block, heading) {
  const [[kind, of]] = Object.entries(block);
  return TRIAL_BLOCKS[kind](of, heading);
}

function trialPart(part) {
  const words = part.heading.replace(/^\d+\. /, "");
  return h("div", { class: "step" }, part.heading ? h("h3", null, part.heading) : null,
    part.blocks.map((block) => trialBlock(block, words)));
}

function paintTrial() {
  const { trial } = entry();
  if (!trial) {
    fill("trial-body");
    showPart("trial", false);
    return;
  }
  fill("trial-body",
    h("p", null, "With everything standing and the drive off. Read ", h("a", { href: "#trust" }, "Before you trust it"), " before the first turn; write down what is read."),
    trial.map(trialPart));
  showPart("trial", true);
}
