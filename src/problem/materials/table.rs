//! The materials that the program knows.

use super::{Class, Row};

const STEEL_GPA: f64 = 206.0;
const EN_10025: &str = "EN 10025, from memory";
const EN_ISO_683: &str = "EN ISO 683, from memory";
const HANDBOOKS: &str = "handbooks, from memory";
pub(in crate::problem) const HARDENING: &str = "Hardening warps the gear and closes its bore: leave 0.1 to 0.2 mm on \
                         bore and faces to grind after it, and keep tips 0.4 modules thick.";

/// Steel with the elasticity of steel.
const fn steel(
    name: &'static str,
    (class, hardness): (Class, f64),
    yield_mpa: f64,
    (note, source): (&'static str, &'static str),
) -> Row {
    Row {
        name,
        class,
        hardness,
        yield_mpa: Some(yield_mpa),
        youngs_gpa: STEEL_GPA,
        poisson: 0.3,
        note,
        source,
    }
}

/// The rows, soft steels first. Elasticity of iron and bronze: ISO 6336-2, as
/// row 6.10 has it, from memory.
pub const ROWS: &[Row] = &[
    steel(
        "S355",
        (Class::Normalised, 150.0),
        355.0,
        ("Cut as bought; hardness varies from bar to bar.", EN_10025),
    ),
    steel(
        "C45 normalised",
        (Class::Normalised, 180.0),
        305.0,
        ("Cut as bought.", EN_ISO_683),
    ),
    steel(
        "C45 hardened and tempered",
        (Class::CarbonTempered, 210.0),
        370.0,
        (
            "Cut as bought; bars over 40 mm are softer inside.",
            EN_ISO_683,
        ),
    ),
    steel(
        "42CrMo4 tempered",
        (Class::AlloyTempered, 280.0),
        650.0,
        (
            "Cut as bought, slowly and with coolant; wears form cutters.",
            EN_ISO_683,
        ),
    ),
    steel(
        "34CrNiMo6 tempered",
        (Class::AlloyTempered, 300.0),
        800.0,
        (
            "Cut as bought, slowly and with coolant; wears form cutters.",
            EN_ISO_683,
        ),
    ),
    steel(
        "16MnCr5 case-hardened",
        (Class::CaseHardened, 700.0),
        590.0,
        (HARDENING, EN_ISO_683),
    ),
    steel(
        "20MnCr5 case-hardened",
        (Class::CaseHardened, 700.0),
        680.0,
        (HARDENING, EN_ISO_683),
    ),
    steel(
        "11SMnPb30",
        (Class::ThirdOfYield, 140.0),
        305.0,
        (
            "Free-cutting: sulphur and lead leave it weak under load again and again. Yield is \
             that of drawn bar up to 63 mm; flanks are taken as half of normalised steel's.",
            "EN 10277, from memory",
        ),
    ),
    Row {
        name: "EN-GJL-250",
        class: Class::GreyIron,
        hardness: 200.0,
        yield_mpa: None,
        youngs_gpa: 118.0,
        poisson: 0.3,
        note: "Breaks without warning under shock.",
        source: "EN 1561, from memory",
    },
    Row {
        name: "EN-GJS-500-7",
        class: Class::NodularIron,
        hardness: 200.0,
        yield_mpa: Some(320.0),
        youngs_gpa: 173.0,
        poisson: 0.3,
        note: "Cut as bought; continuous-cast bar has no sand in its skin.",
        source: "EN 1563, from memory",
    },
    Row {
        name: "CuSn12",
        class: Class::CastBronze,
        hardness: 80.0,
        yield_mpa: Some(140.0),
        youngs_gpa: 113.0,
        poisson: 0.3,
        note: "Figures of sand castings; cast bar is better.",
        source: "EN 1982, from memory",
    },
    Row {
        name: "CuSn8P",
        class: Class::ThirdOfYield,
        hardness: 120.0,
        yield_mpa: Some(260.0),
        youngs_gpa: 113.0,
        poisson: 0.3,
        note: "Flanks are taken as those of cast bronze.",
        source: HANDBOOKS,
    },
    Row {
        name: "CW614N",
        class: Class::ThirdOfYield,
        hardness: 100.0,
        yield_mpa: Some(200.0),
        youngs_gpa: 97.0,
        poisson: 0.34,
        note: "Brass; dry it wears fast. Flanks are taken as those of cast bronze.",
        source: HANDBOOKS,
    },
];

