//! The keys that say what the box must do and what its gears are made of:
//! torque, hours, shares of the speeds, materials.

use super::housing::shape;
use super::keys::{Key, Kind, Need, Range, Shape};
use super::table::{MOST_ENTRIES, key};
use crate::base::Decimal;

pub(super) const fn above_none(high: i64) -> Kind {
    Kind::Number(Range {
        above: true,
        ..Range::closed(Decimal::whole(0), Decimal::whole(high))
    })
}

/// A factor of load: it never makes the load less.
const FACTOR: Kind = Kind::Number(Range::closed(Decimal::whole(1), Decimal::whole(10)));
const SAFETY: Kind = Kind::Number(Range::closed(
    Decimal::from_millionths(100_000),
    Decimal::whole(10),
));
const NAME: Kind = Kind::Text { longest: 60 };

pub(super) const DUTY_KEY: Key = key(
    "duty",
    Kind::Fields(&DUTY),
    Need::Optional,
    "What the box must carry and for how long: it sizes shafts, gives forces and rates teeth.",
);

static DUTY: Shape = Shape {
    any_of: &["input_torque_n_m", "input_power_w"],
    apart: &[("input_torque_n_m", "input_power_w")],
    ..shape(&[
        key(
            "input_torque_n_m",
            above_none(1_000_000),
            Need::Otherwise("input_power_w gives it"),
            "Torque on the input shaft, N m.",
        ),
        key(
            "input_power_w",
            above_none(10_000_000),
            Need::Otherwise("input_torque_n_m gives it"),
            "Power at input_rpm, W, in place of the torque.",
        ),
        key(
            "shock",
            FACTOR,
            Need::Default("1.5"),
            "By what the torque is multiplied for shock: where teeth are rated (application factor), and with bending where shafts are sized.",
        ),
        key(
            "shaft_shear_mpa",
            Kind::Number(Range::closed(Decimal::whole(1), Decimal::whole(1000))),
            Need::Default("40"),
            "Shear stress that a shaft may have, MPa, keyways allowed for.",
        ),
        key(
            "hours",
            above_none(1_000_000),
            Need::Default("1000"),
            "How long the box must run under this load, hours.",
        ),
        key(
            "reversing",
            Kind::Flag,
            Need::Default("false"),
            "Whether the load turns about in service, so that all teeth bend both ways.",
        ),
        key(
            "min_safety",
            SAFETY,
            Need::Optional,
            "Least safety of tooth roots and flanks; sets below it are left out.",
        ),
        key(
            "min_flank_safety",
            SAFETY,
            Need::Otherwise("min_safety"),
            "Least safety of the flanks alone.",
        ),
        key(
            "lubrication",
            Kind::Word(&["oil", "grease", "dry"]),
            Need::Default("\"oil\""),
            "What the teeth run in.",
        ),
        key(
            "dynamic_factor",
            FACTOR,
            Need::Otherwise("pitch-line speed and gears.accuracy_grade give it"),
            "By what the teeth's own vibration raises the load (K_v).",
        ),
        key(
            "face_load_factor",
            FACTOR,
            Need::Otherwise("face width and diameter give it"),
            "By what uneven load across the face raises the highest load (K_Hbeta and K_Fbeta).",
        ),
        key(
            "transverse_factor",
            FACTOR,
            Need::Otherwise("gears.accuracy_grade gives it"),
            "By what uneven sharing between pairs of teeth raises the load (K_Halpha and K_Falpha).",
        ),
    ])
};

pub(super) const SHARE: Key = key(
    "share_percent",
    Kind::Number(Range::closed(Decimal::whole(0), Decimal::whole(100))),
    Need::Otherwise("5 for reverse; forward speeds share equally what is left"),
    "Share of the running time in this speed, percent.",
);

pub(super) const ACCURACY: Key = key(
    "accuracy_grade",
    Kind::Whole { least: 4, most: 12 },
    Need::Default("9"),
    "Accuracy of the teeth, grade of ISO 1328: 4 is ground, 9 cut with care in a small workshop, 12 rough.",
);

pub(super) const GEAR_MATERIAL: Key = key(
    "material",
    NAME,
    Need::Otherwise(
        "workshop.gear_material where strength is known under that name, else \"C45 normalised\"",
    ),
    "What the gears are made of, by the name of a row of materials or of the program's own table.",
);

pub(super) const ROLE_MATERIAL: Key = key(
    "material",
    NAME,
    Need::Otherwise("gears.material"),
    "What the gears of this role are made of.",
);

pub(super) const DRIVER_MATERIAL: Key = key(
    "driver_material",
    NAME,
    Need::Otherwise("material"),
    "What the driving gear is made of.",
);

pub(super) const DRIVEN_MATERIAL: Key = key(
    "driven_material",
    NAME,
    Need::Otherwise("material"),
    "What the driven gear is made of.",
);

pub(super) const IDLER_MATERIAL: Key = key(
    "idler_material",
    NAME,
    Need::Otherwise("material"),
    "What the idler is made of.",
);

pub(super) const MATERIALS_KEY: Key = key(
    "materials",
    Kind::List {
        of: &MATERIAL_ROW,
        least: 0,
        most: MOST_ENTRIES,
    },
    Need::Optional,
    "Materials of your own, beside those that the program knows.",
);

static MATERIAL_ROW: Kind = Kind::Fields(&MATERIAL);
static MATERIAL: Shape = shape(&[
    key("name", NAME, Need::Required, "What it is called."),
    key(
        "bending_mpa",
        above_none(5000),
        Need::Required,
        "Endurance limit of tooth roots, MPa (sigma_Flim of ISO 6336-5).",
    ),
    key(
        "contact_mpa",
        above_none(5000),
        Need::Required,
        "Endurance limit of flanks, MPa (sigma_Hlim of ISO 6336-5).",
    ),
    key(
        "youngs_gpa",
        above_none(1000),
        Need::Default("206"),
        "Modulus of elasticity, GPa.",
    ),
    key(
        "poisson",
        Kind::Number(Range {
            below: true,
            ..Range::closed(Decimal::whole(0), Decimal::from_millionths(500_000))
        }),
        Need::Default("0.3"),
        "Poisson's ratio.",
    ),
    key(
        "yield_mpa",
        above_none(5000),
        Need::Optional,
        "Yield strength, MPa.",
    ),
    key(
        "case_hardened",
        Kind::Flag,
        Need::Default("false"),
        "Whether the teeth have a hard case: tips must then be thicker.",
    ),
]);
