// Before you trust it, and the record that goes with the page.

function paintTrust() {
  const { set } = entry();
  fill("trust-body", remarkSentence(set), h("ul", { class: "facts" }, state.record.cautions.map((one) => h("li", null, one))));
  showPart("trust", true);
}

/** A file is offered without leaving the page; nothing goes over a network. */
function save(name, text, type) {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = h("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 1000);
}

function paintRecord() {
  const { problem, version, made_with: madeWith } = state.record;
  const json = fileStem(problem.file) + "-record.json";
  fill("record-body",
    h("p", null, "The problem file and every figure above are inside this page, so it needs no network and no other file. Made by layshaft " + version + " with:"),
    h("p", null, h("code", null, madeWith)),
    h("div", { class: "ctl" },
      h("button", { type: "button", id: "save-problem", on: { click: () => save(problem.file, problem.text, "application/json") } }, "Save " + problem.file),
      h("button", { type: "button", id: "save-json", on: { click: () => save(json, state.json(), "application/json") } }, "Save the results as JSON")),
    fold("The problem file as it stands", false, h("pre", { class: "file", tabindex: 0, "aria-label": "Problem file" }, problem.text)));
  showPart("record-of", true);
}
