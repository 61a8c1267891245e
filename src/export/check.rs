//! A gearbox looked over, as JSON.

use super::bench::tidy;
use super::{GearSheet, IdlerAnswer, LayoutAnswer, StrengthRecord, gear_sheets};
use crate::base::LENGTH_SLACK_MM;
use crate::examine::{Examined, Mesh, Trial, called, is_asked};
use crate::inspect::GearFigures;
use crate::train::{Gear, Role};
use serde_json::{Value, json};

/// What was found, with the names of what it is about.
#[derive(Debug)]
pub struct CheckAnswer<'a> {
    /// What was found.
    pub examined: &'a Examined<'a>,
    /// What the set is called.
    pub mark: &'a str,
    /// What to measure on every gear.
    pub sheets: Vec<GearSheet>,
    /// How to prove it by hand.
    pub trial: Trial,
    /// How it holds.
    pub strength: StrengthRecord,
}

/// A ratio with what was asked.
#[derive(Clone, Debug, PartialEq)]
pub struct RatioRow {
    /// What it is the ratio of.
    pub name: String,
    /// Teeth in the order of the power; empty where a dog joins the shafts.
    pub teeth: Vec<u32>,
    /// Input speed ÷ output speed; of the head pair, its own.
    pub ratio: f64,
    /// What was asked for, and by how many per cent the ratio is off.
    pub asked: Option<(f64, f64)>,
}

impl<'a> CheckAnswer<'a> {
    /// Of a box looked over, called `mark`.
    pub fn new(examined: &'a Examined<'a>, mark: &'a str) -> Self {
        Self {
            sheets: gear_sheets(examined.problem, examined.set),
            trial: Trial::of(examined),
            strength: StrengthRecord::new(examined.problem, examined.set, &examined.plan),
            examined,
            mark,
        }
    }

    /// Head, speeds in file order, reverse.
    pub fn ratios(&self) -> Vec<RatioRow> {
        let Examined {
            problem,
            set,
            figures,
            ..
        } = self.examined;
        let mut rows = Vec::new();
        rows.extend(
            set.head
                .zip(figures.head_ratio)
                .map(|(pair, ratio)| RatioRow {
                    name: "head".to_owned(),
                    teeth: vec![pair.driver.get(), pair.driven.get()],
                    ratio,
                    asked: None,
                }),
        );
        let mut geared = set.pairs.iter().zip(&figures.speeds);
        for (place, speed) in problem.speeds().iter().enumerate() {
            let own = speed.geared().and_then(|_| geared.next());
            let asked = is_asked(problem, Role::Speed(place));
            rows.push(RatioRow {
                name: called(problem, Role::Speed(place)),
                teeth: own.map_or_else(Vec::new, |(pair, _)| {
                    vec![pair.driver.get(), pair.driven.get()]
                }),
                ratio: own.map_or(1.0, |(_, figures)| figures.ratio),
                asked: own
                    .filter(|_| asked)
                    .map(|(_, own)| (own.target.to_f64(), 100.0 * own.deviation)),
            });
        }
        rows.extend(
            set.reverse
                .zip(figures.reverse.as_ref())
                .map(|(gears, own)| RatioRow {
                    name: "reverse".to_owned(),
                    teeth: vec![gears.driver.get(), gears.idler.get(), gears.driven.get()],
                    ratio: own.ratio,
                    asked: is_asked(problem, Role::Reverse)
                        .then(|| (-own.target.to_f64(), 100.0 * own.deviation)),
                }),
        );
        rows
    }

    /// The study of the idler's places, with the names of what is near it; none
    /// without reverse.
    pub fn idler(&self) -> Option<IdlerAnswer<'_>> {
        Some(IdlerAnswer {
            problem: self.examined.problem,
            set: self.examined.set,
            mark: self.mark,
            study: self.examined.plan.idler.as_ref()?,
        })
    }

    /// Everything, for programs.
    pub fn record(&self) -> Value {
        let examined = self.examined;
        let layout = LayoutAnswer {
            problem: examined.problem,
            set: examined.set,
            mark: self.mark,
            plan: &examined.plan,
        };
        let faults: Vec<_> = examined.faults().collect();
        let mut record = json!({
            "set": self.mark,
            "title": examined.problem.title(),
            "centre_distance_mm": examined.set.centre_distance.mm(),
            "sound": faults.is_empty() && self.strength.holds() != Some(false),
            "strength": self.strength,
            "faults": faults,
            "remarks": examined.remarks().collect::<Vec<_>>(),
            "ratios": self.ratios().iter().map(ratio).collect::<Vec<_>>(),
            "meshes": examined.meshes.iter().map(|mesh| self.mesh(mesh)).collect::<Vec<_>>(),
            "gears": examined.gears.iter().map(|own| self.gear(own)).collect::<Vec<_>>(),
            "reverse_tip_gap_mm": examined.figures.reverse.as_ref().map(|own| own.tip_gap_mm),
            "idler": self.idler().map(|idler| idler.record()),
            "box": layout.record(),
            "trial": self.trial,
        });
        tidy(&mut record);
        record
    }

    fn mesh(&self, mesh: &Mesh) -> Value {
        let problem = self.examined.problem;
        json!({
            "mesh": called(problem, mesh.role),
            "driver": mesh.gears[0].name(problem),
            "driven": mesh.gears[1].name(problem),
            "module_mm": mesh.gears[0].module.of(problem).mm(),
            "teeth": mesh.gears.map(|gear| gear.teeth.get()),
            "tooth_sum": mesh.tooth_sum(),
            "centres_are_for_tooth_sum": mesh.sum_for_centres(),
            "centre_distance_mm": mesh.centres_mm,
            "standard_centre_distance_mm": mesh.standard_mm,
            "goes_in": mesh.mesh.is_some_and(|mesh| mesh.backlash_mm() > -LENGTH_SLACK_MM),
            "figures": mesh.figures,
        })
    }

    fn gear(&self, (gear, figures): &(Gear, GearFigures)) -> Value {
        let problem = self.examined.problem;
        let name = gear.name(problem);
        let wall = self.examined.walls.iter().find(|wall| wall.gear == *gear);
        let sheet = self.sheets.iter().find(|sheet| sheet.gear == name);
        json!({
            "module_mm": gear.module.of(problem).mm(),
            "figures": figures,
            "hole_mm": wall.map(|wall| wall.hole_mm),
            "wall_mm": wall.map(|wall| wall.wall_mm),
            "thinning": sheet.map(|sheet| sheet.thinning),
            "cutting": sheet.map(|sheet| &sheet.cutting),
            "inspection": sheet.map(|sheet| &sheet.inspection),
            "gear": name,
        })
    }
}

fn ratio(row: &RatioRow) -> Value {
    json!({
        "name": row.name,
        "teeth": row.teeth,
        "ratio": row.ratio,
        "asked": row.asked.map(|(asked, _)| asked),
        "error_percent": row.asked.map(|(_, off)| off),
    })
}
