//! What shafts, bushes and joints are taken to be made of, each figure with
//! where it comes from. None of them is a measurement of the person's own bar.

use super::{Basis, Factor};
use crate::problem::Problem;

const fn usual(name: &'static str, value: f64, unit: &'static str, words: &'static str) -> Factor {
    Factor {
        name,
        value,
        unit,
        basis: Basis::defaulted(words),
    }
}

/// Of steel.
pub(super) const ELASTICITY: Factor = usual(
    "elasticity of steel",
    206_000.0,
    "MPa",
    "steel (from memory)",
);
/// As row 7.14 of the check values takes it.
pub(super) const SHEAR_ELASTICITY: Factor = usual(
    "shear elasticity of steel",
    79_300.0,
    "MPa",
    "steel (from memory)",
);
/// C45, normalised, bars up to about 40 mm.
pub(super) const FATIGUE_LIMIT: Factor = usual(
    "fatigue limit in turning bending",
    280.0,
    "MPa",
    "C45 steel, normalised (from memory)",
);
pub(super) const YIELD: Factor = usual(
    "yield stress of the shaft",
    340.0,
    "MPa",
    "C45 steel, normalised (from memory)",
);
pub(super) const SURFACE: Factor = usual(
    "surface and size",
    0.8,
    "",
    "turned, up to about 40 mm (from memory)",
);
pub(super) const SAFETY: Factor = usual(
    "safety against fatigue and yield",
    1.5,
    "",
    "common practice, no source",
);
pub(super) const NOTCH_BENDING: Factor = usual(
    "notch factor in bending",
    2.0,
    "",
    "keyway cut with an end mill, taken everywhere on the shaft (from memory)",
);
pub(super) const NOTCH_TORSION: Factor = usual(
    "notch factor in torsion",
    1.6,
    "",
    "keyway cut with an end mill, taken everywhere on the shaft (from memory)",
);
/// Pressure of key on steel hub, of dogs and sleeves.
pub(super) const KEY_PRESSURE: Factor = usual(
    "pressure on a key's side",
    100.0,
    "MPa",
    "steel hub, load that comes and goes (from memory)",
);
pub(super) const KEY_SHEAR: Factor = usual(
    "shear in a key",
    60.0,
    "MPa",
    "steel key, load that comes and goes (from memory)",
);
pub(super) const DOG_PRESSURE: Factor = usual(
    "pressure on dogs",
    80.0,
    "MPa",
    "tough steel, engaged under way, not slid under load (common practice, no source)",
);
pub(super) const DOG_SHEAR: Factor = usual(
    "shear in dogs",
    60.0,
    "MPa",
    "steel, load that comes and goes (from memory)",
);
pub(super) const BEARING_SHARE: Factor = usual(
    "share of dogs or splines that carry",
    0.75,
    "",
    "common practice, no source",
);
pub(super) const BOND: Factor = usual(
    "shear strength of the retaining compound",
    20.0,
    "MPa",
    "makers' range 13.8 to 34.5 MPa",
);
pub(super) const BOND_HEAT: Factor = usual(
    "bond when hot",
    0.7,
    "",
    "a box at about 80 degrees Celsius (from memory)",
);
pub(super) const BOND_REPEATED: Factor = usual(
    "bond under repeated load",
    0.5,
    "",
    "common practice, no source",
);
pub(super) const BOND_SAFETY: Factor = usual(
    "safety of a bond",
    2.0,
    "",
    "at least 2: common practice, no source",
);
pub(super) const PRESS_FRICTION: Factor = usual(
    "friction of a pressed joint",
    0.12,
    "",
    "steel on steel, dry (from memory)",
);
pub(super) const PRESS_SAFETY: Factor = usual(
    "safety of a pressed joint",
    2.0,
    "",
    "common practice, no source",
);
pub(super) const PRESS_SHARE: Factor = usual(
    "interference of a pressed joint per diameter",
    0.001,
    "",
    "where layout.press_interference is not given: common practice, no source",
);
pub(super) const GROOVE_PRESSURE: Factor = usual(
    "pressure of a circlip on its groove",
    226.0,
    "MPa",
    "yield stress of the shaft over the safety (C45, from memory)",
);
pub(super) const BUSH_AT_REST: Factor = usual(
    "pressure on a bush without slip",
    90.0,
    "N/mm²",
    "bronze, bush maker's data",
);
pub(super) const BUSH_SLIPPING: Factor = usual(
    "pressure on a bush that slips",
    25.0,
    "N/mm²",
    "bronze, bush maker's data",
);
pub(super) const BUSH_PV: Factor = usual(
    "pressure times speed of a bush",
    1.75,
    "N/mm² m/s",
    "most bronzes, lubricated, shaft of 165 HB or harder, bush maker's data",
);
pub(super) const BUSH_SPEED: Factor = usual(
    "slip speed of a bush",
    2.5,
    "m/s",
    "lubricated bronze (from memory)",
);
pub(super) const MESH_DEFLECTION: Factor = usual(
    "deflection at a mesh, modules",
    0.01,
    "",
    "common practice, no source",
);
pub(super) const MESH_SLOPE: Factor =
    usual("slope at a mesh", 1.0, "mrad", "common practice, no source");
