//! The flags of `gear`, checked.

use super::{Args, Thin};
use crate::base::Teeth;
use crate::cli::exit::Failure;
use crate::inspect::{Bounds, Tools};
use crate::involute::{GeometryFault, Rack, SplitLimits, Toothing};

/// Most teeth that the geometry is worked out for.
const MOST_TEETH: u16 = 1000;
/// Fewest.
const LEAST_TEETH: u16 = 3;

/// What is asked for.
#[derive(Clone, Debug)]
pub(super) struct Asked {
    pub(super) toothing: Toothing,
    pub(super) teeth: Vec<Teeth>,
    /// One for each gear, or none.
    pub(super) shifts: Vec<f64>,
    pub(super) centres_mm: Option<f64>,
    pub(super) limits: SplitLimits,
    pub(super) bounds: Bounds,
    pub(super) tools: Tools,
    /// Least and most normal backlash, mm.
    pub(super) backlash_mm: Option<(f64, f64)>,
    pub(super) by_depth: bool,
    pub(super) turn_down: bool,
}

impl Asked {
    pub(super) fn of(args: &Args) -> Result<Self, Failure> {
        let toothing = toothing(args)?;
        let teeth = teeth(&args.teeth)?;
        if !args.shift.is_empty() && args.shift.len() != teeth.len() {
            return Err(bad(
                "--shift",
                &format!("{} figures for {} gears", args.shift.len(), teeth.len()),
                "give one for each gear",
            ));
        }
        within("--shift-min", args.shift_min, (-2.0, 3.0))?;
        within("--shift-max", args.shift_max, (-2.0, 3.0))?;
        if args.shift_min > args.shift_max {
            return Err(bad(
                "--shift-min",
                "it exceeds --shift-max",
                "swap the two, or correct one",
            ));
        }
        if let (Some(_), [_]) = (args.centre_distance, &teeth[..]) {
            return Err(bad(
                "--centre-distance",
                "one gear alone has none",
                "give the teeth of the mate too: --teeth 25,55",
            ));
        }
        if let Some(centres) = args.centre_distance {
            within("--centre-distance", centres, (0.1, 10_000.0))?;
        }
        let bounds = Bounds {
            tip_thickness: within("--min-tip-thickness", args.min_tip_thickness, (0.0, 2.0))?,
            contact_ratio: within("--min-contact-ratio", args.min_contact_ratio, (0.0, 3.0))?,
            tip_clearance: None,
        };
        Ok(Self {
            toothing,
            teeth,
            shifts: args.shift.clone(),
            centres_mm: args.centre_distance,
            limits: SplitLimits {
                undercut_allowed: args.allow_undercut,
                interference_allowed: args.allow_interference,
                tip_thickness: bounds.tip_thickness,
                contact_ratio: bounds.contact_ratio,
                ..SplitLimits::within(args.shift_min, args.shift_max)
            },
            bounds,
            tools: tools(args)?,
            backlash_mm: backlash(&args.backlash)?,
            by_depth: args.thin == Thin::Depth,
            turn_down: args.extra_tip_shortening,
        })
    }
}

fn toothing(args: &Args) -> Result<Toothing, Failure> {
    let module = match (args.module, args.diametral_pitch) {
        (Some(module), _) => within("--module", module, (0.05, 100.0))?,
        (None, Some(pitch)) => 25.4 / within("--diametral-pitch", pitch, (0.25, 1000.0))?,
        (None, None) => {
            return Err(bad(
                "--module",
                "missing",
                "give --module in mm, or --diametral-pitch",
            ));
        }
    };
    within("--pressure-angle", args.pressure_angle, (10.0, 30.0))?;
    within("--helix", args.helix, (0.0, 45.0))?;
    let rack = Rack::new(
        args.pressure_angle,
        args.addendum,
        args.dedendum,
        args.fillet,
    );
    let rack = rack.map_err(|fault| Failure::BadInput(format!("the rack: {fault}")))?;
    Toothing::new(rack, module, args.helix.to_radians()).map_err(|fault| impossible(&fault))
}

fn teeth(counts: &[u16]) -> Result<Vec<Teeth>, Failure> {
    if counts.len() > 3 {
        return Err(bad(
            "--teeth",
            &format!("{} gears", counts.len()),
            "give one gear, a pair, or reverse's driver, idler and driven gear",
        ));
    }
    for &count in counts {
        if !(LEAST_TEETH..=MOST_TEETH).contains(&count) {
            let next = format!("give {LEAST_TEETH} to {MOST_TEETH}");
            return Err(bad("--teeth", &format!("a gear of {count} teeth"), &next));
        }
    }
    Ok(counts.iter().map(|&count| Teeth::new(count)).collect())
}

fn tools(args: &Args) -> Result<Tools, Failure> {
    for &pin in &args.pins {
        within("--pins", pin, (0.01, 1000.0))?;
    }
    if let Some(face) = args.face_width {
        within("--face-width", face, (0.01, 10_000.0))?;
    }
    if let Some(teeth) = args.span_teeth {
        let most = args.teeth.iter().copied().min().unwrap_or(0);
        if teeth < 1 || teeth > u32::from(most) {
            let next = format!("give 1 to {most}");
            return Err(bad("--span-teeth", &teeth.to_string(), &next));
        }
    }
    Ok(Tools {
        pins_mm: args.pins.clone(),
        span_teeth: args.span_teeth,
        face_width_mm: args.face_width,
    })
}

/// The most is half as much again where only the least is given.
fn backlash(given: &[f64]) -> Result<Option<(f64, f64)>, Failure> {
    let (least, most) = match *given {
        [] => return Ok(None),
        [least] => (least, 1.5 * least),
        [least, most] => (least, most),
        _ => return Err(bad("--backlash", "too many figures", "give MIN or MIN,MAX")),
    };
    within("--backlash", least, (0.0, 10.0))?;
    within("--backlash", most, (0.0, 10.0))?;
    if least > most {
        return Err(bad(
            "--backlash",
            "the least exceeds the most",
            "swap the two",
        ));
    }
    Ok(Some((least, most)))
}

fn within(flag: &str, value: f64, (least, most): (f64, f64)) -> Result<f64, Failure> {
    if value >= least && value <= most {
        return Ok(value);
    }
    let next = format!("give {least} to {most}");
    Err(bad(flag, &value.to_string(), &next))
}

fn bad(flag: &str, what: &str, next: &str) -> Failure {
    Failure::BadInput(format!("{flag}: {what}; {next}"))
}

/// A gear or mesh that the flags ask for and nobody can make.
pub(super) fn impossible(fault: &GeometryFault) -> Failure {
    Failure::BadInput(fault.to_string())
}
