// The page comes up: the record is read, then everything is drawn once.

painters.push(paintBlock, paintAnswer, paintStage, paintChoose, paintSpeeds, paintBore, paintBuy, paintCut,
  paintAssemble, paintIdler, paintStrength, paintTrial, paintTrust);

function start({ json, record }) {
  state.json = json;
  state.record = record;
  state.mark = hashMark() || record.shown;
  state.gear = firstGear(entry());
  paintParts();
  buildChoose();
  for (const paint of painters) paint();
  paintRecord();
  window.addEventListener("hashchange", () => {
    const mark = hashMark();
    if (mark) choose(mark);
  });
  document.documentElement.dataset.ready = "yes";
}

readRecord().then(start).catch(showFault);
