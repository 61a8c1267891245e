//! The part of the table about the shafts' distance, where it is not a single
//! number: a range to try, or what was measured.

use super::keys::{Kind, Need, Shape};
use super::table::{LENGTH, LENGTH_OR_NONE, key, twin};

pub(super) static STEPS: Shape = Shape {
    keys: &[
        key(
            "from",
            Kind::Length(LENGTH),
            Need::Required,
            "The first distance.",
        ),
        key(
            "to",
            Kind::Length(LENGTH),
            Need::Required,
            "No distance exceeds this.",
        ),
        key(
            "step",
            Kind::Length(LENGTH),
            Need::Required,
            "From each distance to the next.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("from", "to")],
};

pub(super) static MEASURED: Shape = Shape {
    keys: &[
        twin(
            "over_pins",
            Kind::Length(LENGTH),
            Need::Required,
            "What was measured outside, over two pins that fit the bores.",
        ),
        twin(
            "pins",
            Kind::Row(&[
                ("one", Kind::Length(LENGTH)),
                ("other", Kind::Length(LENGTH)),
            ]),
            Need::Required,
            "Diameters of the two pins.",
        ),
        twin(
            "measured_to",
            Kind::Length(LENGTH_OR_NONE),
            Need::Required,
            "By how much the distance may be larger or smaller than measured, all told.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};