/// Flank limit of sand-cast bronze, MPa: 30 000 psi (row 6.16, AGMA 2001 via
/// Shigley tables 14-4 and 14-7, from memory).
const CAST_BRONZE_CONTACT_MPA: f64 = 206.8;
/// Its allowable root stress, MPa: 5700 psi (the same row). This rating doubles
/// a limit of the root (Y_ST), so half of it is the limit.
const CAST_BRONZE_ALLOWABLE_MPA: f64 = 39.3;
/// Flank limit of free-cutting steel as a share of the normalised line at its
/// hardness: no figure was found, so this is judgement.
const FREE_CUTTING_SHARE: f64 = 0.5;

impl Row {
    /// Endurance limits of flank and root, MPa.
    pub fn limits_mpa(&self) -> [f64; 2] {
        if let Some(line) = self.class.line() {
            return line.limits_mpa(self.hardness);
        }
        if self.class == Class::CastBronze {
            return [CAST_BRONZE_CONTACT_MPA, CAST_BRONZE_ALLOWABLE_MPA / 2.0];
        }
        let root = self.yield_mpa.unwrap_or_default() / 3.0;
        let is_steel = self.youngs_gpa >= STEEL_GPA;
        let normalised = Class::Normalised.line().filter(|_| is_steel);
        let flank = normalised.map_or(CAST_BRONZE_CONTACT_MPA, |line| {
            line.limits_mpa(self.hardness)[0] * FREE_CUTTING_SHARE
        });
        [flank, root]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::Material;
    use std::collections::BTreeSet;

    #[test]
    fn rows_are_sound() {
        let mut names = BTreeSet::new();
        for row in ROWS {
            let [contact, bending] = row.limits_mpa();
            let name = row.name;
            assert!(names.insert(name), "{name} twice");
            assert!(contact > bending && bending > 10.0, "{name}");
            assert!((90.0..=210.0).contains(&row.youngs_gpa), "{name}");
            assert!((0.25..0.4).contains(&row.poisson), "{name}");
            assert!(!row.note.is_empty() && !row.source.is_empty(), "{name}");
            // The root never carries more than what it yields at.
            assert!(
                row.yield_mpa.is_none_or(|yields| bending < yields),
                "{name}"
            );
            if let Some(line) = row.class.line() {
                let (low, high) = line.range();
                assert!((low..=high).contains(&row.hardness), "{name}");
            } else {
                assert!(row.yield_mpa.is_some(), "{name}");
            }
        }
        assert!(Material::known(Material::USUAL).is_some());
    }

    #[test]
    fn harder_steels_are_stronger() {
        let of = |name| Material::known(name).expect(name);
        let order = [
            "11SMnPb30",
            "S355",
            "C45 normalised",
            "C45 hardened and tempered",
            "42CrMo4 tempered",
            "34CrNiMo6 tempered",
            "16MnCr5 case-hardened",
        ];
        for two in order.windows(2) {
            let [a, b] = [of(two[0]), of(two[1])];
            assert!(a.bending_mpa() < b.bending_mpa(), "{two:?}");
            assert!(a.contact_mpa() < b.contact_mpa(), "{two:?}");
        }
    }

    /// Row 6.16: AGMA 2001 via Shigley Tables 14-4, 14-7, from memory.
    #[test]
    fn bronze_in_psi() {
        let psi = |mpa: f64| mpa / 0.006_894_757;
        assert!((psi(CAST_BRONZE_ALLOWABLE_MPA) - 5700.0).abs() < 2.0);
        assert!((psi(CAST_BRONZE_CONTACT_MPA) - 30_000.0).abs() < 10.0);
    }
}
