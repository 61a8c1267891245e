//! What `layshaft` alone says.

use super::exit::{Exit, Failure};
use super::out;
use super::screen::Screen;

const TEXT: &str = "\
Settles the gears of a small gearbox before metal is cut.

  Start    layshaft solve problems/shunter.json
  Then     layshaft solve problems/shunter.json --set MARK

  Choose   solve                           Help    layshaft help VERB
  Shell    completions
";

pub(super) fn run() -> Result<Exit, Failure> {
    out::deliver_text(None, &Screen::of(None), TEXT)?;
    Ok(Exit::Done)
}
