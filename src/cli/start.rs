//! What `layshaft` alone says.

use super::exit::{Exit, Failure};
use super::out;
use super::screen::Screen;

const TEXT: &str = "\
Settles the gears of a small gearbox before metal is cut.

  Start    layshaft new shunter.json --centres 41.37 --modules 0.8,1.0 \\
               --ratios 3.6,1.9,direct --reverse 3.8
  Then     layshaft solve shunter.json
  Stuck    layshaft explain shunter.json

  Start    new  schema                         Help    layshaft help VERB
  Choose   solve  explain  sweep  compare      Make    stock  sheets  draw
  Place    layout  idler                       Shell   completions
  Trust    check  gear
";

pub(super) fn run() -> Result<Exit, Failure> {
    out::deliver_text(None, &Screen::of(None), TEXT)?;
    Ok(Exit::Done)
}
