//! Deflection, slope, stress and twist of the shafts of a box.
//!
//! A main shaft's end rests in the input gear: where the input shaft has bent
//! to, there the main shaft begins. What the one gives to the other is settled
//! by statics already.

use super::Basis;
use super::case::Case;
use super::line::{Bent, Hold, Line, Section};
use super::material::{
    BEARING_SLOPE, ELASTICITY, MESH_DEFLECTION, MESH_SLOPE, NOTCH_BENDING, NOTCH_TORSION,
    TWIST_DIAMETERS, fatigue_allowed_mpa, standing_allowed_mpa,
};
use super::stress::{Peak, Raised, peak, twist_between};
use super::utilisation::{Member, Utilisation, What, When};
use crate::design::forces::{Flow, MeshForces, ShaftForces, StateForces, Support};
use crate::problem::Shaft;
use crate::train::Gear;

/// How the shafts give at one mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshBend {
    /// When.
    pub when: When,
    /// Driving gear first.
    pub gears: [Gear; 2],
    /// Where, mm.
    pub z_mm: f64,
    /// How each gear's shaft is bent there.
    pub bent: [Bent; 2],
    /// By how much the two gears go off against each other, mm.
    pub off_mm: f64,
    /// By how much their distance grows, mm.
    pub opening_mm: f64,
    /// How far they lean against each other, mrad.
    pub slope_mrad: f64,
}

/// What a shaft bears in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct ShaftBend {
    /// When.
    pub when: When,
    /// Which.
    pub shaft: Shaft,
    /// Its lengths, from the input on.
    pub sections: Vec<Section>,
    /// Where it is stressed most.
    pub peak: Peak,
    /// Twist where torque passes, deg; 0 where none does.
    pub twist_deg: f64,
    /// Over which length, mm.
    pub twisted_mm: f64,
    /// How it is bent at each of its supports, in their order.
    pub at_supports: Vec<(Support, Bent)>,
}

/// All of it.
#[derive(Debug, Default)]
pub(super) struct Bends {
    pub(super) meshes: Vec<MeshBend>,
    pub(super) shafts: Vec<ShaftBend>,
    pub(super) rated: Vec<Utilisation>,
}

/// The shafts in every state, driving and overrun.
pub(super) fn bends(case: &Case<'_>) -> Bends {
    let mut all = Bends::default();
    for (flow, state) in &case.states {
        let lines = lines(case, state);
        for mesh in &state.meshes {
            let Some(bend) = mesh_bend(case, (*flow, state), mesh, &lines) else {
                continue;
            };
            all.rated.extend(mesh_ratings(case, &bend));
            all.meshes.push(bend);
        }
        for shaft in &state.shafts {
            let line = lines.iter().find(|(of, _)| *of == shaft.shaft);
            let Some((_, line)) = line else { continue };
            let (bend, limit_deg) = shaft_bend(case, (*flow, state), shaft, line);
            all.rated.extend(shaft_ratings(&bend, limit_deg));
            all.shafts.push(bend);
        }
    }
    all
}

/// The lines of all shafts; the input shaft comes before the main shaft, which
/// rests in it.
fn lines(case: &Case<'_>, state: &StateForces) -> Vec<(Shaft, Line)> {
    let mut lines: Vec<(Shaft, Line)> = Vec::new();
    for shaft in &state.shafts {
        let given = |support: Support, z_mm: f64| {
            let input = lines.iter().find(|(of, _)| *of == Shaft::Input);
            match (support, input) {
                (Support::Spigot, Some((_, input))) => input.at(z_mm).deflection_mm,
                _ => [0.0; 2],
            }
        };
        let hold = match &shaft.reactions[..] {
            [wall] => Hold::Wall(wall.z_mm),
            [one, two] => {
                Hold::Two([one, two].map(|held| (held.z_mm, given(held.support, held.z_mm))))
            }
            _ => continue,
        };
        let sections = case.sections(shaft.shaft);
        let line = Line::new(&shaft.bending, &sections, ELASTICITY.value, hold);
        lines.extend(line.map(|line| (shaft.shaft, line)));
    }
    lines
}

