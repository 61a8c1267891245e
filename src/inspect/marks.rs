//! What is wrong with a gear or a mesh, in sentences with numbers.

use crate::base::{LENGTH_SLACK_MM, plain, signed};
use crate::involute::{Member, Meshing, ShiftedGear};
use serde::Serialize;

/// Limits to hold gears against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least normal tip thickness, modules.
    pub tip_thickness: f64,
    /// Least transverse contact ratio.
    pub contact_ratio: f64,
}

/// One thing to know before cutting.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Mark {
    /// One word for it.
    pub kind: &'static str,
    /// In a sentence.
    pub text: String,
    /// By how much: the figure that the sentence carries.
    pub figure: f64,
}

/// Below this play (mm) teeth bind; half a micrometre is neither made nor felt.
const BINDING_MM: f64 = -0.0005;

/// Marks of one gear, called `name`.
pub fn marks_of_gear(name: &str, gear: &ShiftedGear, bounds: &Bounds) -> Vec<Mark> {
    let mut marks = Vec::new();
    let missing = gear.least_shift() - gear.shift();
    if missing > LENGTH_SLACK_MM {
        marks.push(Mark {
            kind: "undercut",
            text: format!(
                "the {name} is undercut: it needs a shift of {}",
                signed(gear.least_shift(), 3)
            ),
            figure: missing,
        });
    }
    let thick = gear.tip_thickness_mm() / gear.toothing().module_mm();
    if thick <= 0.0 {
        marks.push(Mark {
            kind: "pointed",
            text: format!(
                "the {name}'s teeth come to a point at {} mm, inside its tip circle",
                plain(gear.pointed_mm(), 3)
            ),
            figure: thick,
        });
    } else if thick < bounds.tip_thickness - LENGTH_SLACK_MM {
        marks.push(Mark {
            kind: "thin_tip",
            text: format!("the {name}'s tips are {} modules thick", plain(thick, 3)),
            figure: thick,
        });
    }
    marks
}

/// Marks of a mesh whose gears are called `names`.
pub fn marks_of_mesh(names: [&str; 2], mesh: &Meshing, bounds: &Bounds) -> Vec<Mark> {
    let mut marks = Vec::new();
    let play = mesh.backlash_mm();
    if play < BINDING_MM {
        marks.push(Mark {
            kind: "binds",
            text: format!(
                "{} and {} bind by {} mm at the working circle",
                names[0],
                names[1],
                plain(-play, 3)
            ),
            figure: -play,
        });
    }
    for member in Member::BOTH {
        let below = -mesh.root_margin_mm(member);
        let (own, mate) = match member {
            Member::First => (names[0], names[1]),
            Member::Second => (names[1], names[0]),
        };
        if below > LENGTH_SLACK_MM {
            marks.push(Mark {
                kind: "interference",
                text: format!(
                    "the {mate}'s tips run {} mm below the working flank of the {own}",
                    plain(below, 3)
                ),
                figure: below,
            });
        }
        let gap = mesh.tip_clearance_mm(member);
        let rack = mesh.toothing().rack();
        let least = rack.least_tip_clearance() * mesh.toothing().module_mm();
        if gap < least - LENGTH_SLACK_MM {
            marks.push(Mark {
                kind: "tip_clearance",
                text: format!(
                    "the {own}'s tips leave {} mm above the {mate}'s root; {} mm is usual",
                    plain(gap, 3),
                    plain(least, 3)
                ),
                figure: gap,
            });
        }
    }
    let ratio = mesh.contact_ratio();
    if ratio < bounds.contact_ratio - LENGTH_SLACK_MM {
        let lost = mesh.nominal_contact_ratio() - ratio;
        let mut text = format!(
            "contact ratio {}, {} asked for",
            plain(ratio, 3),
            plain(bounds.contact_ratio, 2)
        );
        if lost > 5e-4 {
            text += "; the roots cost ";
            text += &plain(lost, 3);
        }
        marks.push(Mark {
            kind: "contact_ratio",
            text,
            figure: ratio,
        });
    }
    marks
}
