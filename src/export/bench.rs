//! Gears from the bench as JSON: every figure by name.

use crate::inspect::{
    Aim, Bounds, Cutting, GearFigures, Mark, Measures, MeshFigures, Tools, marks_of_gear,
    marks_of_mesh,
};
use crate::involute::{Closing, Member, Meshing, ShiftedGear, Split, SplitLimit, Toothing};
use crate::train::Point;
use serde::Serialize;
use serde_json::{Map, Value, json};

/// One gear, a pair or a reverse train, worked out.
#[derive(Clone, Debug)]
pub struct BenchWork {
    /// Rack, module, helix.
    pub toothing: Toothing,
    /// One gear; a pair; driver, idler and driven gear. None where refused.
    pub gears: Vec<ShiftedGear>,
    /// None of one gear alone.
    pub meshes: Vec<WorkedMesh>,
    /// Why the centres cannot be closed.
    pub refusal: Option<Refused>,
    /// What closes the centres of a pair.
    pub closing: Option<Closing>,
    /// Of a reverse train whose outer shafts are given.
    pub outer: Option<OuterShafts>,
    /// Limits that marks are made by.
    pub bounds: Bounds,
    /// What there is to measure with.
    pub tools: Tools,
    /// Thinning aimed at.
    pub aim: Aim,
}

/// A mesh with the places of its gears.
#[derive(Clone, Debug)]
pub struct WorkedMesh {
    /// The mesh at full teeth.
    pub mesh: Meshing,
    /// Its gears among those of the work.
    pub places: [usize; 2],
    /// How the shifts were split, where they were solved for.
    pub split: Option<Split>,
}

/// Why no split of the shifts is allowed.
#[derive(Clone, Copy, Debug)]
pub struct Refused {
    /// The limit that leaves nothing.
    pub limit: SplitLimit,
    /// First shifts that the limits before it allow.
    pub before: Option<(f64, f64)>,
    /// First shifts that it allows on its own.
    pub alone: Option<(f64, f64)>,
    /// The sums that the limits of shift allow, where the sum lies outside.
    pub shift_sum_outside: Option<(f64, f64)>,
}

/// Where the outer gears of reverse sit.
#[derive(Clone, Copy, Debug)]
pub struct OuterShafts {
    /// Distance between their shafts, mm.
    pub centres_mm: f64,
    /// Gap between their tips, mm; negative where they overlap.
    pub tip_gap_mm: f64,
    /// Both places of the idler, the driven gear's shaft at the origin.
    pub idler_centres: Option<[Point; 2]>,
    /// Whether the idler has a place at all.
    pub closes: bool,
}

impl BenchWork {
    /// What its gears are called.
    pub fn names(&self) -> &'static [&'static str] {
        match self.gears.len() {
            1 => &["gear"],
            2 => &["first gear", "second gear"],
            _ => &["driver", "idler", "driven gear"],
        }
    }

    /// Diameters between which the flank of a gear works, over all its meshes,
    /// mm: where it works in one of them.
    pub fn active_mm(&self, place: usize) -> (f64, f64) {
        let mut active: Option<(f64, f64)> = None;
        for worked in &self.meshes {
            for (member, of) in Member::BOTH.into_iter().zip(worked.places) {
                if of == place {
                    let (from, to) = worked.mesh.active_flank_mm(member);
                    active = Some(active.map_or((from, to), |a| (a.0.max(from), a.1.min(to))));
                }
            }
        }
        active.unwrap_or_else(|| self.gears[place].flank_mm())
    }

    /// What to measure of a gear.
    pub fn measures(&self, place: usize) -> Measures {
        let active = self.active_mm(place);
        Measures::of(&self.gears[place], active, &self.aim, &self.tools)
    }

    /// Every mark, gears first.
    pub fn marks(&self) -> Vec<Mark> {
        let names = self.names();
        let gears = self.gears.iter().zip(names);
        let mut marks: Vec<Mark> = gears
            .flat_map(|(gear, name)| marks_of_gear(name, gear, &self.bounds))
            .collect();
        for worked in &self.meshes {
            let names = worked.places.map(|place| names[place]);
            marks.extend(marks_of_mesh(names, &worked.mesh, &self.bounds));
        }
        marks
    }

    /// The figures of a mesh.
    pub fn mesh_figures(&self, worked: &WorkedMesh) -> MeshFigures {
        let face = self.tools.face_width_mm;
        MeshFigures::of(&worked.mesh, &self.aim, face, worked.split.as_ref())
    }
}

