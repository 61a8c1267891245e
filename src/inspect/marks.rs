//! What is wrong with a gear or a mesh: found once, told in sentences.

use crate::base::{Decimal, LENGTH_SLACK_MM, plain, signed};
use crate::involute::{Member, Meshing, Rack, ShiftedGear};
use crate::problem::Problem;
use serde::Serialize;

/// Limits to hold gears against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least normal tip thickness, modules.
    pub tip_thickness: f64,
    /// Least transverse contact ratio.
    pub contact_ratio: f64,
    /// Least gap between a tip and the mate's root, modules; the rack's usual
    /// one where none is given.
    pub tip_clearance: Option<f64>,
}

impl Bounds {
    /// What `problem` asks of teeth, whether it refuses or marks.
    pub fn of(problem: &Problem) -> Self {
        let limits = problem.limits();
        Self {
            tip_thickness: limits.min_tip_thickness().to_f64(),
            contact_ratio: limits.min_contact_ratio().to_f64(),
            tip_clearance: limits.min_tip_clearance().map(Decimal::to_f64),
        }
    }

    fn clearance(&self, rack: &Rack) -> f64 {
        let usual = rack.least_tip_clearance();
        self.tip_clearance.unwrap_or(usual)
    }
}

/// Below this play (mm) teeth bind; half a micrometre is neither made nor felt.
pub const BINDING_MM: f64 = -0.0005;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Defect {
    /// The root is cut away.
    Undercut {
        /// The shift that keeps it whole.
        needs: f64,
    },
    /// The flanks cross below the tip circle.
    Pointed {
        /// On this diameter, mm.
        at_mm: f64,
    },
    /// The tip is thin.
    ThinTip {
        /// Its normal thickness, modules.
        modules: f64,
    },
    /// The teeth do not go in.
    Binds {
        /// By how much at the working circle, mm.
        by_mm: f64,
    },
    /// The tip runs below the mate's working flank.
    Interference {
        /// By how much along the line of action, mm.
        below_mm: f64,
    },
    /// The tip comes close to the mate's root.
    TightTips {
        /// The gap, mm.
        gap_mm: f64,
        /// The gap asked for, mm.
        least_mm: f64,
    },
    /// Too few teeth in contact.
    FewInContact {
        /// True contact ratio.
        ratio: f64,
        /// What the roots take of the nominal one.
        lost: f64,
    },
}

/// What is wrong with a gear by itself.
pub fn defects_of_gear(gear: &ShiftedGear, bounds: &Bounds) -> Vec<Defect> {
    let mut defects = Vec::new();
    if gear.least_shift() - gear.shift() > LENGTH_SLACK_MM {
        let needs = gear.least_shift();
        defects.push(Defect::Undercut { needs });
    }
    let modules = gear.tip_thickness_mm() / gear.toothing().module_mm();
    if modules <= 0.0 {
        let at_mm = gear.pointed_mm();
        defects.push(Defect::Pointed { at_mm });
    } else if modules < bounds.tip_thickness - LENGTH_SLACK_MM {
        defects.push(Defect::ThinTip { modules });
    }
    defects
}

/// What is wrong with a mesh, and whose tip it is about, if it is about one.
pub fn defects_of_mesh(mesh: &Meshing, bounds: &Bounds) -> Vec<(Option<Member>, Defect)> {
    let mut defects = Vec::new();
    let play = mesh.backlash_mm();
    if play < BINDING_MM {
        defects.push((None, Defect::Binds { by_mm: -play }));
    }
    let rack = mesh.toothing().rack();
    let least_mm = bounds.clearance(rack) * mesh.toothing().module_mm();
    for tip in Member::BOTH {
        // The mate's foot is what this tip must keep above.
        let below_mm = -mesh.root_margin_mm(tip.mate());
        if below_mm > LENGTH_SLACK_MM {
            defects.push((Some(tip), Defect::Interference { below_mm }));
        }
        let gap_mm = mesh.tip_clearance_mm(tip);
        if gap_mm < least_mm - LENGTH_SLACK_MM {
            defects.push((Some(tip), Defect::TightTips { gap_mm, least_mm }));
        }
    }
    let ratio = mesh.contact_ratio();
    if ratio < bounds.contact_ratio - LENGTH_SLACK_MM {
        let lost = mesh.nominal_contact_ratio() - ratio;
        defects.push((None, Defect::FewInContact { ratio, lost }));
    }
    defects
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

/// Marks of one gear, called `name`.
pub fn marks_of_gear(name: &str, gear: &ShiftedGear, bounds: &Bounds) -> Vec<Mark> {
    let defects = defects_of_gear(gear, bounds).into_iter();
    defects
        .map(|defect| marked(defect, [name, ""], bounds))
        .collect()
}

/// Marks of a mesh whose gears are called `names`.
pub fn marks_of_mesh(names: [&str; 2], mesh: &Meshing, bounds: &Bounds) -> Vec<Mark> {
    let defects = defects_of_mesh(mesh, bounds).into_iter();
    defects
        .map(|(tip, defect)| {
            let [first, second] = names;
            let names = match tip {
                Some(Member::Second) => [second, first],
                Some(Member::First) | None => [first, second],
            };
            marked(defect, names, bounds)
        })
        .collect()
}

/// A defect in words; `own` is the gear whose tip it is about.
fn marked(defect: Defect, [own, mate]: [&str; 2], bounds: &Bounds) -> Mark {
    let (kind, figure, text) = match defect {
        Defect::Undercut { needs } => (
            "undercut",
            needs,
            format!(
                "the {own} is undercut: it needs a shift of {}",
                signed(needs, 3)
            ),
        ),
        Defect::Pointed { at_mm } => (
            "pointed",
            at_mm,
            format!(
                "the {own}'s teeth come to a point at {} mm, inside its tip circle",
                plain(at_mm, 3)
            ),
        ),
        Defect::ThinTip { modules } => (
            "thin_tip",
            modules,
            format!("the {own}'s tips are {} modules thick", plain(modules, 3)),
        ),
        Defect::Binds { by_mm } => (
            "binds",
            by_mm,
            format!(
                "{own} and {mate} bind by {} mm at the working circle",
                plain(by_mm, 3)
            ),
        ),
        Defect::Interference { below_mm } => (
            "interference",
            below_mm,
            format!(
                "the {own}'s tips run {} mm below the working flank of the {mate}",
                plain(below_mm, 3)
            ),
        ),
        Defect::TightTips { gap_mm, least_mm } => (
            "tip_clearance",
            gap_mm,
            format!(
                "the {own}'s tips leave {} mm above the {mate}'s root; {} mm is usual",
                plain(gap_mm, 3),
                plain(least_mm, 3)
            ),
        ),
        Defect::FewInContact { ratio, lost } => {
            let asked = plain(bounds.contact_ratio, 2);
            let mut text = format!("contact ratio {}, {asked} asked for", plain(ratio, 3));
            if lost > 5e-4 {
                text += "; the roots cost ";
                text += &plain(lost, 3);
            }
            ("contact_ratio", ratio, text)
        }
    };
    Mark { kind, text, figure }
}
