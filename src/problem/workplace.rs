//! The keys that say what a workshop has and can buy: bars, rack, cutters,
//! dividing head; and what else is to be cut from the same bars.

use super::keys::{Key, Kind, Need, Range, Shape};
use super::making::PINS;
use super::table::{LEAST_TEETH, LENGTH, MODULE, MOST_TEETH, PITCH, key, twin};
use crate::base::Decimal;

/// Most bars, pieces on the rack, cutters, plates or parts.
const MOST: usize = 256;
/// Most alike of one piece or part.
const MOST_ALIKE: usize = 1000;

const PRICES: Range = Range::closed(Decimal::whole(0), Decimal::whole(1_000_000));
const DENSITIES: Range = Range {
    low: Decimal::whole(0),
    above: true,
    high: Decimal::whole(30_000),
    below: false,
};
/// What is left on pieces, mm.
const LEFT: Range = Range::closed(Decimal::whole(0), Decimal::whole(100));
const NAME: Kind = Kind::Text { longest: 40 };
const ALIKE: Kind = Kind::Whole {
    least: 1,
    most: MOST_ALIKE,
};
const HOLES: Kind = Kind::Whole {
    least: 2,
    most: 1000,
};
const TEETH: Kind = Kind::Teeth {
    least: LEAST_TEETH,
    most: MOST_TEETH,
};

pub(super) const WORKSHOP_KEY: Key = key(
    "workshop",
    Kind::Fields(&WORKSHOP),
    Need::Otherwise("a usual one is taken, and results say so"),
    "What the workshop has and can buy; --workshop FILE takes the place of it.",
);
pub(super) const PARTS_KEY: Key = key(
    "parts",
    Kind::List {
        of: &A_PART,
        least: 0,
        most: MOST,
    },
    Need::Optional,
    "Further parts to be cut from the same bars.",
);

