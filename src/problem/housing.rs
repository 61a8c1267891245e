//! The keys that say what the gears sit on and in: shafts, the idler's pin, the
//! layout along the shafts.

use super::keys::{Key, Kind, Need, Range, Shape};
use super::service::above_none;
use super::table::{LENGTH, LENGTH_OR_NONE, MOST_ENTRIES, key, twin};
use crate::base::Decimal;

/// A place may lie on either side of the datum.
const PLACE: Kind = Kind::Length(Range::closed(
    Decimal::whole(-10_000),
    Decimal::whole(10_000),
));

pub(super) const fn shape(keys: &'static [Key]) -> Shape {
    Shape {
        keys,
        any_of: &[],
        apart: &[],
        with: &[],
        ordered: &[],
    }
}

pub(super) const INPUT_TURNS: Key = key(
    "input_turns",
    Kind::Word(&["clockwise", "anticlockwise"]),
    Need::Default("\"clockwise\""),
    "Which way the input shaft turns, seen from the input end.",
);

pub(super) const SHAFTS_KEY: Key = key(
    "shafts",
    Kind::Fields(&SHAFTS),
    Need::Otherwise("sizes follow from bores and duty"),
    "Sizes of shafts and bearings, where they are not to follow from bores or from the torque.",
);

static SHAFTS: Shape = shape(&[
    key(
        "input",
        Kind::Fields(&SHAFT),
        Need::Optional,
        "The input shaft.",
    ),
    key(
        "layshaft",
        Kind::Fields(&SHAFT),
        Need::Optional,
        "The layshaft of an in-line box.",
    ),
    key(
        "main",
        Kind::Fields(&SHAFT),
        Need::Optional,
        "The main shaft of an in-line box.",
    ),
    key(
        "output",
        Kind::Fields(&SHAFT),
        Need::Optional,
        "The output shaft of an offset box.",
    ),
    key(
        "spigot",
        Kind::Fields(&SPIGOT),
        Need::Optional,
        "The end of the main shaft that runs in the input gear.",
    ),
]);

static SHAFT: Shape = shape(&[
    twin(
        "diameter",
        Kind::Length(LENGTH),
        Need::Otherwise("the bore of its gears, else what the torque needs"),
        "Diameter under the gears.",
    ),
    twin(
        "bearing_bore",
        Kind::Length(LENGTH),
        Need::Otherwise("the largest standard bore that the shaft fills"),
        "Diameter of its bearing seats.",
    ),
    twin(
        "bearing_outside",
        Kind::Length(LENGTH),
        Need::Otherwise("that of a light ball bearing of that bore"),
        "Diameter of the bearing bores in the walls.",
    ),
    twin(
        "bearing_width",
        Kind::Length(LENGTH),
        Need::Otherwise("that of a light ball bearing of that bore"),
        "Width of its bearings.",
    ),
    key(
        "dynamic_rating_n",
        above_none(10_000_000),
        Need::Otherwise("that of a light ball bearing, roughly, where the bearing is one"),
        "Dynamic load rating of its bearings, N, as the maker gives it.",
    ),
    key(
        "static_rating_n",
        above_none(10_000_000),
        Need::Otherwise("that of a light ball bearing, roughly, where the bearing is one"),
        "Static load rating of its bearings, N, as the maker gives it.",
    ),
]);

static SPIGOT: Shape = shape(&[
    twin(
        "diameter",
        Kind::Length(LENGTH),
        Need::Otherwise("the largest standard size up to 0.6 of the main shaft"),
        "Diameter of the spigot.",
    ),
    key(
        "kind",
        Kind::Word(&["bush", "needle"]),
        Need::Default("\"bush\""),
        "What it runs in: a plain bush or needle rollers.",
    ),
    twin(
        "wall",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("1.5"),
        "Thickness of the bush, or of rollers and cage.",
    ),
]);

pub(super) const IDLER_KEY: Key = key(
    "idler",
    Kind::Fields(&IDLER),
    Need::Optional,
    "The pin of the reverse idler and the room it needs; given, solve keeps only sets whose idler has a clear place.",
);