pub(super) const BEARING_SLOPE: Factor = usual(
    "slope in a ball bearing",
    1.75,
    "mrad",
    "6 minutes of arc; makers allow 2 to 10 (from memory)",
);
pub(super) const TWIST_DIAMETERS: Factor = usual(
    "diameters of shaft for a degree of twist",
    20.0,
    "",
    "common practice, no source",
);
pub(super) const STATIC_SAFETY: Factor = usual(
    "safety of a bearing at rest",
    1.0,
    "",
    "common practice, no source",
);
pub(super) const FORK_PLAY: Factor = usual(
    "play of a fork in its groove",
    0.3,
    "mm",
    "common practice, no source",
);
pub(super) const OVERLAP_LOST: Factor = usual(
    "share of the overlap that may be lost",
    0.5,
    "",
    "common practice, no source",
);
pub(super) const BUSH_CLEARANCE: Factor = usual(
    "clearance of a bush per diameter",
    0.001,
    "",
    "common practice, no source",
);
pub(super) const FRICTION: Factor = usual("friction of oiled steel", 0.1, "", "from memory");
pub(super) const SHAKE: Factor = usual(
    "shake along the shafts",
    5.0,
    "g",
    "common practice, no source",
);

pub(super) const EASED: Factor = usual(
    "share of the torque left when a dog is pulled out",
    0.1,
    "",
    "common practice, no source",
);
pub(super) const FORK_FORCE: Factor = usual(
    "force of a hand at the fork",
    200.0,
    "N",
    "common practice, no source",
);

/// All of them, and by what the torque is multiplied.
pub(super) fn factors(problem: &Problem) -> Vec<Factor> {
    let mut all = vec![
        shock(problem),
        ELASTICITY,
        SHEAR_ELASTICITY,
        FATIGUE_LIMIT,
        YIELD,
        SURFACE,
        SAFETY,
        NOTCH_BENDING,
        NOTCH_TORSION,
        MESH_DEFLECTION,
        MESH_SLOPE,
        BEARING_SLOPE,
        TWIST_DIAMETERS,
        STATIC_SAFETY,
    ];
    all.extend([
        BUSH_AT_REST,
        BUSH_SLIPPING,
        BUSH_PV,
        BUSH_SPEED,
        BUSH_CLEARANCE,
        KEY_PRESSURE,
        KEY_SHEAR,
        BOND,
        BOND_HEAT,
        BOND_REPEATED,
        BOND_SAFETY,
        PRESS_FRICTION,
        PRESS_SAFETY,
        PRESS_SHARE,
        GROOVE_PRESSURE,
        DOG_PRESSURE,
        DOG_SHEAR,
        BEARING_SHARE,
        FORK_PLAY,
        OVERLAP_LOST,
        FRICTION,
        SHAKE,
        EASED,
        FORK_FORCE,
    ]);
    all
}

/// What loads are multiplied by where a peak counts: stresses, pressures,
/// bearings at rest. Deflection and life are for the torque itself.
pub(super) fn shock(problem: &Problem) -> Factor {
    let duty = problem.duty();
    Factor {
        name: "shock",
        value: duty.map_or(1.0, crate::problem::Duty::shock),
        unit: "",
        basis: match duty {
            Some(duty) if duty.shock_taken().given() => Basis::given("duty.shock"),
            Some(_) => Basis::defaulted("duty.shock is not given: common practice, no source"),
            None => Basis::defaulted("the file has no duty: loads are for 1 N m"),
        },
    }
}

/// Stress that a shaft may have where it bends as it turns, MPa.
pub(super) fn fatigue_allowed_mpa() -> f64 {
    FATIGUE_LIMIT.value * SURFACE.value / SAFETY.value
}

/// Stress that the idler's pin may have, MPa: it stands, so that its load comes
/// and goes on one side.
pub(super) fn standing_allowed_mpa() -> f64 {
    YIELD.value / SAFETY.value
}

/// Shear that a bond may have, MPa.
pub(super) fn bond_allowed_mpa() -> f64 {
    BOND.value * BOND_HEAT.value * BOND_REPEATED.value / BOND_SAFETY.value
}