fn mesh_bend(
    case: &Case<'_>,
    (flow, state): (Flow, &StateForces),
    mesh: &MeshForces,
    lines: &[(Shaft, Line)],
) -> Option<MeshBend> {
    let (driver, driven) = (&mesh.on_driver, &mesh.on_driven);
    let line = |gear: &Gear| {
        let shaft = gear.shaft(case.problem);
        lines
            .iter()
            .find(|(of, _)| *of == shaft)
            .map(|(_, line)| line)
    };
    let bent = [
        line(&driver.gear)?.at(driver.z_mm),
        line(&driven.gear)?.at(driven.z_mm),
    ];
    let [one, two] = bent;
    let off = [0, 1].map(|i| two.deflection_mm[i] - one.deflection_mm[i]);
    let lean = [0, 1].map(|i| two.slope_rad[i] - one.slope_rad[i]);
    let [ox, oy] = driver.offset_mm;
    Some(MeshBend {
        when: Case::when(flow, state.state),
        gears: [driver.gear, driven.gear],
        z_mm: driver.z_mm,
        bent,
        off_mm: off[0].hypot(off[1]),
        opening_mm: (off[0] * ox + off[1] * oy) / ox.hypot(oy),
        slope_mrad: lean[0].hypot(lean[1]) * 1e3,
    })
}

fn mesh_ratings(case: &Case<'_>, bend: &MeshBend) -> [Utilisation; 2] {
    let module_mm = bend.gears[0].module.of(case.problem).mm();
    let rated = |what, value, limit, basis| {
        Utilisation::new(
            Member::Mesh(bend.gears),
            bend.when,
            what,
            (value, limit),
            basis,
        )
    };
    [
        rated(
            What::Deflection,
            bend.off_mm,
            MESH_DEFLECTION.value * module_mm,
            Basis::defaulted("0.01 of the module: common practice, no source"),
        ),
        rated(
            What::Slope,
            bend.slope_mrad,
            MESH_SLOPE.value,
            MESH_SLOPE.basis,
        ),
    ]
}

/// With the limit of its twist, deg.
fn shaft_bend(
    case: &Case<'_>,
    (flow, state): (Flow, &StateForces),
    shaft: &ShaftForces,
    line: &Line,
) -> (ShaftBend, f64) {
    let sections = case.sections(shaft.shaft);
    let span = case.torque_span_mm(state, shaft, &sections);
    let torque = span.map(|span| (span, shaft.torque_n_m));
    let (twist_rad, least_mm) = torque.map_or((0.0, f64::INFINITY), |(span, torque_n_m)| {
        twist_between(&sections, span, torque_n_m)
    });
    let twisted_mm = span.map_or(0.0, |(from, to)| to - from);
    let held = shaft.reactions.iter();
    let bend = ShaftBend {
        when: Case::when(flow, state.state),
        shaft: shaft.shaft,
        peak: peak(&shaft.bending, &sections, torque, raised(case, shaft.shaft)),
        sections,
        twist_deg: twist_rad.to_degrees(),
        twisted_mm,
        at_supports: held.map(|at| (at.support, line.at(at.z_mm))).collect(),
    };
    (bend, twisted_mm / (TWIST_DIAMETERS.value * least_mm))
}

/// A pin has no keyway; shafts are taken to have one anywhere.
fn raised(case: &Case<'_>, shaft: Shaft) -> Raised {
    Raised {
        shock: case.shock(),
        notches: match shaft {
            Shaft::Idler => [1.0; 2],
            _ => [NOTCH_BENDING.value, NOTCH_TORSION.value],
        },
    }
}

/// A shaft turns in its load; the pin stands.
fn stress_limit(shaft: Shaft) -> (f64, Basis) {
    match shaft {
        Shaft::Idler => (
            standing_allowed_mpa(),
            Basis::defaulted("yield stress of C45, normalised (from memory), safety 1.5"),
        ),
        _ => (
            fatigue_allowed_mpa(),
            Basis::defaulted(
                "fatigue limit of C45, normalised (from memory), turned surface, safety 1.5",
            ),
        ),
    }
}

fn shaft_ratings(bend: &ShaftBend, twist_limit_deg: f64) -> Vec<Utilisation> {
    let (limit_mpa, limit_from) = stress_limit(bend.shaft);
    let mut rated = vec![Utilisation::new(
        Member::Shaft(bend.shaft),
        bend.when,
        What::Stress,
        (bend.peak.stress_mpa, limit_mpa),
        limit_from,
    )];
    if twist_limit_deg > 0.0 {
        rated.push(Utilisation::new(
            Member::Shaft(bend.shaft),
            bend.when,
            What::Twist,
            (bend.twist_deg, twist_limit_deg),
            Basis::defaulted("a degree in 20 diameters: common practice, no source"),
        ));
    }
    for (support, bent) in &bend.at_supports {
        let in_bearing = matches!(support, Support::InputEnd | Support::OutputEnd);
        if in_bearing && bend.shaft != Shaft::Idler {
            let [x, y] = bent.slope_rad;
            rated.push(Utilisation::new(
                Member::Bearing(bend.shaft, *support),
                bend.when,
                What::BearingSlope,
                (x.hypot(y) * 1e3, BEARING_SLOPE.value),
                BEARING_SLOPE.basis,
            ));
        }
    }
    rated
}
