//! The problem file, key by key.

use super::keys::{Key, Kind, Need, Range, Shape};
use super::{distances, housing, making, service, targets, workplace};
use crate::base::Decimal;

/// Most modules, and most speeds, in one problem.
pub(super) const MOST_ENTRIES: usize = 64;
/// Most centre distances in one problem.
pub(super) const MOST_CENTRES: i64 = 100_000;
/// Fewest teeth that a gear may be asked to have.
pub(super) const LEAST_TEETH: u16 = 5;
/// Most teeth that a gear may be asked to have.
pub(super) const MOST_TEETH: u16 = 1000;

const fn d(millionths: i64) -> Decimal {
    Decimal::from_millionths(millionths)
}

const ZERO: Decimal = d(0);
pub(super) const RATIO: Range = Range::closed(d(1000), Decimal::whole(1000));
pub(super) const MODULE: Range = Range::closed(d(50_000), Decimal::whole(100));
pub(super) const PITCH: Range = Range::closed(d(250_000), Decimal::whole(1000));
pub(super) const LENGTH_OR_NONE: Range = Range::closed(ZERO, Decimal::whole(10_000));
pub(super) const LENGTH: Range = Range {
    above: true,
    ..LENGTH_OR_NONE
};
const PERCENT: Range = Range {
    low: ZERO,
    above: true,
    high: Decimal::whole(100),
    below: true,
};
const TEETH: Kind = Kind::Teeth {
    least: LEAST_TEETH,
    most: MOST_TEETH,
};
const MEASURE_WORDS: &[&str] = &[
    "worst_error",
    "blank_volume",
    "distinct_cutters",
    "bars",
    "blanks",
    "setups",
    "cost",
    "least_safety",
];
const PAIR: Kind = Kind::Row(&[("driver", TEETH), ("driven", TEETH)]);
const PICKED_PAIR: Kind = Kind::Row(&[
    ("module_mm", Kind::Number(MODULE)),
    ("driver", TEETH),
    ("driven", TEETH),
]);

pub(super) const fn key(name: &'static str, kind: Kind, need: Need, doc: &'static str) -> Key {
    Key {
        name,
        twin: false,
        doc,
        kind,
        need,
    }
}

/// A key given in mm or in inches.
pub(super) const fn twin(name: &'static str, kind: Kind, need: Need, doc: &'static str) -> Key {
    Key {
        name,
        twin: true,
        doc,
        kind,
        need,
    }
}

const CUT_MODULE: Key = key(
    "module_mm",
    Kind::Number(MODULE),
    Need::Otherwise("any module of the list"),
    "Module of the gears already cut, mm.",
);
const CUT_PITCH: Key = key(
    "diametral_pitch",
    Kind::Number(PITCH),
    Need::Otherwise("any module of the list"),
    "Diametral pitch of the gears already cut, in place of module_mm.",
);
const CUT_APART: &[(&str, &str)] = &[("module_mm", "diametral_pitch")];
const CUT_WITH: &[(&str, &str)] = &[("module_mm", "teeth"), ("diametral_pitch", "teeth")];

