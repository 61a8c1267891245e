//! Backlash, turning by hand, and the first hours.

use super::part::{TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable};
use crate::base::plain;
use crate::examine::{ARM_MM, Play, Trial, Turned};
use crate::problem::Turning;

/// Backlash at the rims and at the output.
pub(super) fn backlash(trial: &Trial) -> TrialPart {
    let how = format!(
        "At a rim: hold one gear, rock the other, dial gauge across a tooth at the radius given. \
         At the output: hold the input, dial gauge on an arm {} mm from the output's axis. Play of \
         the dogs comes on top of it and is meant to be there. Less than the least: do not run it. \
         More than the most: look up the symptoms.",
        plain(ARM_MM, 0)
    );
    let heads = vec![
        TrialHead::words("in"),
        TrialHead::words("mesh"),
        TrialHead::figures("at radius", "mm"),
        TrialHead::figures("rim", "mm"),
        TrialHead::figures("output", "°"),
        TrialHead::figures("arm", "mm"),
        TrialHead::read(),
    ];
    let rows = trial.plays.iter().flat_map(plays).collect();
    TrialPart {
        heading: "4. Backlash to expect".to_owned(),
        blocks: vec![
            TrialBlock::Words(how),
            TrialBlock::Table(TrialTable { heads, rows }),
        ],
    }
}

fn plays(play: &Play) -> Vec<Vec<TrialCell>> {
    let row = |(place, rim): (usize, &crate::examine::Rim)| {
        // The output's own play stands with the last mesh before it.
        let last = place + 1 == play.rims.len();
        let [output, arm] = [play.output_deg, play.arm_mm].map(|ends| match last {
            true => TrialCell::range(ends, 2),
            false => TrialCell::Nothing,
        });
        vec![
            TrialCell::words(&play.state),
            TrialCell::words(&rim.mesh),
            TrialCell::Figure(rim.radius_mm, 2),
            TrialCell::range(rim.play_mm, 3),
            output,
            arm,
            TrialCell::Read,
        ]
    };
    play.rims.iter().enumerate().map(row).collect()
}

/// Every state turned through.
pub(super) fn turning(input_turns: Turning, trial: &Trial) -> TrialPart {
    let how = format!(
        "A mark on the input and one on the output; turn the input {}, seen from its end. Count: \
         after the turns of the last column both marks must stand where they stood. Nothing may \
         bind anywhere on the way.",
        input_turns.word()
    );
    let heads = vec![
        TrialHead::words("in"),
        TrialHead::words("the power goes"),
        TrialHead::words("output"),
        TrialHead::figures("10 turns of input give", ""),
        TrialHead::words("both marks meet after"),
    ];
    let rows = trial.turned.iter().map(turns).collect();
    TrialPart {
        heading: "5. Turn it by hand, state by state".to_owned(),
        blocks: vec![
            TrialBlock::Words(how),
            TrialBlock::Table(TrialTable { heads, rows }),
        ],
    }
}

fn turns(turned: &Turned) -> Vec<TrialCell> {
    let [input, output] = turned.meet;
    let (how, ten, meet) = if output == 0 {
        let free = "stands; free to turn by hand";
        (free, TrialCell::Nothing, TrialCell::Nothing)
    } else {
        let how = if turned.output > 0.0 {
            "with the input"
        } else {
            "against the input"
        };
        let meet = format!("{input} of the input = {output} of the output");
        let ten = TrialCell::Figure(10.0 * turned.output.abs(), 3);
        (how, ten, TrialCell::Words(meet))
    };
    vec![
        TrialCell::words(&turned.state),
        TrialCell::Words(turned.path.replace("->", "→")),
        TrialCell::words(how),
        ten,
        meet,
    ]
}

/// The first hours: common practice, no source.
pub(super) fn run_in() -> TrialPart {
    let steps = [
        "Cover on, oil in, interlock tried. Ten minutes in each speed without load, slowest first, \
         a tenth of full speed; stop, feel every bearing, look at the oil.",
        "Half an hour in each speed at half load. Change only at standstill.",
        "Drain, strain the oil through cloth: bright dust is running in, flakes and chips are not. \
         Blue the teeth again and measure the backlash again; it may have grown by a few \
         hundredths.",
        "Fresh oil, full load.",
    ];
    TrialPart {
        heading: "6. Run in".to_owned(),
        blocks: vec![TrialBlock::Steps(steps.map(str::to_owned).to_vec())],
    }
}
