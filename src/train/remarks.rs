//! What a person must know about a set before cutting it: meshes that bind or
//! run loose, gears whose roots are undercut.

use super::marks::marks;
use super::{Form, Gear, Pair, Role, Set, forms_of, gears_of, pairs_of};
use crate::base::{Length, plain, signed};
use crate::inspect::BINDING_MM;
use crate::involute::Pairing;
use crate::problem::{Closing, Problem};

/// Backlash above which a mesh is called loose, mm: 0.06 + 0.0005 a + 0.03 m
/// (gear-standard practice, from memory).
pub fn usual_most_backlash_mm(centres_mm: f64, module_mm: f64) -> f64 {
    0.06 + 0.0005 * centres_mm + 0.03 * module_mm
}

/// What is remarkable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Matter {
    /// The centres are too close for the pair.
    Binds {
        /// By how much at the working circle, mm; none when the gears do not
        /// even go in.
        by_mm: Option<f64>,
        /// The centre distance it is made for, mm.
        needs_mm: f64,
    },
    /// More backlash than is usual.
    Loose {
        /// Backlash at the working circle, mm.
        backlash_mm: f64,
    },
    /// Teeth must be cut thinner to run as asked.
    Thinned {
        /// By how much on each gear, mm.
        each_mm: f64,
        /// Backlash that the centres alone give, mm.
        backlash_mm: f64,
    },
    /// The root is cut away.
    Undercut {
        /// Teeth below which that happens without shift.
        below_teeth: f64,
        /// The shift that keeps it away, where gears may be shifted.
        needs: Option<f64>,
    },
    /// The tip runs below the mate's working flank.
    Interference {
        /// By how much, along the line of action, mm.
        below_mm: f64,
    },
    /// The tip is thin.
    ThinTip {
        /// Its normal thickness, modules.
        modules: f64,
    },
    /// Fewer teeth in contact than asked for.
    FewInContact {
        /// True transverse contact ratio.
        ratio: f64,
    },
    /// A tip comes close to the mate's root.
    TightTips {
        /// The gap between them, mm.
        gap_mm: f64,
        /// The gap asked for, mm.
        least_mm: f64,
    },
    /// Little metal between root and hole.
    ThinWall {
        /// How much, mm.
        wall_mm: f64,
        /// How much is asked for, mm.
        least_mm: f64,
    },
    /// It fits the distance measured, but not all that it may be.
    Doubtful {
        /// The end of the measuring doubt at which it does not, mm.
        at_mm: f64,
        /// Whether that is the far end.
        far: bool,
        /// What is wrong there.
        misfit: Misfit,
    },
}

/// Why gears do not run at a distance.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// More play than the problem allows.
    Loose,
    /// Less play than the problem allows.
    Tight,
    /// The tips of reverse's driving and driven gear come too close.
    Tips,
    /// Reverse's idler has no place.
    Idler,
}

impl Misfit {
    const fn words(self) -> &'static str {
        match self {
            Self::Loose => "too loose",
            Self::Tight => "too tight",
            Self::Tips => "too little between the tips",
            Self::Idler => "no place for the idler",
        }
    }
}

/// A remark and where it belongs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Remark {
    /// The mesh it is about.
    pub role: Role,
    /// The gear, when it is about one gear.
    pub gear: Option<Gear>,
    /// What it says.
    pub matter: Matter,
}