/// The whole file.
pub(super) static PROBLEM: Shape = Shape {
    keys: &[
        key(
            "$schema",
            Kind::Text { longest: 2000 },
            Need::Optional,
            "Where the schema of this file lies, for editors; not used.",
        ),
        key(
            "title",
            Kind::Text { longest: 200 },
            Need::Optional,
            "What the gearbox is for; printed on top of every result.",
        ),
        key(
            "arrangement",
            Kind::Word(&["in-line", "offset"]),
            Need::Default("\"in-line\""),
            "\"in-line\": input and main shaft on one axis, layshaft beside them, driven by a head pair. \"offset\": input and output shaft side by side, one pair a speed.",
        ),
        twin(
            "centre_distance",
            Kind::Either(
                &Kind::Length(LENGTH),
                &[&distances::STEPS, &distances::MEASURED],
            ),
            Need::Required,
            "Distance between the shafts, or a range of distances to try, or what was measured over pins in the bores.",
        ),
        key(
            "gears",
            Kind::Fields(&GEARS),
            Need::Required,
            "What all gears share.",
        ),
        making::LIMITS_KEY,
        making::BORES_KEY,
        making::INSPECTION_KEY,
        housing::INPUT_TURNS,
        service::DUTY_KEY,
        service::MATERIALS_KEY,
        housing::SHAFTS_KEY,
        housing::IDLER_KEY,
        housing::LAYOUT_KEY,
        key(
            "head",
            Kind::Fields(&HEAD),
            Need::Optional,
            "The head pair (input shaft to layshaft) of an in-line box.",
        ),
        key(
            "default_tolerance_percent",
            Kind::Number(PERCENT),
            Need::Default("3"),
            "How far a ratio may lie from its target where a speed does not say, percent.",
        ),
        targets::INPUT_RPM,
        targets::VEHICLE_KEY,
        targets::SPACING_KEY,
        key(
            "speeds",
            Kind::List {
                of: &Kind::Fields(&SPEED),
                least: 0,
                most: MOST_ENTRIES,
            },
            Need::Optional,
            "The forward speeds.",
        ),
        key(
            "reverse",
            Kind::Fields(&REVERSE),
            Need::Optional,
            "The reverse speed, through an idler.",
        ),
        workplace::WORKSHOP_KEY,
        workplace::PARTS_KEY,
        key(
            "ranking",
            Kind::Word(&[
                "balanced",
                "worst_error",
                "blank_volume",
                "distinct_cutters",
                "bars",
                "blanks",
                "setups",
                "cost",
                "least_safety",
            ]),
            Need::Default("\"balanced\""),
            "What ranks the sets: all measures weighed together, or one of them first.",
        ),
        key(
            "measures",
            Kind::List {
                of: &Kind::Word(MEASURE_WORDS),
                least: 1,
                most: 8,
            },
            Need::Default("[\"worst_error\", \"blank_volume\", \"distinct_cutters\"]"),
            "What a set is measured by, in order of importance; smaller is better in each.",
        ),
        key(
            "fixed",
            Kind::List {
                of: &Kind::Text { longest: 200 },
                least: 0,
                most: MOST_ENTRIES,
            },
            Need::Optional,
            "Keys of what is already made and may not be proposed for change.",
        ),
        key(
            "picked",
            Kind::Fields(&PICKED),
            Need::Optional,
            "The set settled on; written by solve --pick.",
        ),
    ],
    any_of: &["speeds", "spacing", "reverse"],
    apart: &[("speeds", "spacing")],
    with: &[],
    ordered: &[],
};

