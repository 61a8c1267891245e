//! The gears and meshes that are asked for.

use super::asked::{Asked, impossible};
use crate::base::Teeth;
use crate::cli::exit::Failure;
use crate::export::{BenchWork, Refused, WorkedMesh};
use crate::inspect::{Aim, usual_backlash};
use crate::involute::{Closing, Meshing, NoSplit, ShiftedGear, Split, SplitLimit, SplitLimits};
use crate::train::{idler_centres, idler_closes};

/// What the flags come to.
pub(super) struct Made {
    pub(super) work: BenchWork,
}

impl Made {
    pub(super) fn of(asked: &Asked) -> Result<Self, Failure> {
        let work = match asked.teeth[..] {
            [one] => alone(asked, one)?,
            [one, other] => pair(asked, [one, other])?,
            [driver, idler, driven] => train(asked, [driver, idler, driven])?,
            _ => return Err(Failure::BadInput("--teeth: missing".to_owned())),
        };
        Ok(Self { work })
    }
}

fn work(asked: &Asked, gears: Vec<ShiftedGear>, meshes: Vec<WorkedMesh>) -> BenchWork {
    BenchWork {
        toothing: asked.toothing,
        gears,
        meshes,
        refusal: None,
        closing: None,
        outer: None,
        bounds: asked.bounds,
        tools: asked.tools.clone(),
        aim: Aim::NONE,
    }
}

fn gear(asked: &Asked, teeth: Teeth, shift: f64) -> Result<ShiftedGear, Failure> {
    ShiftedGear::new(asked.toothing, teeth, shift).map_err(|fault| impossible(&fault))
}

/// One gear knows no mesh; its thinning is given or none.
fn alone(asked: &Asked, teeth: Teeth) -> Result<BenchWork, Failure> {
    let shift = asked.shifts.first().copied().unwrap_or(0.0);
    let gear = gear(asked, teeth, shift)?;
    let mut work = work(asked, vec![gear], Vec::new());
    if let Some((least, most)) = asked.backlash_mm {
        // Half of what the flank distance needs: the mate takes the other half.
        let cos = asked.toothing.rack().pressure_angle_rad.cos();
        work.aim = Aim {
            least_mm: least / cos / 2.0,
            most_mm: most / cos / 2.0,
            by_depth: asked.by_depth,
        };
    }
    Ok(work)
}

fn aim(asked: &Asked, mesh: &Meshing) -> Aim {
    let wanted = asked.backlash_mm.unwrap_or_else(|| usual_backlash(mesh));
    Aim::at(mesh, wanted, asked.by_depth)
}

fn pair(asked: &Asked, teeth: [Teeth; 2]) -> Result<BenchWork, Failure> {
    match (&asked.shifts[..], asked.centres_mm) {
        (&[one, other], centres) => given_pair(asked, teeth, [one, other], centres),
        (_, Some(centres)) => closed_pair(asked, teeth, centres),
        (_, None) => given_pair(asked, teeth, [0.0, 0.0], None),
    }
}

/// Shifts as given: on the centres given, or on those that they close.
fn given_pair(
    asked: &Asked,
    teeth: [Teeth; 2],
    shifts: [f64; 2],
    centres: Option<f64>,
) -> Result<BenchWork, Failure> {
    let closing = match centres {
        Some(centres) => Closing::at_centres(asked.toothing, teeth, centres),
        None => Closing::from_shift_sum(asked.toothing, teeth, shifts[0] + shifts[1]),
    };
    let closing = closing.map_err(|fault| impossible(&fault))?;
    // Tips are shortened for the shifts the gears have, not for those that the
    // centres would need.
    let own = Closing::from_shift_sum(asked.toothing, teeth, shifts[0] + shifts[1]);
    let shortening = own.map_or(0.0, |own| own.tip_shortening());
    let made = |i: usize| {
        gear(asked, teeth[i], shifts[i])?
            .with_tip_shortening(shortening)
            .map_err(|fault| impossible(&fault))
    };
    let mesh = Meshing::new(made(0)?, made(1)?, closing.centres_mm())
        .map_err(|fault| impossible(&fault))?;
    finished(asked, &mesh, Some(closing), None)
}

/// Turned down where asked for, and thinned for the backlash aimed at.
fn finished(
    asked: &Asked,
    mesh: &Meshing,
    closing: Option<Closing>,
    split: Option<Split>,
) -> Result<BenchWork, Failure> {
    let mesh = if asked.turn_down {
        mesh.with_clear_tips().map_err(|fault| impossible(&fault))?
    } else {
        *mesh
    };
    let aim = aim(asked, &mesh);
    let worked = WorkedMesh {
        mesh,
        places: [0, 1],
        split,
    };
    let mut work = work(asked, mesh.gears().to_vec(), vec![worked]);
    work.closing = closing;
    work.aim = aim;
    Ok(work)
}