static IDLER: Shape = shape(&[
    twin(
        "pin",
        Kind::Length(LENGTH),
        Need::Default("6"),
        "Diameter of the pin.",
    ),
    twin(
        "bush",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0"),
        "Wall of a bush between pin and idler.",
    ),
    key(
        "held_in",
        Kind::Word(&["output wall", "input wall", "both walls"]),
        Need::Default("\"output wall\""),
        "Which wall holds the pin: a stub in one of them, or a pin through both.",
    ),
    twin(
        "gap",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0.5"),
        "Least gap between idler or pin and anything that they do not touch.",
    ),
    twin(
        "min_wall",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("2"),
        "Least metal between the pin's hole and a bearing bore in the same wall.",
    ),
    key(
        "side",
        Kind::Word(&["either", "left", "right"]),
        Need::Default("\"either\""),
        "On which side of the shafts it may sit, seen from the input end.",
    ),
    key(
        "case",
        Kind::Fields(&CASE),
        Need::Optional,
        "How far the inside of the case reaches.",
    ),
    key(
        "clear_place",
        Kind::Flag,
        Need::Default("true"),
        "Whether sets without a clear place for the idler are left out.",
    ),
]);

static CASE: Shape = shape(&[
    twin(
        "left",
        Kind::Length(LENGTH),
        Need::Optional,
        "From the line of the shafts to the inside of the case on the left, seen from the input end.",
    ),
    twin(
        "right",
        Kind::Length(LENGTH),
        Need::Optional,
        "From the line of the shafts to the inside of the case on the right.",
    ),
]);

pub(super) const REVERSE_FORM: Key = key(
    "form",
    Kind::Word(&["constant-mesh", "sliding-idler", "shared-driver"]),
    Need::Default("\"constant-mesh\""),
    "How reverse is engaged: idler always in mesh and a dog on the driven gear; an idler that slides into mesh; or constant mesh where the driving gear of the slowest geared speed drives reverse too and no other is cut for it.",
);

pub(super) const LAYOUT_KEY: Key = key(
    "layout",
    Kind::Fields(&LAYOUT),
    Need::Default("{}"),
    "How gears, sleeves and walls stand along the shafts.",
);

static LAYOUT: Shape = shape(&[
    key(
        "order",
        Kind::Word(&["shortest", "least-bending"]),
        Need::Default("\"shortest\""),
        "Which order of gears and sleeves is best: the shortest box or the least bending of the shafts.",
    ),
    key(
        "forks",
        Kind::List {
            of: &Kind::List {
                of: &Kind::Text { longest: 40 },
                least: 1,
                most: MOST_ENTRIES,
            },
            least: 0,
            most: MOST_ENTRIES,
        },
        Need::Otherwise("neighbouring speeds share a sleeve, reverse has its own"),
        "Which speeds share a sleeve, by name, two at most on each; reverse is called \"reverse\".",
    ),
    key(
        "layshaft",
        Kind::Word(&["auto", "one-piece", "keyed", "bonded", "pressed"]),
        Need::Default("\"auto\""),
        "How layshaft gears are held: as many as can be cut in one piece, all in one piece, keyed, bonded, or pressed on.",
    ),
    twin(
        "press_interference",
        Kind::Length(LENGTH),
        Need::Otherwise("a thousandth of the shaft"),
        "By how much the shaft is larger than the holes of gears pressed on it, on the diameter.",
    ),
    key(
        "layshaft_hand",
        Kind::Word(&["right", "left"]),
        Need::Default("\"right\""),
        "Hand of the helix of the layshaft gears; of the input gears in an offset box.",
    ),
    key(
        "case",
        Kind::Word(&["plates", "split", "closed"]),
        Need::Default("\"plates\""),
        "What holds the shafts: two end plates, a case parted along the shafts, or a closed case with an open top.",
    ),
    key(
        "case_material",
        Kind::Word(&["aluminium", "cast iron", "steel"]),
        Need::Default("\"aluminium\""),
        "What the case is made of; it grows with heat.",
    ),
    twin(
        "wall",
        Kind::Length(LENGTH),
        Need::Default("10"),
        "Thickness of the walls that hold the bearings.",
    ),
    twin(
        "dog_ring",
        Kind::Length(LENGTH),
        Need::Default("3"),
        "Length of the dog ring beside a free gear.",
    ),
    twin(
        "dog_overlap",
        Kind::Length(LENGTH),
        Need::Default("2"),
        "How deep dogs engage.",
    ),
    twin(
        "dog_wall",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("2"),
        "Least thickness of a dog ring over the hole of its gear.",
    ),
    twin(
        "dog_ring_outside",
        Kind::Length(LENGTH),
        Need::Otherwise("the largest that stays under the roots of the gears it serves"),
        "Outside diameter of the dog rings.",
    ),
    key(
        "dogs",
        Kind::Fields(&DOGS),
        Need::Default("{}"),
        "The dogs round each ring, and the sleeve that goes over them.",
    ),
    twin(
        "neutral_gap",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0.5"),
        "Gap between sleeve and dog ring on either side in neutral.",
    ),
    twin(
        "sleeve_width",
        Kind::Length(LENGTH),
        Need::Default("10"),
        "Width of a dog sleeve.",
    ),
    twin(
        "sleeve_outside",
        Kind::Length(LENGTH),
        Need::Otherwise("that of the dog ring and 6 mm"),
        "Outside diameter of a dog sleeve.",
    ),
    twin(
        "washer",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("1"),
        "Thickness of a thrust washer between turning faces.",
    ),
    twin(
        "circlip",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0"),
        "Thickness of the circlip behind each thrust washer; 0 where shoulders take the thrust.",
    ),
    twin(
        "end_float",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0.2"),
        "End float of a free gear.",
    ),
    twin(
        "cutter_radius",
        Kind::Length(LENGTH),
        Need::Default("25"),
        "Outside radius of the disc cutter that cuts the gears; it runs out beyond the teeth.",
    ),
    twin(
        "gap",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("0.5"),
        "Least gap between parts that do not touch.",
    ),
    twin(
        "input_span",
        Kind::Length(LENGTH),
        Need::Otherwise("three times its diameter"),
        "Distance between the two bearings of the input shaft of an in-line box, the inner one in the wall.",
    ),
    twin(
        "datum",
        Kind::Fields(&DATUM),
        Need::Optional,
        "Where the main shaft (input shaft of an offset box) lies from the point that bores are measured from, seen from the input end.",
    ),
    twin(
        "check_pins",
        Kind::Fields(&CHECK_PINS),
        Need::Optional,
        "Diameters of the pins that centres are checked with, by shaft.",
    ),
]);

