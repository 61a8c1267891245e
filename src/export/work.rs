//! What to do at the lathe, the mill and the bench for every gear of a set.

use super::bench::tidy;
use super::cautions::cautions;
use super::gear::{CutterRecord, cutter};
use super::metal::{MetalRecord, PlaceSafety, least_of};
use super::record::{RemarkRecord, set_record};
use super::sheets::{GearSheet, gear_sheets};
use crate::inspect::{Aim, Cutting, Measures};
use crate::involute::GearSize;
use crate::problem::{DividingHead, Problem, WhichCutter};
use crate::shop::dividing::{AtWork, Dividing, Known, PlateDrawing, plate_error};
use crate::shop::{Piece, set_ups};
use crate::train::{Cutter, Form, Gear, RatedMesh, Set, cutter_of, own_gears, rate};
use serde::Serialize;
use serde_json::Value;

/// How far a hole of a printed plate may be out of place, mm: about what paper
/// and a centre punch give (common practice, no source).
const PRINTED_OFF_MM: f64 = 0.1;

/// A cutter, and whether there is one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct CutterUse {
    #[serde(flatten)]
    pub cutter: CutterRecord,
    /// `at hand`, `to buy` or `to make`.
    pub state: &'static str,
}

/// What dividing errs, where it does.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct DividingErrors {
    /// How far a hole of a printed plate is taken to be out of place, mm.
    pub hole_off_mm: f64,
    /// What that does at the work.
    pub printed: Option<AtWork>,
    /// What one move of the nearest compound errs.
    pub nearest_move: Option<AtWork>,
    /// What all its moves together err.
    pub nearest_all: Option<AtWork>,
}

/// The page of one gear, or of equal ones.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Page {
    /// The gears by shaft and role.
    pub gears: Vec<String>,
    /// Teeth.
    pub teeth: u32,
    /// Module, mm.
    pub module_mm: f64,
    /// Helix angle, degrees.
    pub helix_angle_deg: f64,
    /// Diameter of the reference circle, mm.
    pub pitch_mm: f64,
    /// Profile shift, modules.
    pub profile_shift: f64,
    /// What it is turned from and to.
    pub blank: Piece,
    /// What it is made of, and what to mind with that.
    pub metal: MetalRecord,
    /// The least safety of its teeth; none without a duty.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub least_safety: Option<PlaceSafety>,
    /// What cuts it.
    pub cutter: CutterUse,
    /// Thinning of its teeth that the sizes aim at; none of a gear that cannot
    /// be made.
    pub thinning: Option<Aim>,
    /// What to set on the machine; as the thinning.
    pub cutting: Option<Cutting>,
    /// How its teeth are spaced.
    pub dividing: Dividing,
    /// What spacing them so errs.
    pub dividing_errors: DividingErrors,
    /// What to read on the instrument; as the thinning.
    pub inspection: Option<Measures>,
}

/// Gears that a cutter cuts before the next is set up.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct SetUpRecord {
    pub module_mm: f64,
    #[serde(flatten)]
    pub cutter: CutterUse,
    pub cuts: Vec<CutsRecord>,
}

/// Gears of one count.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[allow(missing_docs, reason = "the keys say it")]
pub struct CutsRecord {
    pub teeth: u32,
    pub gears: usize,
}

/// A plate to print.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlateRecord {
    /// The count that it is for.
    pub teeth: u32,
    /// The name of its file.
    pub file: String,
    /// What stands on it.
    pub drawing: PlateDrawing,
}

/// All pages of a set.
#[derive(Clone, Debug, Serialize)]
pub struct Work {
    /// What the set is called.
    pub set: String,
    /// Whether the file says what the workshop has.
    pub workshop_given: bool,
    /// The pages, in the order of the gears.
    pub pages: Vec<Page>,
    /// Cutters in the order of set-up, all gears of the set.
    pub set_ups: Vec<SetUpRecord>,
    /// Plates to print.
    pub plates: Vec<PlateRecord>,
    /// What to know before cutting.
    pub remarks: Vec<RemarkRecord>,
    /// What to have read before it.
    pub cautions: String,
}

impl Work {
    /// Of `set`, called `mark`.
    pub fn of(problem: &Problem, set: &Set, mark: &str) -> Self {
        let known = Known::none(problem.workshop().dividing_head());
        Self::knowing(problem, set, mark, &gear_sheets(problem, set), &known)
    }

    /// The same, where the sheets of its gears and ways to divide are at hand.
    pub fn knowing(
        problem: &Problem,
        set: &Set,
        mark: &str,
        sheets: &[GearSheet],
        known: &Known<'_>,
    ) -> Self {
        let own = own_gears(problem, set);
        let rated = rate(problem, set).unwrap_or_default();
        let mut pages: Vec<Page> = Vec::new();
        for (gear, form, _) in &own {
            let page = page(problem, gear, form, (sheets, &rated, known));
            match pages.iter_mut().find(|other| other.is_alike(&page)) {
                Some(other) => other.join(page),
                None => pages.push(page),
            }
        }
        Self {
            set: mark.to_owned(),
            workshop_given: problem.workshop().given(),
            plates: plates(known.head(), &pages),
            pages,
            set_ups: set_up_records(problem, &own),
            cautions: cautions(problem),
            remarks: set_record(problem, set, None, mark.to_owned()).remarks,
        }
    }