/// Everything about the gears, as JSON.
pub fn bench_record(work: &BenchWork) -> Value {
    let mut map = Map::new();
    map.insert("rack".into(), rack(&work.toothing));
    map.insert("module_mm".into(), json!(work.toothing.module_mm()));
    let transverse = work.toothing.transverse_module_mm();
    map.insert("transverse_module_mm".into(), json!(transverse));
    let helix = work.toothing.helix_rad().to_degrees();
    map.insert("helix_angle_deg".into(), json!(helix));
    if let Some(refused) = &work.refusal {
        map.insert("refused".into(), refusal(refused));
    }
    if let Some(closing) = &work.closing {
        map.insert("closing".into(), closed(closing));
    }
    let gears: Vec<Value> = (0..work.gears.len()).map(|i| gear(work, i)).collect();
    map.insert("gears".into(), json!(gears));
    let mut meshes: Vec<Value> = work
        .meshes
        .iter()
        .map(|worked| json!(work.mesh_figures(worked)))
        .collect();
    match meshes.len() {
        0 => {}
        1 => {
            map.insert("mesh".into(), meshes.remove(0));
        }
        _ => {
            map.insert("meshes".into(), json!(meshes));
        }
    }
    if let Some(outer) = &work.outer {
        let places = outer.idler_centres.iter().flatten();
        let places: Vec<Value> = places
            .map(|at| json!({ "x_mm": at.x_mm, "y_mm": at.y_mm }))
            .collect();
        let outer = json!({
            "centre_distance_mm": outer.centres_mm,
            "tip_gap_mm": outer.tip_gap_mm,
            "idler_has_a_place": outer.closes,
            "idler_centres": places,
        });
        map.insert("outer_shafts".into(), outer);
    }
    map.insert("marks".into(), json!(work.marks()));
    let mut value = Value::Object(map);
    tidy(&mut value);
    value
}

fn rack(toothing: &Toothing) -> Value {
    let rack = toothing.rack();
    json!({
        "pressure_angle_deg": rack.pressure_angle_rad.to_degrees(),
        "addendum": rack.addendum,
        "dedendum": rack.dedendum,
        "fillet": rack.fillet,
        "straight_flank_height": rack.straight_flank(),
    })
}

fn refusal(refused: &Refused) -> Value {
    json!({
        "limit": refused.limit.to_string(),
        "first_shift_before": refused.before,
        "first_shift_alone": refused.alone,
        "shift_sums_allowed": refused.shift_sum_outside,
    })
}

fn closed(closing: &Closing) -> Value {
    json!({
        "centre_distance_mm": closing.centres_mm(),
        "standard_centre_distance_mm": closing.standard_centres_mm(),
        "working_pressure_angle_deg": closing.working_angle_rad().to_degrees(),
        "profile_shift_sum": closing.shift_sum(),
        "tip_shortening": closing.tip_shortening(),
    })
}

fn gear(work: &BenchWork, place: usize) -> Value {
    #[derive(Serialize)]
    struct Record {
        gear: &'static str,
        #[serde(flatten)]
        figures: GearFigures,
        cutting: Cutting,
        inspection: Measures,
    }
    let gear = &work.gears[place];
    json!(Record {
        gear: work.names()[place],
        figures: GearFigures::of(gear),
        cutting: Cutting::of(gear, &work.aim),
        inspection: work.measures(place),
    })
}

/// Rounds every figure as [`tidied`] does.
pub(super) fn tidy(value: &mut Value) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(tidy),
        Value::Object(map) => map.values_mut().for_each(tidy),
        Value::Number(number) => {
            if let Some(figure) = number.as_f64().filter(|_| number.is_f64())
                && let Some(rounded) = serde_json::Number::from_f64(tidied(figure))
            {
                *number = rounded;
            }
        }
        Value::Null | Value::Bool(_) | Value::String(_) => {}
    }
}

/// A figure rounded to ten decimals: below anything measured, and short of the
/// last bits.
pub(super) fn tidied(figure: f64) -> f64 {
    let rounded = (figure * 1e10).round() / 1e10 + 0.0;
    if rounded.is_finite() { rounded } else { figure }
}