static DOGS: Shape = shape(&[
    key(
        "count",
        Kind::Whole {
            least: 2,
            most: 200,
        },
        Need::Default("6"),
        "How many stand round a ring.",
    ),
    twin(
        "height",
        Kind::Length(LENGTH),
        Need::Default("2"),
        "How far a dog stands out of its ring.",
    ),
    twin(
        "width",
        Kind::Length(LENGTH),
        Need::Otherwise("half of what a pocket's play leaves of the ring"),
        "Width of a dog along the ring, at half its height.",
    ),
    twin(
        "play",
        Kind::Length(LENGTH_OR_NONE),
        Need::Default("1"),
        "By how much a pocket is wider than the dog in it.",
    ),
    key(
        "back_taper_deg",
        Kind::Number(Range::closed(Decimal::whole(0), Decimal::whole(20))),
        Need::Otherwise("3"),
        "Angle of a dog's flanks to its axis: under torque it draws the sleeve in.",
    ),
    key(
        "detent_n",
        Kind::Number(Range::closed(Decimal::whole(0), Decimal::whole(10_000))),
        Need::Otherwise("40"),
        "Force along the shift rod that the detent holds, N.",
    ),
]);

static DATUM: Shape = shape(&[
    key("x", PLACE, Need::Default("0"), "To the right."),
    key("y", PLACE, Need::Default("0"), "Up."),
]);

static CHECK_PINS: Shape = shape(&[
    key(
        "input",
        Kind::Length(LENGTH),
        Need::Optional,
        "In the input shaft's bore.",
    ),
    key(
        "layshaft",
        Kind::Length(LENGTH),
        Need::Optional,
        "In the layshaft's bore.",
    ),
    key(
        "main",
        Kind::Length(LENGTH),
        Need::Optional,
        "In the main shaft's bore.",
    ),
    key(
        "output",
        Kind::Length(LENGTH),
        Need::Optional,
        "In the output shaft's bore.",
    ),
    key(
        "idler",
        Kind::Length(LENGTH),
        Need::Optional,
        "In the idler pin's hole.",
    ),
]);
