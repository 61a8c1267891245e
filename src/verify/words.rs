//! Breaches in plain words.

use super::breach::{Breach, Gear, Role};
use crate::base::{plain, signed};
use std::fmt;

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Head => f.write_str("head"),
            Self::Speed(name) => write!(f, "speed \"{name}\""),
            Self::Reverse => f.write_str("reverse"),
        }
    }
}

impl fmt::Display for Gear {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Driver => "driver",
            Self::Idler => "idler",
            Self::Driven => "driven gear",
        })
    }
}

impl fmt::Display for Breach {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::CentreDistance { centres } => {
                write!(
                    f,
                    "the centre distance {centres} mm is not one of the problem's"
                )
            }
            Self::HeadMissing => f.write_str("there is no head pair to drive the layshaft"),
            Self::HeadUnwanted => f.write_str("offset shafts have no head pair"),
            Self::PairCount { found, wanted } => {
                write!(f, "{found} pairs for {wanted} geared speeds")
            }
            Self::ReverseMissing => f.write_str("the reverse asked for has no gears"),
            Self::ReverseUnwanted => {
                f.write_str("there are reverse gears, but no reverse is asked for")
            }
            Self::Module {
                role,
                place,
                listed,
            } => {
                write!(
                    f,
                    "{role}: module number {} of a list of {listed}",
                    place + 1
                )
            }
            Self::Teeth {
                role,
                gear,
                teeth,
                min,
                max,
            } => {
                write!(
                    f,
                    "{role}: {gear} with {teeth} teeth, outside {min} to {max}"
                )
            }
            Self::Dividing { role, gear, teeth } => write!(
                f,
                "{role}: {gear} with {teeth} teeth, which the head does not divide simply"
            ),
            Self::Weak {
                role,
                safety,
                least,
                flank,
            } => {
                let spot = if *flank { "flanks" } else { "roots" };
                let (safety, least) = (plain(*safety, 3), plain(*least, 3));
                write!(
                    f,
                    "{role}: safety {safety} of the {spot}, {least} is asked for"
                )
            }
            Self::CutterNotOwned { role, gear, teeth } => {
                write!(
                    f,
                    "{role}: {gear} with {teeth} teeth, whose cutter is not owned"
                )
            }
            Self::AsCut { role, found, cut } => {
                write!(f, "{role}: {found}, but {cut} is cut already")
            }
            Self::Figure { name, said, found } => {
                write!(
                    f,
                    "{name} is given as {said}, the tooth counts give {found}"
                )
            }
            Self::PinPasses {
                role,
                gear,
                short_mm,
            } => write!(
                f,
                "{role}: {gear} {} mm too near the idler's pin, which passes it",
                plain(*short_mm, 3)
            ),
            Self::FigureMissing { name } => write!(f, "{name}: given without gears, or missing"),
            _ => self.fmt_measured(f),
        }
    }
}

impl Breach {
    /// The breaches of a length or a ratio.
    fn fmt_measured(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Centres {
                role,
                standard_mm,
                centres,
                tolerance,
            } => {
                let off = signed(standard_mm - centres.mm(), 3);
                let needs = plain(*standard_mm, 3);
                write!(
                    f,
                    "{role}: the pair needs {needs} mm between the shafts, which lie at "
                )?;
                write!(f, "{centres} mm ({off} mm, {tolerance} mm allowed)")
            }
            Self::Backlash {
                role,
                backlash_mm,
                min,
                max,
                thinning,
            } => {
                match backlash_mm {
                    Some(backlash) => write!(f, "{role}: backlash {} mm", plain(*backlash, 3))?,
                    None => write!(f, "{role}: base circles overlap")?,
                }
                write!(
                    f,
                    ", {min} to {max} mm allowed with each gear thinned by up to {thinning} mm"
                )
            }
            Self::HeadRatio { ratio, min, max } => {
                write!(f, "head ratio {}", plain(*ratio, 4))?;
                min.map_or(Ok(()), |min| write!(f, ", at least {min} asked for"))?;
                max.map_or(Ok(()), |max| write!(f, ", at most {max} asked for"))
            }
            Self::Ratio {
                role,
                ratio,
                target,
                tolerance_percent,
            } => {
                let off = signed(100.0 * (ratio / target.to_f64() - 1.0), 3);
                write!(f, "{role}: ratio {}, ", plain(*ratio, 4))?;
                write!(f, "{target} ± {tolerance_percent} % asked for ({off} %)")
            }
            Self::SharedDriver {
                speed,
                teeth,
                module_mm,
                shared_teeth,
                shared_module_mm,
            } => {
                let [own, shared] = [module_mm, shared_module_mm].map(|mm| plain(*mm, 3));
                write!(
                    f,
                    "reverse: the driver has {teeth} teeth of module {own} mm, but the gear of \
                     speed \"{speed}\" that drives it has {shared_teeth} of module {shared} mm"
                )
            }
            Self::TipGap { gap_mm, clearance } => {
                let gap = plain(*gap_mm, 3);
                write!(
                    f,
                    "reverse: driver and driven gear leave {gap} mm, {clearance} mm asked for"
                )
            }
            Self::IdlerPlace {
                to_driver_mm,
                to_driven_mm,
                centres,
            } => {
                let (l, m) = (plain(*to_driver_mm, 3), plain(*to_driven_mm, 3));
                write!(
                    f,
                    "reverse: no place for an idler {l} mm from the driver and {m} mm "
                )?;
                write!(f, "from the driven gear, {centres} mm apart")
            }
            Self::IdlerRoom { short_mm } => write!(
                f,
                "reverse: no clear place for the idler, {} mm short",
                plain(*short_mm, 3)
            ),
            Self::Making {
                role,
                what,
                is,
                limit,
            } => write!(
                f,
                "{role}: {what} is {}, it should be {}",
                plain(*is, 6),
                plain(*limit, 6)
            ),
            _ => Ok(()),
        }
    }
}
