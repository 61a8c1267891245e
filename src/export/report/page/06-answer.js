// What was asked, and the answer in one sentence.

function countSentence() {
  const { solve } = state.record;
  const count = solve.feasible_sets;
  const one = count === "1";
  const fits = one ? "1 set fits." : thousands(count) + " sets fit.";
  return solve.status === "stopped" ? fits + " The search was stopped early." : fits;
}

/** What the set shown does, as the heading. */
function answerOf(of) {
  const { set } = of;
  const geared = set.speeds.filter((speed) => !speed.direct);
  const forward = geared.some((speed) => typeof speed.error_percent === "number")
    ? "Set " + set.mark + " misses no forward speed by more than " + percent(set.worst_error_percent) + "\u00a0%"
    : "Set " + set.mark + " has the speeds below";
  const reverse = set.reverse && typeof set.reverse.error_percent === "number"
    ? ", reverse by " + percent(Math.abs(set.reverse.error_percent)) + "\u00a0%" : "";
  return forward + reverse + ".";
}

function remarkSentence(set) {
  if (!set.remarks.length) return null;
  const by = new Map();
  for (const remark of set.remarks) {
    if (!by.has(remark.text)) by.set(remark.text, []);
    by.get(remark.text).push(remark.where);
  }
  const words = [...by].map(([text, where]) => text + " (" + listed(where.map((one) => whereWords(set, one))) + ")");
  return h("p", { class: "flag" }, h("strong", null, "Marked, not for cutting as it stands: "), words.join("; ") + ".");
}

function lede(of) {
  const { set, unbeaten } = of;
  const parts = [
    capital(counted(set.gears.length, "gear", "gears")) + ", module " + modulesOf(set) + " mm",
    counted(set.distinct_cutters, "cutter", "cutters"),
    metal(set.blank_volume_mm3) + " cm³ of metal in the blanks",
    "largest blank " + diameter(set.largest_blank_mm) + " mm",
  ];
  const standing = unbeaten && state.record.solve.status === "stopped"
    ? " Unbeaten so far: nothing else that was found is as good in all that was measured."
    : unbeaten ? " Unbeaten: nothing else is as good in all that was measured."
    : " Not among the unbeaten: some set is as good in all that was measured, and better in something.";
  return parts.join(", ") + "." + standing;
}

function askedWords(pair) {
  const asked = askedOf(pair);
  return asked ? " at " + asked : " as cut";
}

function askedSentence(set) {
  const asked = set.speeds.map((speed) =>
    speed.name + (speed.direct ? " direct" : askedWords(speed)));
  if (set.reverse) asked.push("reverse" + askedWords(set.reverse));
  return "Asked: " + asked.join(", ") + ".";
}

function changeSentence() {
  const changes = state.record.solve.with;
  if (!changes || !changes.length) return null;
  const words = changes.map((one) => {
    const was = one.file === null || one.file === undefined ? "the file did not say" : "the file says " + JSON.stringify(one.file);
    return one.key + " = " + JSON.stringify(one.value) + " (" + was + ")";
  });
  return h("p", { class: "mut" }, "With " + words.join("; ") + ".");
}

/** What no set can be below; nothing is known of a measure without a bound. */
const BOUNDS = {
  worst_error_percent: (value) => percent(value) + "\u00a0% worst error",
  blank_volume_mm3: (value) => metal(value) + " cm³ of metal",
  distinct_cutters: (value) => counted(value, "cutter", "cutters"),
};

function provenSentence() {
  const { solve } = state.record;
  if (solve.status !== "stopped") return null;
  const known = Object.entries(BOUNDS).filter(([key]) => solve.bounds && typeof solve.bounds[key] === "number");
  const bounds = known.map(([key, words]) => words(solve.bounds[key]));
  return h("p", { class: "flag", id: "stopped" }, h("strong", null, "Stopped at its limit: "),
    "these are the best sets found by then, not proved best. Proved: the count of sets" +
    (bounds.length ? ", and that no set has less than " + listed(bounds, "or") : "") + ". Give it more time to prove more.");
}

/** A set that does not bear its duty is never shown without that word. */
function weakSentence(of) {
  const { strength } = of;
  return isWeak(strength) ? h("p", { class: "flag", id: "weak" }, h("strong", null, "Too weak for its duty: "), uncapital(strengthWords(strength).trim().replace(/^Too weak: /, ""))) : null;
}

function paintAnswer() {
  const of = entry();
  byId("answer").textContent = countSentence() + " " + answerOf(of);
  fill("answer-body",
    h("p", { class: "lede" }, askedSentence(of.set) + " ", lede(of)),
    provenSentence(), changeSentence(), remarkSentence(of.set), weakSentence(of));
  showPart("see", true);
}
