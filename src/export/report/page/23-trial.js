// Trial and fault finding: what to expect at the bench, for the set first shown.

const readBox = () => h("span", { class: "box" });

function playsTable(plays) {
  const rows = plays.flatMap((play) => play.rims.map((rim, i) => {
    const last = i === play.rims.length - 1;
    return [play.state, rim.mesh, diameter(rim.radius_mm), range(rim.play_mm, 3), last && play.output_deg ? range(play.output_deg, 2) : "",
      last && play.arm_mm ? range(play.arm_mm, 2) : "", readBox()];
  }));
  return table({ caption: "Backlash to expect", rows, heads: [{ name: "In" }, { name: "Mesh" }, { name: "At radius", unit: "mm", num: true },
    { name: "Rim", unit: "mm", num: true }, { name: "Output", unit: "°", num: true }, { name: "On a 100 mm arm", unit: "mm", num: true }, { name: "Read", unit: "mm" }] });
}

function turnedTable(turned) {
  const rows = turned.map((one) => {
    const still = one.output === 0;
    return [one.state, arrows(one.path), still ? "stands; free to turn by hand" : one.output > 0 ? "with the input" : "against the input",
      still ? "" : coordinate(Math.abs(one.output)), still ? "" : one.meet[0] + " of the input = " + one.meet[1] + " of the output"];
  });
  return table({ caption: "Turn it by hand, state by state", rows,
    heads: [{ name: "In" }, { name: "The power goes" }, { name: "Output" }, { name: "Turns a turn of the input", num: true }, { name: "Both marks meet after" }] });
}

function beatsTable(beats) {
  return table({ caption: "What comes round how often", heads: [{ name: "Once in turns of the input", num: true }, { name: "What turns so" }, { name: "In" }],
    rows: beats.map((one) => [coordinate(one.input_turns), [one.shaft, ...one.gears].filter(Boolean).join("; "), one.only_in || "every speed"]) });
}

function symptomsTable(symptoms) {
  return table({ caption: "Fault finding", heads: [{ name: "Symptom" }, { name: "Measure" }, { name: "Likely cause" }],
    rows: symptoms.map((one) => [one.symptom, one.measure, one.cause]), cls: "words" });
}

function paintTrial() {
  const { trial } = entry();
  if (!trial) {
    fill("trial-body");
    showPart("trial", false);
    return;
  }
  fill("trial-body",
    h("p", null, "With everything standing and the drive off. Mark input and output, turn by hand, and write down what is read. Less backlash than the least: do not run it."),
    playsTable(trial.plays), turnedTable(trial.turned), beatsTable(trial.beats), symptomsTable(trial.symptoms));
  showPart("trial", true);
}