static GEARS: Shape = Shape {
    keys: &[
        key(
            "modules_mm",
            Kind::List {
                of: &Kind::Number(MODULE),
                least: 1,
                most: MOST_ENTRIES,
            },
            Need::Otherwise("diametral_pitches gives them"),
            "Modules (pitch diameter per tooth, mm) that may be cut.",
        ),
        key(
            "diametral_pitches",
            Kind::List {
                of: &Kind::Number(PITCH),
                least: 1,
                most: MOST_ENTRIES,
            },
            Need::Otherwise("modules_mm gives them"),
            "Diametral pitches (teeth per inch of pitch diameter) that may be cut.",
        ),
        key(
            "pressure_angle_deg",
            Kind::Number(Range::closed(Decimal::whole(10), Decimal::whole(30))),
            Need::Default("20"),
            "Pressure angle in the normal section, degrees.",
        ),
        making::ADDENDUM,
        making::DEDENDUM,
        making::FILLET,
        key(
            "helix_angle_deg",
            Kind::Number(Range::closed(ZERO, Decimal::whole(45))),
            Need::Default("0"),
            "Helix angle at the pitch circle, degrees; 0 is a spur gear.",
        ),
        key(
            "min_teeth",
            TEETH,
            Need::Required,
            "Fewest teeth on a gear.",
        ),
        key("max_teeth", TEETH, Need::Required, "Most teeth on a gear."),
        twin(
            "centre_tolerance",
            Kind::Length(LENGTH_OR_NONE),
            Need::Default("0.001"),
            "How far a pair's own centre distance may lie from the shafts'.",
        ),
        twin(
            "backlash",
            Kind::Fields(&BACKLASH),
            Need::Optional,
            "Backlash wanted in every mesh; replaces centre_tolerance.",
        ),
        making::PROFILE_SHIFT,
        twin(
            "max_thinning",
            Kind::Length(LENGTH_OR_NONE),
            Need::Otherwise("0.05 mm"),
            "How much each gear's teeth may be thinned by a deeper cut to reach the backlash or to keep teeth from binding.",
        ),
        twin(
            "face_width",
            Kind::LengthOr(LENGTH, &["auto"]),
            Need::Required,
            "Face width of every gear. \"auto\": each mesh as wide as duty.min_safety needs.",
        ),
        twin(
            "face_width_range",
            Kind::Fields(&FACE_WIDTH_RANGE),
            Need::Otherwise("steps of 0.5 mm, from 4 to 12 modules"),
            "The widths that \"auto\" may give.",
        ),
        key(
            "cutting",
            Kind::Word(&["form", "generated", "own-form"]),
            Need::Otherwise("\"form\"; \"generated\" where profile_shift is given"),
            "How teeth are cut: bought form cutters (eight to a module), a hob or rack tool, or form cutters made for each gear.",
        ),
        service::GEAR_MATERIAL,
        service::ACCURACY,
    ],
    any_of: &["modules_mm", "diametral_pitches"],
    apart: &[
        ("centre_tolerance", "backlash"),
        ("centre_tolerance", "profile_shift"),
        ("backlash", "profile_shift"),
    ],
    with: &[],
    ordered: &[("min_teeth", "max_teeth")],
};

