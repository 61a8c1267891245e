// The page comes up: the record is read, then everything is drawn once.

atOnce.push(paintBlock, paintAnswer, paintStage, paintChoose);
afterwards.push(paintSpeeds, paintBore, paintBuy, paintCut, paintAssemble, paintIdler, paintStrength, paintTrial, paintTrust);

function start({ json, record }) {
  state.json = json;
  state.record = record;
  state.mark = hashMark() || record.shown;
  state.gear = firstGear(entry());
  paintParts();
  buildChoose();
  keepInHash();
  for (const paint of [...atOnce, ...afterwards]) paint();
  paintRecord();
  window.addEventListener("hashchange", () => {
    const mark = hashMark();
    if (mark) choose(mark);
  });
  window.addEventListener("resize", sizeText);
  window.addEventListener("beforeprint", paintRest);
  document.documentElement.dataset.ready = "yes";
}

readRecord().then(start).catch(showFault);
