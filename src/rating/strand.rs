//! The meshes of one role, which its gears bear together: one of a pair, two of
//! reverse.

use super::{LoadedMesh, MeshSafety, MeshShape, MeshStrength, Rater};
use crate::base::{Length, Module, Teeth, first_near, first_that};
use crate::involute::Closing;
use crate::making::{Form, toothing_of};
use crate::problem::{Duty, FaceWidth, Geared, Reverse, Role, Seat};
use std::ops::Range;

/// The meshes of a role.
#[derive(Clone, Copy, Debug)]
pub struct Strand {
    role: Role,
    module: Module,
    gears: Gears,
    first: MeshStrength,
    /// Of reverse, idler on driven gear.
    second: Option<MeshStrength>,
}

#[derive(Clone, Copy, Debug)]
enum Gears {
    Pair([Teeth; 2]),
    Reverse([Teeth; 3]),
}

impl Gears {
    /// Driven ÷ driving teeth.
    fn ratio(self) -> f64 {
        let (driver, driven) = match self {
            Self::Pair([driver, driven]) | Self::Reverse([driver, _, driven]) => (driver, driven),
        };
        f64::from(driven) / f64::from(driver)
    }
}

impl Rater<'_> {
    /// The pair of a role; none where such gears cannot meet.
    pub fn pair(
        &self,
        role: Role,
        module: Module,
        (teeth, forms): ([Teeth; 2], [Form; 2]),
        centres: Length,
    ) -> Option<Strand> {
        let shape = self.shape(module, (teeth, forms), centres.mm())?;
        Some(self.pair_of(role, module, teeth, &shape))
    }

    /// The pair of a role, of that shape.
    pub fn pair_of(
        &self,
        role: Role,
        module: Module,
        teeth: [Teeth; 2],
        shape: &MeshShape,
    ) -> Strand {
        Strand {
            role,
            module,
            gears: Gears::Pair(teeth),
            first: self.of_shape(role, [Seat::Driver, Seat::Driven], shape),
            second: None,
        }
    }

    /// Reverse gears at the distances that their shifts make; none where such
    /// gears cannot meet.
    pub fn reverse(&self, module: Module, teeth: [Teeth; 3], forms: [Form; 3]) -> Option<Strand> {
        let shape = |one: usize, other: usize| {
            self.free_shape(
                module,
                [teeth[one], teeth[other]],
                [forms[one], forms[other]],
            )
        };
        Some(self.reverse_of(module, teeth, [&shape(0, 1)?, &shape(1, 2)?]))
    }

    /// Two gears at the distance that their own shifts make.
    pub fn free_shape(
        &self,
        module: Module,
        teeth: [Teeth; 2],
        forms: [Form; 2],
    ) -> Option<MeshShape> {
        let toothing = toothing_of(self.problem().gears(), module).ok()?;
        // The distance at which they close without backlash.
        let sum = forms[0].shift + forms[1].shift;
        let closing = Closing::from_shift_sum(toothing, teeth, sum).ok()?;
        self.shape_with(toothing, (teeth, forms), closing.centres_mm())
    }

    /// Reverse gears whose meshes have these shapes: driver and idler, idler and
    /// driven gear.
    pub fn reverse_of(
        &self,
        module: Module,
        teeth: [Teeth; 3],
        [first, second]: [&MeshShape; 2],
    ) -> Strand {
        let mesh = |seats, shape| self.of_shape(Role::Reverse, seats, shape);
        Strand {
            role: Role::Reverse,
            module,
            gears: Gears::Reverse(teeth),
            first: mesh([Seat::Driver, Seat::Idler], first),
            second: Some(mesh([Seat::Idler, Seat::Driven], second)),
        }
    }

    /// The meshes of a role behind a head of `head_ratio` (of no matter on offset
    /// shafts and for the head itself).
    pub fn loaded<'s>(&self, strand: &'s Strand, head_ratio: f64) -> [Option<LoadedMesh<'s>>; 2] {
        let loads = match strand.gears {
            Gears::Pair(teeth) => [self.pair_load(strand.role, head_ratio, teeth); 2],
            Gears::Reverse(teeth) => self.reverse_loads(head_ratio, teeth),
        };
        let second = strand.second.as_ref();
        [
            Some(strand.first.loaded(&loads[0])),
            second.map(|mesh| mesh.loaded(&loads[1])),
        ]
    }

    /// Whether a role holds what the duty asks for, at a face width (mm).
    pub fn holds(&self, strand: &Strand, head_ratio: f64, width_mm: f64) -> bool {
        self.all_hold(&self.loaded(strand, head_ratio), width_mm)
    }

    fn all_hold(&self, meshes: &[Option<LoadedMesh<'_>>; 2], width_mm: f64) -> bool {
        let mut all = meshes.iter().flatten();
        all.all(|mesh| self.is_enough(&mesh.safety(width_mm)))
    }

    /// Whether a mesh is as safe as the duty asks for.
    pub fn is_enough(&self, safety: &MeshSafety) -> bool {
        let duty = self.problem().duty();
        let root = duty.and_then(Duty::min_root_safety);
        let flank = duty.and_then(Duty::min_flank_safety);
        root.is_none_or(|least| safety.least_root() >= least)
            && flank.is_none_or(|least| safety.least_flank() >= least)
    }

    /// Face width of the gears of a role: where it follows from the load, the
    /// least that holds whatever head the tolerance of the speed lets stand before
    /// them, so that gears are as wide in one set as in another; the most where
    /// none holds.
    pub fn width(&self, strand: &Strand) -> Length {
        self.width_near(strand, None).0
    }

    /// [`Rater::width`], looked for around a guess, and whether it is known to
    /// hold behind every head that the tolerance lets stand before it.
    pub fn width_near(&self, strand: &Strand, guess: Option<Length>) -> (Length, bool) {
        let widths = match self.widths(strand.module) {
            Ok(widths) => widths,
            Err(given) => return (given, false),
        };
        let head = self.most_head_ratio(strand.role, strand.gears.ratio());
        let meshes = self.loaded(strand, head);
        let holds = |count: i64| self.all_hold(&meshes, widths.wide(count).mm());
        let guess = guess.map(|guess| guess.steps() / widths.step.steps());
        let count = least_near(widths.least..widths.most, guess, holds);
        (widths.wide(count), count < widths.most || holds(count))
    }

    /// The widths that gears of a module may have where they follow from the load.
    ///
    /// # Errors
    /// The width where it is given.
    pub fn widths(&self, module: Module) -> Result<Widths, Length> {
        let (step, least, most) = match self.problem().gears().face() {
            FaceWidth::Given(width) => return Err(width),
            FaceWidth::Auto { step, least, most } => (step, least, most),
        };
        let steps = |given: Option<Length>, modules: f64| {
            given.map_or(modules * module.mm(), Length::mm) / step.mm()
        };
        let [low, high] = FaceWidth::USUAL_MODULES;
        // A width that is given is met to the last digit.
        let least = whole((steps(least, low) - 1e-9).ceil().max(1.0));
        let most = whole((steps(most, high) + 1e-9).floor()).max(least);
        Ok(Widths { step, least, most })
    }

    /// The largest head ratio that the tolerance of a role lets stand before gears
    /// of that ratio (driven ÷ driving teeth).
    pub fn most_head_ratio(&self, role: Role, ratio: f64) -> f64 {
        let problem = self.problem();
        let Some(head) = problem.head() else {
            return 1.0;
        };
        let window = match role {
            Role::Head => return 1.0,
            Role::Speed(place) => problem.speeds()[place].geared().map(Geared::window),
            Role::Reverse => problem.reverse().map(Reverse::window),
        };
        let within = window.and_then(|window| window.high());
        let within = within.map_or(f64::INFINITY, |most| most / ratio);
        let of_head = head.window().high().unwrap_or(f64::INFINITY);
        let teeth = problem.gears();
        let any = f64::from(teeth.max_teeth()) / f64::from(teeth.min_teeth());
        within.min(of_head).min(any)
    }
}

