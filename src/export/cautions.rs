//! What a person must have read beside the figures. Every screen and file takes
//! it from here.

use crate::problem::Problem;

/// Where nothing says what the box must carry, or nothing can.
pub const UNRATED: &str = "Nothing here is rated for strength.";

/// Where a duty is given.
const ESTIMATED: &str = "Figures of strength are estimates for the duty in the file, by the stated \
     formulas and factors, never a proof: nobody has measured your steel.";

const GUARD: &str = "Guard every turning gear.";
const NEUTRAL: &str =
    "In neutral the box holds nothing: a vehicle needs a brake that does not go through it.";
const LICENSED: &str = "Not for lifting, road vehicles or anything that can hurt someone without a \
     licensed engineer's check; local codes come first.";

/// What printed gears are not for.
pub const PRINTED_GEARS: &str =
    "Printed trial gears are for turning by hand only: no motor, no drill, no load.";

/// What a person must know before the box first turns, beside [`cautions`].
pub const TURNING_CAUTIONS: [&str; 6] = [
    PRINTED_GEARS,
    "Draw and fit the cover before the first turn under power; fingers stay out of turning gears.",
    "Two speeds at once lock the shafts and break what is weakest: fit the interlock before power, \
     and try it by hand.",
    "Change speed, oil, feel and measure only while everything stands and cannot start.",
    "When a dog jumps out the box holds nothing: brake what it drives by a brake of its own.",
    "A walk-behind machine in reverse can run over its user: a lever that lets go when the hand \
     does, and a slow reverse.",
];

/// The foot of a page: strength first.
pub fn cautions(problem: &Problem) -> String {
    let strength = if problem.duty().is_some() {
        ESTIMATED
    } else {
        UNRATED
    };
    [strength, GUARD, NEUTRAL, LICENSED].join(" ")
}

/// All that belongs beside a rating of the whole box.
pub fn strength_cautions(problem: &Problem) -> Vec<&'static str> {
    let mut all = vec![
        if problem.duty().is_some() {
            ESTIMATED
        } else {
            UNRATED
        },
        LICENSED,
        "A part that is not rated is not thereby safe. Bonded joints weaken with heat. Printed \
         trial gears are for turning by hand.",
        "Guard every turning gear; draw the cover before the case. When a dog jumps out, and in \
         neutral, the box holds nothing: a vehicle needs a brake that does not go through it.",
        "Two speeds at once lock the shafts: fit the interlock before power. Change the speed of \
         a spindle only at standstill.",
    ];
    if problem.reverse().is_some() {
        all.push(
            "A machine that one walks behind can run over its user in reverse: a dead-man clutch, \
             and reverse slow.",
        );
    }
    all
}
