//! Every figure behind a safety, by name.

use super::factor::{Factor, Origin};
use super::loads::MeshLoad;
use super::root;
use super::strength::{Action, GearStrength, MeshStrength, overlapped};

const ISO_1: &str = "ISO 6336-1 method C, from memory";
const ISO_2: &str = "ISO 6336-2:2006, from memory";
const ISO_3: &str = "ISO 6336-3:2006 method B, from memory";
const AGMA: &str = "AGMA 2001, from memory";
const STATICS: &str = "statics";
const PRACTICE: &str = "common practice, no source";

/// A figure of the mesh, derived unless said.
fn derived(symbol: &'static str, value: f64, what: &'static str, source: &'static str) -> Factor {
    Factor {
        symbol,
        gear: None,
        value,
        unit: "",
        origin: Origin::Derived,
        what,
        source,
    }
}

fn from((value, origin): (f64, Origin), plain: Factor) -> Factor {
    Factor {
        value,
        origin,
        ..plain
    }
}

fn measured(unit: &'static str, plain: Factor) -> Factor {
    Factor { unit, ..plain }
}

impl MeshStrength {
    /// Every factor of the safeties under a load at a face width (mm): first
    /// those of the mesh, then those of each gear.
    pub fn factors(&self, load: &MeshLoad, width_mm: f64) -> Vec<Factor> {
        let action = self.action(load, width_mm);
        let mut all = self.of_load(&action, width_mm);
        all.extend(self.of_mesh(&action));
        for (place, gear) in self.gears.iter().enumerate() {
            let own = of_gear(gear, load.cycles[place], load.both_ways[place], &action);
            all.extend(own.into_iter().map(|factor| Factor {
                gear: Some(place),
                ..factor
            }));
        }
        all
    }

    fn of_load(&self, action: &Action, width_mm: f64) -> Vec<Factor> {
        let service = &self.service;
        let with = |origin, plain: Factor| Factor { origin, ..plain };
        vec![
            measured(
                "N",
                derived(
                    "F_t",
                    action.tangential_n,
                    "tangential load at the reference circle",
                    STATICS,
                ),
            ),
            measured(
                "m/s",
                derived("v", action.speed_m_s, "speed of the pitch line", STATICS),
            ),
            measured(
                "mm",
                with(
                    Origin::Given,
                    derived("b", width_mm, "face width", "the problem file"),
                ),
            ),
            from(
                service.shock,
                derived("K_A", 0.0, "shock from the machine at either end", PRACTICE),
            ),
            with(
                service.dynamic_origin(),
                derived("K_v", action.dynamic, "the teeth's own vibration", AGMA),
            ),
            with(
                service.face_origin(),
                derived(
                    "K_Fβ, K_Hβ",
                    action.face,
                    "uneven load across the face",
                    AGMA,
                ),
            ),
            from(
                service.transverse,
                derived(
                    "K_Fα, K_Hα",
                    0.0,
                    "uneven sharing between pairs of teeth",
                    ISO_1,
                ),
            ),
        ]
    }

    fn of_mesh(&self, action: &Action) -> Vec<Factor> {
        vec![
            derived(
                "ε_α",
                self.contact_ratio,
                "pairs of teeth in contact",
                "ISO 21771",
            ),
            derived("ε_β", action.overlap, "overlap of the helix", "ISO 21771"),
            derived(
                "Y_β",
                action.helix_at_root,
                "help of the helix at the root",
                ISO_3,
            ),
            derived("Z_H", self.zone, "curvature at the pitch point", ISO_2),
            measured(
                "√MPa",
                derived(
                    "Z_E",
                    self.elasticity,
                    "elasticity of both materials",
                    ISO_2,
                ),
            ),
            derived(
                "Z_ε",
                action.sharing,
                "sharing of load between pairs of teeth",
                ISO_2,
            ),
            derived(
                "Z_β",
                self.helix_on_flanks,
                "effect of the helix on flanks",
                ISO_2,
            ),
            from(
                self.service.finish,
                derived(
                    "Z_L Z_v Z_R",
                    0.0,
                    "finish of the flanks and oil film",
                    ISO_2,
                ),
            ),
            from(
                self.service.lubricant,
                derived(
                    "Z_oil",
                    0.0,
                    "what grease or no oil leaves of the flanks",
                    PRACTICE,
                ),
            ),
        ]
    }
}

fn of_gear(gear: &GearStrength, cycles: f64, both_ways: bool, action: &Action) -> Vec<Factor> {
    let ways = if both_ways { root::BOTH_WAYS } else { 1.0 };
    let metal = &gear.metal;
    let mut all = vec![
        measured(
            "loads",
            derived(
                "N",
                cycles,
                "how often a tooth is loaded",
                "shares of the time",
            ),
        ),
        derived("Y_F", gear.form, "shape of the tooth", ISO_3),
        derived("Y_S", gear.notch, "notch of the fillet", ISO_3),
        derived("Y_B", gear.rim, "thin rim over the hole", ISO_3),
        derived(
            "Z_B, Z_D",
            overlapped(gear.single, action.overlap),
            "flank that carries alone",
            ISO_2,
        ),
        measured(
            "MPa",
            derived(
                "σ_Flim",
                metal.bending_mpa,
                "endurance limit of the root",
                "its material",
            ),
        ),
        measured(
            "MPa",
            derived(
                "σ_Hlim",
                metal.contact_mpa,
                "endurance limit of the flank",
                "its material",
            ),
        ),
        derived(
            "Y_ST",
            root::Y_ST,
            "notch of the gears that were tested",
            ISO_3,
        ),
        derived("Y_X", gear.size, "size of the tooth", ISO_3),
        derived(
            "Y_NT",
            gear.root_curve.at(cycles),
            "life of the root",
            ISO_3,
        ),
        derived(
            "Z_NT",
            gear.flank_curve.at(cycles),
            "life of the flank",
            ISO_2,
        ),
        derived("Y_A", ways, "what bending both ways leaves", ISO_3),
    ];
    if gear.yield_mpa.is_finite() {
        all.push(measured(
            "MPa",
            derived(
                "σ_y Y_S",
                gear.yield_mpa,
                "the root's section yields; no more is allowed",
                PRACTICE,
            ),
        ));
    }
    all
}
