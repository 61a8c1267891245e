//! The keys that say how gears are made and what is asked of their teeth: rack,
//! profile shift, limits, bores, least teeth of a role.

use super::keys::{Key, Kind, Need, Range, Shape};
use super::table::{BACKLASH, LEAST_TEETH, LENGTH, LENGTH_OR_NONE, MOST_TEETH, key, twin};
use crate::base::Decimal;

const fn d(millionths: i64) -> Decimal {
    Decimal::from_millionths(millionths)
}

const ADDENDA: Range = Range::closed(d(300_000), d(1_500_000));
const DEDENDA: Range = Range::closed(d(300_000), Decimal::whole(2));
const FILLETS: Range = Range::closed(Decimal::whole(0), Decimal::whole(2));
const SHIFTS: Range = Range::closed(Decimal::whole(-2), Decimal::whole(3));
const TIPS: Range = Range::closed(Decimal::whole(0), Decimal::whole(2));
const RATIOS: Range = Range::closed(Decimal::whole(0), Decimal::whole(3));
pub(super) const PINS: Range = Range::closed(d(10_000), Decimal::whole(1000));
const TEETH: Kind = Kind::Teeth {
    least: LEAST_TEETH,
    most: MOST_TEETH,
};

pub(super) const ADDENDUM: Key = key(
    "addendum",
    Kind::Number(ADDENDA),
    Need::Default("1"),
    "Height of the tooth above the pitch circle, modules; 0.8 is a stub tooth.",
);
pub(super) const DEDENDUM: Key = key(
    "dedendum",
    Kind::Number(DEDENDA),
    Need::Default("1.25"),
    "Depth of the tooth below the pitch circle, modules.",
);
pub(super) const FILLET: Key = key(
    "fillet",
    Kind::Number(FILLETS),
    Need::Otherwise("0.38, or as much as the rack has room for"),
    "Radius of the rounded tip of the cutting rack, modules.",
);
pub(super) const PROFILE_SHIFT: Key = key(
    "profile_shift",
    Kind::Fields(&SHIFT),
    Need::Optional,
    "Profile shift x that a gear may have, modules; it closes every mesh at the centre distance and replaces centre_tolerance and backlash.",
);
pub(super) const LEAST_DRIVER: Key = key(
    "min_driver_teeth",
    TEETH,
    Need::Otherwise("gears.min_teeth"),
    "Fewest teeth on the driving gear of this role, where that is more than gears.min_teeth.",
);
pub(super) const LEAST_DRIVEN: Key = key(
    "min_driven_teeth",
    TEETH,
    Need::Otherwise("gears.min_teeth"),
    "Fewest teeth on the driven gear of this role, where that is more than gears.min_teeth.",
);
pub(super) const LIMITS_KEY: Key = key(
    "limits",
    Kind::Fields(&LIMITS),
    Need::Optional,
    "What is asked of every tooth. Gears that break a limit are refused where this block or gears.profile_shift is given, else marked.",
);
pub(super) const BORES_KEY: Key = key(
    "bores",
    Kind::Either(&Kind::Word(&["auto"]), &BORES_WRITTEN),
    Need::Optional,
    "Holes in the gears, by the shaft they sit on: they bound the wall under the teeth. \"auto\": what shafts and duty give.",
);

pub(super) const INSPECTION_KEY: Key = key(
    "inspection",
    Kind::Fields(&INSPECTION),
    Need::Optional,
    "What there is to measure gears with, and the backlash to aim at.",
);

static INSPECTION: Shape = Shape {
    keys: &[
        key(
            "pins_mm",
            Kind::List {
                of: &Kind::Number(PINS),
                least: 1,
                most: 64,
            },
            Need::Otherwise("a pin of a standard size for each gear"),
            "Diameters of the pins at hand, mm.",
        ),
        twin(
            "normal_backlash",
            Kind::Fields(&BACKLASH),
            Need::Otherwise("gears.backlash, else what is usual for the centres and the module"),
            "Backlash between the flanks to aim at when cutting.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static SHIFT: Shape = Shape {
    keys: &[
        key("min", Kind::Number(SHIFTS), Need::Required, "Least shift."),
        key(
            "max",
            Kind::Number(SHIFTS),
            Need::Required,
            "Greatest shift.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[("min", "max")],
};

static LIMITS: Shape = Shape {
    keys: &[
        key(
            "allow_undercut",
            Kind::Flag,
            Need::Default("false"),
            "Whether roots may be undercut.",
        ),
        key(
            "allow_interference",
            Kind::Flag,
            Need::Default("false"),
            "Whether a tip may run below the working flank of its mate.",
        ),
        key(
            "allow_binding",
            Kind::Flag,
            Need::Default("false"),
            "Whether teeth may need to be thinned by more than gears.max_thinning to go in.",
        ),
        key(
            "extra_tip_shortening",
            Kind::Flag,
            Need::Default("false"),
            "Whether blanks may be turned down until their tips keep clear of the mate's root.",
        ),
        key(
            "min_tip_thickness",
            Kind::Number(TIPS),
            Need::Otherwise("0.2; 0.4 where any gear is case-hardened"),
            "Least thickness of a tooth at its tip, modules.",
        ),
        key(
            "min_contact_ratio",
            Kind::Number(RATIOS),
            Need::Default("1.2"),
            "Least transverse contact ratio.",
        ),
        key(
            "min_tip_clearance",
            Kind::Number(TIPS),
            Need::Otherwise("0.15, or six tenths of the rack's clearance if that is less"),
            "Least gap between a tip and the mate's root, modules.",
        ),
        twin(
            "min_wall",
            Kind::Length(LENGTH_OR_NONE),
            Need::Default("1.5"),
            "Least metal between the root of the teeth and the hole of the gear, where bores are given.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static BORES_WRITTEN: [&Shape; 1] = [&BORES];

static BORES: Shape = Shape {
    keys: &[
        key(
            "auto",
            Kind::Flag,
            Need::Default("false"),
            "Whether holes that are not given follow from shafts and duty.",
        ),
        key(
            "input",
            Kind::Fields(&BORE),
            Need::Optional,
            "Gears on the input shaft.",
        ),
        key(
            "layshaft",
            Kind::Fields(&BORE),
            Need::Optional,
            "Gears on the layshaft of an in-line box.",
        ),
        key(
            "main",
            Kind::Fields(&BORE),
            Need::Optional,
            "Gears on the main shaft of an in-line box.",
        ),
        key(
            "output",
            Kind::Fields(&BORE),
            Need::Optional,
            "Gears on the output shaft of an offset box.",
        ),
        key(
            "idler",
            Kind::Fields(&BORE),
            Need::Optional,
            "The idler of reverse, on its pin.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};

static BORE: Shape = Shape {
    keys: &[
        twin(
            "bore",
            Kind::Length(LENGTH),
            Need::Required,
            "Diameter of the shaft or pin in the gear.",
        ),
        twin(
            "bush",
            Kind::Length(LENGTH_OR_NONE),
            Need::Default("0"),
            "Wall of a bush between shaft and gear.",
        ),
        twin(
            "keyway",
            Kind::Length(LENGTH_OR_NONE),
            Need::Default("0"),
            "Depth of a keyway or spline beyond the bore, in the gear.",
        ),
    ],
    any_of: &[],
    apart: &[],
    with: &[],
    ordered: &[],
};
