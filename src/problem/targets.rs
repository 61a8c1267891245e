//! The part of the table that says in which words a ratio may be asked for:
//! as itself, as the output shaft's speed, as a road speed, or as one of a
//! list that a law spaces.

use super::keys::{Key, Kind, Need, Range, Shape};
use super::table::{LENGTH, RATIO, key, twin};
use crate::base::Decimal;

/// The keys of one target; a speed has one of them.
pub(super) const WORDS: [&str; 4] = ["ratio", "output_rpm", "road_speed_kmh", "road_speed_mph"];

/// The same, or gears that are cut already: their teeth give a ratio.
pub(super) const WORDS_OR_TEETH: &[&str] = &[WORDS[0], WORDS[1], WORDS[2], WORDS[3], "teeth"];

const ZERO: Decimal = Decimal::whole(0);
/// Far above any turbine, and above nothing that a person means.
const RPM: Kind = Kind::Number(Range {
    above: true,
    ..Range::closed(ZERO, Decimal::whole(1_000_000))
});
const ROAD: Kind = Kind::Number(Range {
    above: true,
    ..Range::closed(ZERO, Decimal::whole(2000))
});

pub(super) const OUTPUT_RPM: Key = key(
    WORDS[1],
    RPM,
    Need::Optional,
    "Speed of the output shaft at input_rpm, rpm, in place of the ratio.",
);
pub(super) const ROAD_SPEED_KMH: Key = key(
    WORDS[2],
    ROAD,
    Need::Optional,
    "Speed of the vehicle at input_rpm, km/h, in place of the ratio.",
);
pub(super) const ROAD_SPEED_MPH: Key = key(
    WORDS[3],
    ROAD,
    Need::Optional,
    "Speed of the vehicle at input_rpm, mph (1.609344 km/h), in place of the ratio.",
);
pub(super) const INPUT_RPM: Key = key(
    "input_rpm",
    RPM,
    Need::Otherwise("targets are given as ratios"),
    "Speed of the input shaft at which output_rpm and road speeds are meant, rpm.",
);
pub(super) const VEHICLE_KEY: Key = key(
    "vehicle",
    Kind::Fields(&VEHICLE),
    Need::Otherwise("no target is a road speed"),
    "What turns output speed into road speed.",
);
pub(super) const SPACING_KEY: Key = key(
    "spacing",
    Kind::Fields(&SPACING),
    Need::Otherwise("speeds gives the targets"),
    "A law that gives the forward speeds, named 1, 2, ..., in place of speeds.",
);

/// No two of the words for one target, and no two of what says the module.
pub(super) const APART: &[(&str, &str)] = &[
    (WORDS[0], WORDS[1]),
    (WORDS[0], WORDS[2]),
    (WORDS[0], WORDS[3]),
    (WORDS[1], WORDS[2]),
    (WORDS[1], WORDS[3]),
    (WORDS[2], WORDS[3]),
    ("module_mm", "diametral_pitch"),
];

static VEHICLE: Shape = Shape {
    keys: &[
        twin(
            "wheel_diameter",
            Kind::Length(LENGTH),
            Need::Otherwise("rolling_circumference gives the wheel's size"),
            "Diameter on which the driven wheels roll.",
        ),
        twin(
            "rolling_circumference",
            Kind::Length(LENGTH),
            Need::Otherwise("wheel_diameter gives the wheel's size"),
            "Way that the driven wheels roll in one turn.",
        ),
        key(
            "final_drive_ratio",
            Kind::Number(RATIO),
            Need::Required,
            "Speed of the box's output shaft divided by that of the wheels; 1 when they turn together.",
        ),
    ],
    any_of: &["wheel_diameter", "rolling_circumference"],
    apart: &[("wheel_diameter", "rolling_circumference")],
    with: &[],
    ordered: &[],
};

/// Most speeds that a law may give: more is no gearbox, and the exact sums grow
/// with the cube of it.
pub(super) const MOST_SPACED: usize = 32;

/// The second factor of the progressive law when the file does not say.
pub(super) const USUAL_FACTOR: Decimal = Decimal::from_millionths(1_100_000);

static SPACING: Shape = Shape {
    keys: &[
        key(
            "law",
            Kind::Word(&[
                "geometric",
                "progressive",
                "arithmetic",
                "harmonic",
                "preferred",
            ]),
            Need::Required,
            "\"geometric\": every step the same. \"progressive\": each step smaller than the one before by the same factor. \"arithmetic\": ratios equally far apart. \"harmonic\": output speeds equally far apart. \"preferred\": successive members of a series of preferred numbers (ISO 3, rounded).",
        ),
        key(
            "first",
            Kind::Number(RATIO),
            Need::Required,
            "Ratio of the lowest speed, the largest. The preferred law starts at the first member that does not exceed it.",
        ),
        key(
            "last",
            Kind::Number(RATIO),
            Need::Required,
            "Ratio of the highest speed, the smallest. The preferred law ends at the last member that is not below it.",
        ),
        key(
            "count",
            Kind::Whole {
                least: 2,
                most: MOST_SPACED,
            },
            Need::Otherwise("with the preferred law, as many as there are members; else a fault"),
            "How many speeds.",
        ),
        key(
            "factor",
            Kind::Number(Range::closed(
                Decimal::from_millionths(500_000),
                Decimal::whole(2),
            )),
            Need::Otherwise("1.1 with the progressive law"),
            "By what factor each step of the progressive law is smaller than the one before; 1 is the geometric law.",
        ),
        key(
            "series",
            Kind::Word(&["R10", "R20", "R20/3", "R40"]),
            Need::Otherwise("\"R20\" with the preferred law"),
            "Which preferred numbers: R10, R20, R40, or R20/3, every third of R20 counted from the first that is taken.",
        ),
        key(
            "direct",
            Kind::Flag,
            Need::Default("false"),
            "Whether the speed whose ratio is exactly 1, which must be there, is direct instead of geared.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("last", "first")],
};