/// Widths in whole steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Widths {
    /// The step.
    pub step: Length,
    /// The fewest steps.
    pub least: i64,
    /// The most steps.
    pub most: i64,
}

impl Widths {
    /// So many steps.
    pub const fn wide(&self, count: i64) -> Length {
        Length::from_steps(count * self.step.steps())
    }
}

/// The least number of a run for which something holds that holds for all
/// greater ones; the end of the run where it holds for none.
pub fn least_that(run: Range<i64>, holds: impl Fn(i64) -> bool) -> i64 {
    least_near(run, None, holds)
}

/// [`least_that`], looked for from a guess on, if there is one.
pub fn least_near(run: Range<i64>, guess: Option<i64>, holds: impl Fn(i64) -> bool) -> i64 {
    let length = usize::try_from(run.end - run.start).unwrap_or(0);
    let at = |place: usize| run.start + i64::try_from(place).unwrap_or(i64::MAX);
    let holds = |place| holds(at(place));
    at(match guess {
        None => first_that(0..length, holds),
        Some(guess) => {
            let near = usize::try_from(guess - run.start).unwrap_or(0);
            first_near(0..length, near, holds)
        }
    })
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "widths have few steps by the checks"
)]
fn whole(count: f64) -> i64 {
    count as i64
}