/// Shifts that close the centres, split as the limits allow.
fn closed_pair(asked: &Asked, teeth: [Teeth; 2], centres: f64) -> Result<BenchWork, Failure> {
    let closing =
        Closing::at_centres(asked.toothing, teeth, centres).map_err(|fault| impossible(&fault))?;
    match split(asked, &closing) {
        Ok(split) => {
            let mesh =
                Meshing::closed(&closing, split.first).map_err(|fault| impossible(&fault))?;
            finished(asked, &mesh, Some(closing), Some(split))
        }
        Err(none) => {
            let mut work = work(asked, Vec::new(), Vec::new());
            work.refusal = Some(refused(asked, &closing, &none));
            work.closing = Some(closing);
            Ok(work)
        }
    }
}

fn split(asked: &Asked, closing: &Closing) -> Result<Split, NoSplit> {
    match closing.split(&asked.limits) {
        Err(none) if asked.turn_down && none.lies_in_tips() => {
            let limits = SplitLimits {
                interference_allowed: true,
                ..asked.limits
            };
            closing.split(&limits)
        }
        other => other,
    }
}

fn refused(asked: &Asked, closing: &Closing, none: &NoSplit) -> Refused {
    let sum = closing.shift_sum();
    let (least, most) = asked.limits.shift;
    let short = none.limit == SplitLimit::Shift && (sum < 2.0 * least || sum > 2.0 * most);
    Refused {
        limit: none.limit,
        before: none.before,
        alone: none.alone,
        shift_sum_outside: short.then_some((2.0 * least, 2.0 * most)),
    }
}

/// Reverse: nothing closes the idler's distances, so each gear takes the shift
/// nearest 0 that the limits allow.
fn train(asked: &Asked, teeth: [Teeth; 3]) -> Result<BenchWork, Failure> {
    let mut gears = Vec::new();
    for (i, z) in teeth.into_iter().enumerate() {
        let shift = match asked.shifts.get(i) {
            Some(&given) => given,
            None => free_shift(asked, z)?,
        };
        gears.push(gear(asked, z, shift)?);
    }
    let close = |outer: &ShiftedGear| {
        let sum = outer.shift() + gears[1].shift();
        let teeth = [outer.teeth(), gears[1].teeth()];
        Closing::from_shift_sum(asked.toothing, teeth, sum).map_err(|fault| impossible(&fault))
    };
    let (one, other) = (close(&gears[0])?, close(&gears[2])?);
    let short = |gear: &ShiftedGear, k: f64| {
        gear.with_tip_shortening(k)
            .map_err(|fault| impossible(&fault))
    };
    let lower = one.tip_shortening().min(other.tip_shortening());
    let mut made = [
        short(&gears[0], one.tip_shortening())?,
        short(&gears[1], lower)?,
        short(&gears[2], other.tip_shortening())?,
    ];
    let mesh = |outer: ShiftedGear, idler: ShiftedGear, centres: f64| {
        Meshing::new(outer, idler, centres).map_err(|fault| impossible(&fault))
    };
    if asked.turn_down {
        let clear = |mesh: Meshing| mesh.with_clear_tips().map_err(|fault| impossible(&fault));
        let first = clear(mesh(made[0], made[1], one.centres_mm())?)?;
        let second = clear(mesh(made[2], made[1], other.centres_mm())?)?;
        let [driver, of_first] = *first.gears();
        let [driven, of_second] = *second.gears();
        let idler = if of_second.tip_shortening() < of_first.tip_shortening() {
            of_second
        } else {
            of_first
        };
        made = [driver, idler, driven];
    }
    let meshes = [(0, 1, &one), (1, 2, &other)]
        .map(|(i, j, closing)| (i, j, mesh(made[i], made[j], closing.centres_mm())));
    let mut worked = Vec::new();
    for (i, j, mesh) in meshes {
        worked.push(WorkedMesh {
            mesh: mesh?,
            places: [i, j],
            split: None,
        });
    }
    let aim = aim(asked, &worked[0].mesh);
    let mut work = work(asked, made.to_vec(), worked);
    work.aim = aim;
    if let Some(centres) = asked.centres_mm {
        let to = (one.centres_mm(), other.centres_mm());
        work.outer = Some(crate::export::OuterShafts {
            centres_mm: centres,
            tip_gap_mm: centres - f64::midpoint(made[0].tip_mm(), made[2].tip_mm()),
            // The driven gear's shaft is the origin, as on an in-line box.
            idler_centres: idler_centres(centres, to.1, to.0),
            closes: idler_closes(centres, to.1, to.0),
        });
    }
    Ok(work)
}

fn free_shift(asked: &Asked, teeth: Teeth) -> Result<f64, Failure> {
    let (least, most) = asked.limits.shift;
    let bounds = (least, most);
    let allowed = asked.limits.undercut_allowed;
    let shift = ShiftedGear::free_shift(&asked.toothing, teeth, bounds, allowed);
    shift.map_or_else(
        || {
            let uncut = gear(asked, teeth, 0.0)?.least_shift();
            Err(Failure::BadInput(format!(
                "--shift-max: {teeth} teeth are undercut below a shift of {uncut:.4}; give as \
                 much, or --allow-undercut"
            )))
        },
        Ok,
    )
}
