// What is shown now, and who redraws when it changes.

const state = {
  record: null,
  json: () => "",
  mark: "",
  gear: "neutral",
  side: null,
  ticked: [],
};

/** Called in order whenever another set is shown: at once, and after it. */
const atOnce = [];
const afterwards = [];
const waiting = { parts: [], timer: 0 };

const entry = () => state.record.sets[state.mark];
const entryOf = (mark) => state.record.sets[mark];
const setOf = (mark) => entryOf(mark).set;

/** The box of a set, where one can be laid out. */
const boxOf = (of) => (of.layout && of.layout.layout && of.layout.layout.planes ? of.layout.layout : null);

/** How everything turns, where that is known. */
const motionsOf = (of) => (of.layout && of.layout.motion ? of.layout.motion : null);

/** Why a set has no box, in the program's words. */
function noBoxWords(of) {
  const words = of.layout && of.layout.layout && of.layout.layout.impossible;
  return "No box can be laid out for this set" + (words && words.length ? ": " + words.join("; ") + "." : ".");
}

/** Marks of the page's sets that have a record, in the page's order. */
function pageMarks() {
  return state.record.row_marks.filter((mark) => entryOf(mark));
}

/** The name of a set for people: its rank where it has one, and its mark. */
function rankOf(set) {
  return set.rank === null || set.rank === undefined ? "" : String(set.rank);
}

function hashMark() {
  const found = /(?:^#|&)set=([A-Z0-9]+)/.exec(location.hash);
  return found && entryOf(found[1]) ? found[1] : null;
}

function keepInHash() {
  const wanted = "#set=" + state.mark;
  if (location.hash === wanted) return;
  try {
    history.replaceState(null, "", wanted);
  } catch (_) {
    location.hash = wanted;
  }
}

/** The states of the box for the list: reverse, neutral, then the speeds. */
function gearStates(of) {
  const { set } = of;
  const motion = motionsOf(of);
  const speeds = set.speeds.map((speed) => ({ id: speed.name, name: speed.name, pair: speed }));
  const neutral = { id: "neutral", name: "neutral", pair: null };
  const reverse = set.reverse ? [{ id: "reverse", name: "reverse", pair: set.reverse }] : [];
  const known = motion ? new Set(motion.states.map((one) => one.state)) : null;
  return [...reverse, neutral, ...speeds].filter((one) => !known || known.has(one.id));
}

function firstGear(of) {
  const states = gearStates(of);
  if (states.some((one) => one.id === state.gear) && state.gear !== "neutral") return state.gear;
  const first = states.find((one) => one.id !== "neutral" && !(one.pair && one.pair.direct));
  return first ? first.id : "neutral";
}

/** Whether a part drawn for `names` is to be seen in the state `id`. */
function isIn(names, id) {
  if (!names) return true;
  if (names.includes(id)) return true;
  const reverse = entry().set.reverse;
  return id === "reverse" && Boolean(reverse) && names.includes(reverse.name);
}

/** One part a turn of the browser, so that no click waits for all of them. */
function paintNext() {
  waiting.timer = 0;
  const paint = waiting.parts.shift();
  if (!paint) return;
  paint();
  if (waiting.parts.length) waiting.timer = setTimeout(paintNext, 0);
}

/** Everything that still waits, before paper or a file is made of the page. */
function paintRest() {
  clearTimeout(waiting.timer);
  waiting.timer = 0;
  while (waiting.parts.length) waiting.parts.shift()();
}

/** Shows another set everywhere. */
function choose(mark) {
  if (!entryOf(mark) || mark === state.mark) return;
  state.mark = mark;
  state.gear = firstGear(entry());
  state.side = null;
  keepInHash();
  for (const paint of atOnce) paint();
  waiting.parts = afterwards.slice();
  if (!waiting.timer) waiting.timer = setTimeout(paintNext, 0);
  tell("Set " + mark + " is shown. " + answerOf(entry()));
}
