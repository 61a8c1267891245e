// The title block on top, as on a drawing sheet; parts of the report; theme.

const PARTS = [
  ["see", "Answer"], ["choose", "Choose"], ["speeds", "Speeds"], ["bore", "Bore"],
  ["buy", "Buy"], ["cut", "Cut"], ["assemble", "Assemble"], ["idler", "Idler"],
  ["strength", "Strength"], ["trial", "Trial"], ["trust", "Trust"], ["record-of", "Record"],
];

function modulesOf(set) {
  const all = [...new Set(set.gears.map((gear) => gear.module_mm))].sort((a, b) => a - b);
  return all.map((module) => short(module)).join(", ");
}

function arrangementOf(set) {
  const speeds = set.speeds.length;
  return state.record.solve.arrangement + ", " + speeds + (set.reverse ? " + reverse" : "");
}

function field(name, ...value) {
  return h("div", null, h("dt", null, name), h("dd", null, value));
}

function paintBlock() {
  const { set } = entry();
  const rank = rankOf(set);
  fill("block",
    h("dl", null,
      h("div", { class: "ti" }, h("dt", null, "Gearbox"), h("dd", null, state.record.solve.title)),
      field("Arrangement", arrangementOf(set)),
      field("Centres", coordinate(set.centre_distance_mm) + " mm"),
      field("Modules", modulesOf(set) + " mm"),
      field("Set shown", rank ? rank + " " : "", h("span", { class: "mk" }, set.mark), " ", marksOf(set))),
    h("div", { class: "bt" }, themeButton(),
      h("button", { type: "button", id: "print", on: { click: () => window.print() } }, "Print")));
}

function paintParts() {
  const links = PARTS.map(([id, name]) =>
    h("a", { href: "#" + id, on: { click: (event) => goTo(event, id) } }, name));
  fill("parts", links);
}

/** The place is gone to without losing the set in the address. */
function goTo(event, id) {
  event.preventDefault();
  const part = byId(id);
  const head = part.querySelector("h1,h2");
  part.scrollIntoView();
  if (head) head.focus({ preventScroll: true });
}

const isDark = () => {
  const chosen = document.documentElement.dataset.theme;
  return chosen ? chosen === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
};

function themeButton() {
  const turn = () => {
    document.documentElement.dataset.theme = isDark() ? "light" : "dark";
    button.textContent = isDark() ? "Light" : "Dark";
    button.setAttribute("aria-label", isDark() ? "Light colours" : "Dark colours");
  };
  const button = h("button", { type: "button", id: "theme", on: { click: turn } }, isDark() ? "Light" : "Dark");
  button.setAttribute("aria-label", isDark() ? "Light colours" : "Dark colours");
  return button;
}