impl Remark {
    /// One word for a list; none for what a careful cut puts right.
    pub const fn word(&self) -> Option<&'static str> {
        match self.matter {
            Matter::Binds { .. } => Some("binds"),
            Matter::Loose { .. } => Some("loose"),
            Matter::Undercut { .. } => Some("undercut"),
            Matter::Doubtful { .. } => Some("doubtful"),
            Matter::Interference { .. } => Some("fouls"),
            Matter::ThinTip { .. } => Some("thin tip"),
            Matter::FewInContact { .. } => Some("contact"),
            Matter::TightTips { .. } => Some("tight tips"),
            Matter::ThinWall { .. } => Some("thin wall"),
            Matter::Thinned { .. } => None,
        }
    }

    /// The key word in results.
    pub const fn kind(&self) -> &'static str {
        match self.matter {
            Matter::Binds { .. } => "binds",
            Matter::Loose { .. } => "loose",
            Matter::Undercut { .. } => "undercut",
            Matter::Doubtful { .. } => "doubtful",
            Matter::Interference { .. } => "interference",
            Matter::ThinTip { .. } => "thin_tip",
            Matter::FewInContact { .. } => "contact_ratio",
            Matter::TightTips { .. } => "tip_clearance",
            Matter::ThinWall { .. } => "thin_wall",
            Matter::Thinned { .. } => "thinned",
        }
    }

    /// The mesh or gear it is about.
    pub fn place(&self, problem: &Problem) -> String {
        match &self.gear {
            Some(gear) => gear.name(problem),
            None => self.role.name(problem).to_owned(),
        }
    }

    /// The whole remark, without its place.
    pub fn text(&self) -> String {
        match self.matter {
            Matter::Binds {
                by_mm: Some(by_mm),
                needs_mm,
            } => format!(
                "binds by {} mm: this pair needs {} mm",
                fine(by_mm),
                plain(needs_mm, 3)
            ),
            Matter::Binds {
                by_mm: None,
                needs_mm,
            } => {
                format!("does not go in: this pair needs {} mm", plain(needs_mm, 3))
            }
            Matter::Loose { backlash_mm } => format!("backlash {} mm", plain(backlash_mm, 2)),
            Matter::Thinned {
                each_mm,
                backlash_mm,
            } => format!(
                "backlash {} mm from the centres alone; cut each gear's teeth {} mm thinner",
                fine(backlash_mm),
                plain(each_mm, 3)
            ),
            Matter::Undercut {
                needs: Some(needs), ..
            } => format!("undercut: needs a shift of {}", signed(needs, 3)),
            Matter::Undercut { below_teeth, .. } => {
                format!("undercut: below {} teeth", plain(below_teeth, 1))
            }
            Matter::Doubtful { at_mm, far, misfit } => format!(
                "doubtful: {} if the centres are {} mm, the {} end of what was measured",
                misfit.words(),
                plain(at_mm, 3),
                if far { "far" } else { "near" }
            ),
            Matter::Interference { below_mm } => format!(
                "interference: its tip runs {} mm below the mate's working flank",
                plain(below_mm, 3)
            ),
            Matter::ThinTip { modules } => {
                format!("thin tip: {} modules thick", plain(modules, 2))
            }
            Matter::FewInContact { ratio } => format!("contact ratio {}", plain(ratio, 2)),
            Matter::TightTips { gap_mm, least_mm } => format!(
                "tips {} mm from the mate's root; {} mm is asked for",
                plain(gap_mm, 3),
                plain(least_mm, 3)
            ),
            Matter::ThinWall { wall_mm, least_mm } => format!(
                "wall of {} mm between root and hole; {} mm is asked for",
                plain(wall_mm, 2),
                plain(least_mm, 2)
            ),
        }
    }
}

/// A small length to 0.01 mm, finer when that would say nothing.
fn fine(mm: f64) -> String {
    let small = (0.0005..0.01).contains(&mm.abs());
    plain(mm, if small { 3 } else { 2 })
}

/// All remarks on a set: meshes in order, then gears in order. Reverse gears
/// close by their idler's place, so only pairs can bind.
pub fn remarks(problem: &Problem, set: &Set) -> Vec<Remark> {
    let (gears, forms) = (gears_of(problem, set), forms_of(problem, set));
    remarks_made(problem, set, (&gears, &forms))
}

/// [`remarks`] on a set whose gears and their forms, in the order of
/// [`Set::gears`], are known.
pub fn remarks_made(problem: &Problem, set: &Set, made: (&[Gear], &[Form])) -> Vec<Remark> {
    let meshes = pairs_of(problem, set)
        .into_iter()
        .filter_map(|(role, pair)| {
            let matter = mesh_matter(problem, set.centre_distance, pair)?;
            Some(Remark {
                role,
                gear: None,
                matter,
            })
        });
    meshes.chain(marks(problem, set, made)).collect()
}

/// The words of a list row, each once.
pub fn words(remarks: &[Remark]) -> Vec<&'static str> {
    const WORDS: [&str; 9] = [
        "binds",
        "undercut",
        "fouls",
        "thin tip",
        "thin wall",
        "contact",
        "tight tips",
        "loose",
        "doubtful",
    ];
    WORDS
        .into_iter()
        .filter(|word| remarks.iter().any(|remark| remark.word() == Some(word)))
        .collect()
}