static FACE_WIDTH_RANGE: Shape = Shape {
    keys: &[
        key(
            "min",
            Kind::Length(LENGTH),
            Need::Otherwise("4 modules"),
            "Least face width.",
        ),
        key(
            "max",
            Kind::Length(LENGTH),
            Need::Otherwise("12 modules"),
            "Most face width.",
        ),
        key(
            "step",
            Kind::Length(LENGTH),
            Need::Otherwise("0.5 mm"),
            "What face widths are multiples of.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("min", "max")],
};

pub(super) static BACKLASH: Shape = Shape {
    keys: &[
        key(
            "min",
            Kind::Length(LENGTH_OR_NONE),
            Need::Required,
            "Least backlash.",
        ),
        key(
            "max",
            Kind::Length(LENGTH_OR_NONE),
            Need::Required,
            "Most backlash.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("min", "max")],
};

static HEAD: Shape = Shape {
    keys: &[
        key(
            "ratio",
            Kind::Fields(&HEAD_RATIO),
            Need::Otherwise("any ratio"),
            "Ratios that the head pair may have.",
        ),
        key(
            "teeth",
            PAIR,
            Need::Optional,
            "Teeth of a head pair already cut: driver, driven.",
        ),
        making::LEAST_DRIVER,
        making::LEAST_DRIVEN,
        service::ROLE_MATERIAL,
        service::DRIVER_MATERIAL,
        service::DRIVEN_MATERIAL,
        CUT_MODULE,
        CUT_PITCH,
    ],
    any_of: &[],
    apart: CUT_APART,
    with: CUT_WITH,
    ordered: &[],
};

static HEAD_RATIO: Shape = Shape {
    keys: &[
        key("min", Kind::Number(RATIO), Need::Optional, "Least ratio."),
        key(
            "max",
            Kind::Number(RATIO),
            Need::Optional,
            "Greatest ratio.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("min", "max")],
};

static SPEED: Shape = Shape {
    keys: &[
        key(
            "name",
            Kind::Text { longest: 40 },
            Need::Otherwise("its position, counted from 1"),
            "What the speed is called.",
        ),
        key(
            "ratio",
            Kind::Number(RATIO),
            Need::Otherwise(
                "exactly 1 on the direct speed, else other words or its own teeth give it",
            ),
            "Input speed divided by output speed: above 1 slows down.",
        ),
        targets::OUTPUT_RPM,
        targets::ROAD_SPEED_KMH,
        targets::ROAD_SPEED_MPH,
        key(
            "tolerance_percent",
            Kind::Number(PERCENT),
            Need::Otherwise("default_tolerance_percent"),
            "How far the ratio may lie from its target, percent.",
        ),
        key(
            "direct",
            Kind::Flag,
            Need::Default("false"),
            "Input locked to output: exactly 1, no gears of its own.",
        ),
        key(
            "teeth",
            PAIR,
            Need::Optional,
            "Teeth of a pair already cut: driver, driven.",
        ),
        making::LEAST_DRIVER,
        making::LEAST_DRIVEN,
        service::SHARE,
        service::ROLE_MATERIAL,
        service::DRIVER_MATERIAL,
        service::DRIVEN_MATERIAL,
        CUT_MODULE,
        CUT_PITCH,
    ],
    any_of: &[],
    apart: targets::APART,
    with: CUT_WITH,
    ordered: &[],
};

static REVERSE: Shape = Shape {
    keys: &[
        key(
            "ratio",
            Kind::Number(RATIO),
            Need::Otherwise("other words or its own teeth give it"),
            "Input speed divided by output speed, without the sign.",
        ),
        targets::OUTPUT_RPM,
        targets::ROAD_SPEED_KMH,
        targets::ROAD_SPEED_MPH,
        key(
            "tolerance_percent",
            Kind::Number(PERCENT),
            Need::Otherwise("default_tolerance_percent"),
            "How far the ratio may lie from its target, percent.",
        ),
        key(
            "idler_teeth",
            Kind::Fields(&IDLER),
            Need::Otherwise("the limits of gears"),
            "How many teeth the idler may have.",
        ),
        twin(
            "clearance",
            Kind::Length(LENGTH_OR_NONE),
            Need::Default("0.5"),
            "Least gap between the tips of the driving and the driven gear; of a shared driver, between those of the idler and of the first speed's driven gear.",
        ),
        key(
            "teeth",
            Kind::Row(&[("driver", TEETH), ("idler", TEETH), ("driven", TEETH)]),
            Need::Optional,
            "Teeth of reverse gears already cut: driver, idler, driven.",
        ),
        making::LEAST_DRIVER,
        making::LEAST_DRIVEN,
        service::SHARE,
        service::ROLE_MATERIAL,
        service::DRIVER_MATERIAL,
        service::IDLER_MATERIAL,
        service::DRIVEN_MATERIAL,
        housing::REVERSE_FORM,
        CUT_MODULE,
        CUT_PITCH,
    ],
    any_of: targets::WORDS_OR_TEETH,
    apart: targets::APART,
    with: CUT_WITH,
    ordered: &[],
};

static IDLER: Shape = Shape {
    keys: &[
        key(
            "min",
            TEETH,
            Need::Otherwise("gears.min_teeth"),
            "Fewest teeth on the idler.",
        ),
        key(
            "max",
            TEETH,
            Need::Otherwise("gears.max_teeth"),
            "Most teeth on the idler.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("min", "max")],
};

static PICKED: Shape = Shape {
    keys: &[
        key(
            "mark",
            Kind::Text { longest: 40 },
            Need::Required,
            "The mark of the set.",
        ),
        twin(
            "centre_distance",
            Kind::Length(LENGTH),
            Need::Required,
            "Its centre distance.",
        ),
        key(
            "head",
            PICKED_PAIR,
            Need::Optional,
            "Its head pair: module in mm, driver, driven.",
        ),
        key(
            "speeds",
            Kind::List {
                of: &PICKED_PAIR,
                least: 0,
                most: MOST_ENTRIES,
            },
            Need::Required,
            "Its pairs, one a geared speed, in the order of the file: module in mm, driver, driven.",
        ),
        key(
            "reverse",
            Kind::Row(&[
                ("module_mm", Kind::Number(MODULE)),
                ("driver", TEETH),
                ("idler", TEETH),
                ("driven", TEETH),
            ]),
            Need::Optional,
            "Its reverse: module in mm, driver, idler, driven.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};