/// The workshop: an object of the problem file, or a file of its own.
pub(super) static WORKSHOP: Shape = Shape {
    keys: &[
        key(
            "currency",
            Kind::Text { longest: 8 },
            Need::Optional,
            "The word behind prices.",
        ),
        key(
            "bars",
            Kind::List {
                of: &Kind::Fields(&BAR),
                least: 0,
                most: MOST,
            },
            Need::Otherwise("the preferred sizes of round steel bar, 250 mm long"),
            "Bars that can be bought, as many as wanted of each; an empty list where nothing is to be bought.",
        ),
        key(
            "price_per_kg",
            Kind::Number(PRICES),
            Need::Default("5"),
            "Price of a kilogram of bar, where a bar has none of its own.",
        ),
        key(
            "rack",
            Kind::List {
                of: &Kind::Fields(&PIECE),
                least: 0,
                most: MOST,
            },
            Need::Optional,
            "Bars and offcuts that are owned.",
        ),
        key(
            "gear_material",
            NAME,
            Need::Otherwise("gears may be made of any material"),
            "What gears are made of, as bars and rack name it.",
        ),
        twin(
            "kerf",
            Kind::Length(LEFT),
            Need::Default("2"),
            "Width of the cut between two pieces.",
        ),
        twin(
            "grip",
            Kind::Length(LEFT),
            Need::Default("0"),
            "End of a bar that cannot be cut because it is held there.",
        ),
        twin(
            "facing",
            Kind::Length(LEFT),
            Need::Default("1"),
            "To be faced off each end of a piece.",
        ),
        twin(
            "turning",
            Kind::Length(LEFT),
            Need::Default("1"),
            "To be turned off the diameter of a piece.",
        ),
        key(
            "dog_rings",
            Kind::Word(&["with-gear", "separate"]),
            Need::Default("\"with-gear\""),
            "Whether a dog ring is of one piece with its gear, or made apart.",
        ),
        key(
            "cutters",
            Kind::List {
                of: &Kind::Fields(&CUTTER),
                least: 0,
                most: MOST,
            },
            Need::Optional,
            "Cutters that are owned, and those that have a price of their own.",
        ),
        key(
            "form_cutter_price",
            Kind::Number(PRICES),
            Need::Otherwise("20"),
            "Price of a form cutter that is not in the list.",
        ),
        key(
            "own_cutter_price",
            Kind::Number(PRICES),
            Need::Otherwise("2"),
            "What a home-made form cutter costs that is not in the list.",
        ),
        key(
            "tool_price",
            Kind::Number(PRICES),
            Need::Otherwise("60"),
            "Price of a hob or rack tool that is not in the list.",
        ),
        key(
            "dividing_head",
            Kind::Fields(&HEAD),
            Need::Otherwise("a 40:1 head with three plates"),
            "What there is to divide with.",
        ),
        twin(
            "largest_turned",
            Kind::Length(LENGTH),
            Need::Optional,
            "Largest diameter that the lathe turns.",
        ),
        key(
            "pins_mm",
            Kind::List {
                of: &Kind::Number(PINS),
                least: 1,
                most: 64,
            },
            Need::Optional,
            "Diameters of the pins at hand, mm, where inspection.pins_mm gives none.",
        ),
        key(
            "only_dividable",
            Kind::Flag,
            Need::Default("false"),
            "Whether only tooth counts may be used that the head divides directly, or by turns and holes of one circle. Gears that teeth gives as cut already are free of it.",
        ),
        key(
            "only_owned_cutters",
            Kind::Flag,
            Need::Default("false"),
            "Whether only gears may be used whose cutter is owned. Gears that teeth gives as cut already are free of it.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

const DIAMETER: Key = twin(
    "diameter",
    Kind::Length(LENGTH),
    Need::Required,
    "Diameter.",
);
const LONG: Key = twin("length", Kind::Length(LENGTH), Need::Required, "Length.");
const MATERIAL: Key = key(
    "material",
    NAME,
    Need::Default("\"steel\""),
    "What it is made of; a word of your own.",
);
const DENSITY: Key = key(
    "density_kg_m3",
    Kind::Number(DENSITIES),
    Need::Otherwise("the name of the material says it, else that of steel"),
    "Density of the material, kg/m³.",
);
const COUNT: Key = key("count", ALIKE, Need::Default("1"), "How many there are.");

static BAR: Shape = Shape {
    keys: &[
        DIAMETER,
        LONG,
        MATERIAL,
        key(
            "price",
            Kind::Number(PRICES),
            Need::Otherwise("its weight and price_per_kg give it"),
            "Price of one.",
        ),
        DENSITY,
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static PIECE: Shape = Shape {
    keys: &[DIAMETER, LONG, MATERIAL, COUNT, DENSITY],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static A_PART: Kind = Kind::Fields(&PART);
static PART: Shape = Shape {
    keys: &[
        key("name", NAME, Need::Required, "What it is called."),
        DIAMETER,
        LONG,
        key(
            "material",
            NAME,
            Need::Otherwise("any material"),
            "What it is made of, as bars and rack name it.",
        ),
        COUNT,
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

/// The words that say which cutters of a module are meant.
const WHICH: &[&str] = &["numbers", "teeth", "set", "own_teeth", "tool"];

static CUTTER: Shape = Shape {
    keys: &[
        key(
            "module_mm",
            Kind::Number(MODULE),
            Need::Otherwise("diametral_pitch gives it"),
            "Module of the cutters, mm.",
        ),
        key(
            "diametral_pitch",
            Kind::Number(PITCH),
            Need::Otherwise("module_mm gives it"),
            "Diametral pitch of the cutters, in place of module_mm.",
        ),
        key(
            "numbers",
            Kind::List {
                of: &Kind::Whole { least: 1, most: 8 },
                least: 1,
                most: 8,
            },
            Need::Optional,
            "Form cutters by number: 8 cuts the fewest teeth (12 to 13), 1 the most (135 to a rack).",
        ),
        key(
            "teeth",
            Kind::List {
                of: &TEETH,
                least: 1,
                most: 2,
            },
            Need::Optional,
            "A form cutter by the fewest and most teeth engraved on it; [135] for the one that goes up to a rack.",
        ),
        key(
            "set",
            Kind::Flag,
            Need::Optional,
            "true: the eight form cutters together.",
        ),
        key(
            "own_teeth",
            Kind::List {
                of: &TEETH,
                least: 1,
                most: MOST,
            },
            Need::Optional,
            "Home-made form cutters, by the tooth count that each was made for.",
        ),
        key(
            "tool",
            Kind::Flag,
            Need::Optional,
            "true: the hob or rack tool.",
        ),
        key(
            "owned",
            Kind::Flag,
            Need::Optional,
            "true: in the drawer. Else give price.",
        ),
        key(
            "price",
            Kind::Number(PRICES),
            Need::Optional,
            "Price of each; of a set, of all eight together.",
        ),
    ],
    any_of: WHICH,
    apart: &[
        ("module_mm", "diametral_pitch"),
        ("numbers", "teeth"),
        ("numbers", "set"),
        ("numbers", "own_teeth"),
        ("numbers", "tool"),
        ("teeth", "set"),
        ("teeth", "own_teeth"),
        ("teeth", "tool"),
        ("set", "own_teeth"),
        ("set", "tool"),
        ("own_teeth", "tool"),
        ("owned", "price"),
    ],
    with: &[],
    ordered: &[],
};

static HEAD: Shape = Shape {
    keys: &[
        key(
            "worm",
            Kind::Whole {
                least: 1,
                most: 1000,
            },
            Need::Default("40"),
            "Turns of the crank for one turn of the work.",
        ),
        key(
            "plates",
            Kind::List {
                of: &CIRCLES,
                least: 0,
                most: MOST,
            },
            Need::Default("[[15,16,17,18,19,20], [21,23,27,29,31,33], [37,39,41,43,47,49]]"),
            "The plates, each a list of how many holes its circles have.",
        ),
        key(
            "direct",
            Kind::List {
                of: &HOLES,
                least: 0,
                most: MOST,
            },
            Need::Default("[24]"),
            "Holes, or notches, of the plates that turn with the work itself.",
        ),
        key(
            "change_gears",
            Kind::List {
                of: &TEETH,
                least: 0,
                most: MOST,
            },
            Need::Default("[]"),
            "Teeth of the change gears for differential dividing, as many times as there are.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static CIRCLES: Kind = Kind::List {
    of: &HOLES,
    least: 1,
    most: MOST,
};