fn mesh_matter(problem: &Problem, centres: Length, pair: Pair) -> Option<Matter> {
    let gears = problem.gears();
    let beta = gears.helix_angle_deg().to_radians();
    let module_mm = pair.module.of(problem).mm();
    let sum = pair.driver.get() + pair.driven.get();
    let pairing = Pairing::new(gears.rack(), module_mm, sum, beta);
    let centres_mm = centres.mm();
    let needs_mm = pairing.standard_centres_mm;
    let Some(backlash_mm) = pairing.backlash_mm(centres_mm) else {
        return Some(Matter::Binds {
            by_mm: None,
            needs_mm,
        });
    };
    match gears.closing() {
        Closing::Tolerance(_) if backlash_mm < BINDING_MM => Some(Matter::Binds {
            by_mm: Some(-backlash_mm),
            needs_mm,
        }),
        Closing::Tolerance(_) => (backlash_mm > usual_most_backlash_mm(centres_mm, module_mm))
            .then_some(Matter::Loose { backlash_mm }),
        // Closed exactly: what play there is comes from the cut.
        Closing::Shift { .. } => None,
        Closing::Backlash { min, .. } => {
            let missing = min.mm() - backlash_mm;
            (missing > crate::base::LENGTH_SLACK_MM).then_some(Matter::Thinned {
                each_mm: missing / 2.0,
                backlash_mm,
            })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::Teeth;
    use crate::problem::parse;
    use crate::train::ModuleId;

    fn set_at(centres: &str, closing: &str, teeth: (u16, u16)) -> (Problem, Set) {
        let text = format!(
            r#"{{ "arrangement": "offset", "centre_distance_mm": {centres}, "gears":
            {{ "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8, {closing} }},
            "speeds": [ {{ "name": "1", "ratio": 2 }} ] }}"#
        );
        let problem = parse("test", &text).unwrap();
        let pair = Pair {
            module: ModuleId::new(0),
            driver: Teeth::new(teeth.0),
            driven: Teeth::new(teeth.1),
        };
        let centre_distance = problem.centre_distances().at(0);
        (
            problem,
            Set {
                centre_distance,
                head: None,
                pairs: vec![pair],
                reverse: None,
            },
        )
    }

    fn said(centres: &str, closing: &str, teeth: (u16, u16)) -> Vec<String> {
        let (problem, set) = set_at(centres, closing, teeth);
        let found = remarks(&problem, &set);
        found
            .iter()
            .map(|r| format!("{}: {}", r.place(&problem), r.text()))
            .collect()
    }

    #[test]
    fn a_pair_too_large_for_its_centres_binds() {
        // 2 × 0.13 × tan 20° = 0.095 mm in the first order.
        let closing = r#""centre_tolerance_mm": 1"#;
        let text = "1: binds by 0.09 mm: this pair needs 41.500 mm";
        assert_eq!(said("41.37", closing, (33, 50)), [text]);
        assert!(said("41.5", closing, (33, 50)).is_empty());
    }

    #[test]
    fn a_pair_is_loose_only_beyond_the_usual_backlash() {
        // Usual at 41 mm, module 1: 0.06 + 0.0205 + 0.03 = 0.1105 mm.
        let closing = r#""centre_tolerance_mm": 1"#;
        assert!(said("41.14", closing, (32, 50)).is_empty());
        assert_eq!(said("41.17", closing, (32, 50)), ["1: backlash 0.13 mm"]);
    }

    #[test]
    fn with_a_backlash_asked_for_the_cut_makes_up_for_the_centres() {
        let closing = r#""backlash_mm": { "min": 0.03, "max": 0.1 }"#;
        let text =
            "1: backlash 0.00 mm from the centres alone; cut each gear's teeth 0.015 mm thinner";
        assert_eq!(said("41.5", closing, (33, 50)), [text]);
    }

    #[test]
    fn few_teeth_are_undercut() {
        let text = "input, 1: undercut: below 17.1 teeth";
        assert_eq!(said("41.5", "", (17, 66)), [text]);
        assert!(said("41.5", "", (18, 65)).is_empty());
    }
}