    /// The same with one page alone, and its plate.
    #[must_use]
    pub fn only(mut self, page: usize) -> Self {
        self.pages = self.pages.into_iter().skip(page).take(1).collect();
        let teeth = self.pages.first().map(|page| page.teeth);
        self.plates.retain(|plate| Some(plate.teeth) == teeth);
        self
    }

    /// The same without the places of the holes of plates, which follow from how
    /// many they are.
    #[must_use]
    pub fn without_holes(mut self) -> Self {
        for plate in &mut self.plates {
            plate.drawing.holes.clear();
        }
        self
    }

    /// Everything, for programs.
    pub fn record(&self) -> Value {
        let mut record = serde_json::to_value(self).unwrap_or_default();
        tidy(&mut record);
        record
    }
}

impl Page {
    /// Takes a gear alike onto the page: the weaker one's safety stands.
    fn join(&mut self, other: Self) {
        self.gears.extend(other.gears);
        let both = [self.least_safety, other.least_safety]
            .into_iter()
            .flatten();
        self.least_safety = both.min_by(|a, b| a.safety.total_cmp(&b.safety));
    }

    /// Whether both gears are the same piece, cut and measured alike.
    fn is_alike(&self, other: &Self) -> bool {
        let named = Self {
            gears: self.gears.clone(),
            least_safety: self.least_safety,
            ..other.clone()
        };
        *self == named
    }
}

fn page(
    problem: &Problem,
    gear: &Gear,
    form: &Form,
    (sheets, rated, known): (&[GearSheet], &[RatedMesh], &Known<'_>),
) -> Page {
    let shared = problem.gears();
    let module = gear.module.of(problem);
    let beta = shared.helix_angle_deg().to_radians();
    let pitch_mm = GearSize::new(shared.rack(), module, gear.teeth, beta).pitch_mm;
    let name = gear.name(problem);
    let sheet = sheets.iter().find(|sheet| sheet.gear == name);
    let dividing = known.dividing(gear.teeth.get());
    Page {
        gears: vec![name],
        teeth: gear.teeth.get(),
        module_mm: module.mm(),
        helix_angle_deg: shared.helix_angle_deg(),
        pitch_mm,
        profile_shift: form.shift,
        blank: Piece::of(problem, gear, form),
        metal: MetalRecord::of(problem, gear),
        least_safety: least_of(problem, rated, gear),
        cutter: cutter_use(problem, gear, form),
        thinning: sheet.map(|sheet| sheet.thinning),
        cutting: sheet.map(|sheet| sheet.cutting.clone()),
        dividing_errors: errors(known.head(), &dividing, pitch_mm / 2.0),
        dividing,
        inspection: sheet.map(|sheet| sheet.inspection),
    }
}

fn errors(head: &DividingHead, dividing: &Dividing, pitch_radius_mm: f64) -> DividingErrors {
    let near = dividing.nearest.as_ref();
    DividingErrors {
        hole_off_mm: PRINTED_OFF_MM,
        printed: dividing
            .printed
            .map(|circle| plate_error(head, PRINTED_OFF_MM, circle.radius_mm(), pitch_radius_mm)),
        nearest_move: near.map(|near| near.of_a_move(head, pitch_radius_mm)),
        nearest_all: near.map(|near| near.of_all_moves(head, dividing.count, pitch_radius_mm)),
    }
}

fn cutter_use(problem: &Problem, gear: &Gear, form: &Form) -> CutterUse {
    let beta = problem.gears().helix_angle_deg().to_radians();
    let used = cutter_of(problem.gears(), gear.module, gear.teeth, form);
    CutterUse {
        cutter: cutter(problem, gear.teeth, beta),
        state: state(problem, used),
    }
}

fn state(problem: &Problem, used: Cutter) -> &'static str {
    let (module, which) = used.in_workshop(problem);
    if problem.workshop().has_cutter(module, which) {
        "at hand"
    } else if matches!(which, WhichCutter::Own(_)) {
        "to make"
    } else {
        "to buy"
    }
}

fn set_up_records(problem: &Problem, own: &[(Gear, Form, u64)]) -> Vec<SetUpRecord> {
    let used = |(gear, form, _): &(Gear, Form, u64)| {
        let cutter = cutter_of(problem.gears(), gear.module, gear.teeth, form);
        (cutter, gear.teeth)
    };
    let beta = problem.gears().helix_angle_deg().to_radians();
    let record = |set_up: crate::shop::SetUp| {
        let first = set_up.counts.first()?.0;
        Some(SetUpRecord {
            module_mm: set_up.cutter.in_workshop(problem).0.mm(),
            cutter: CutterUse {
                cutter: cutter(problem, first, beta),
                state: state(problem, set_up.cutter),
            },
            cuts: set_up
                .counts
                .into_iter()
                .map(|(teeth, gears)| CutsRecord {
                    teeth: teeth.get(),
                    gears,
                })
                .collect(),
        })
    };
    let all = set_ups(own.iter().map(used));
    all.into_iter().filter_map(record).collect()
}

/// One for each count that needs it, ascending.
fn plates(head: &DividingHead, pages: &[Page]) -> Vec<PlateRecord> {
    let plate = |page: &Page| {
        let circle = page.dividing.printed?;
        Some(PlateRecord {
            teeth: page.teeth,
            file: format!("plate-{}-teeth.svg", page.teeth),
            drawing: circle.drawing(head, page.teeth),
        })
    };
    let mut plates: Vec<_> = pages.iter().filter_map(plate).collect();
    plates.sort_by_key(|plate| plate.teeth);
    plates.dedup_by_key(|plate| plate.teeth);
    plates
}
