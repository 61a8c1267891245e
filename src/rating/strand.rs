//! The meshes of one role, which its gears bear together: one of a pair, two of
//! reverse.

use super::{MeshSafety, MeshStrength, Rater};
use crate::base::{Length, Module, Teeth};
use crate::involute::{Closing, Toothing};
use crate::making::Form;
use crate::problem::{Duty, FaceWidth, Problem, Role, Seat};

/// Least and most face width that is taken where the file does not say, modules
/// (common practice, no source).
const USUAL_MODULES: [f64; 2] = [4.0, 12.0];

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
        let seats = [Seat::Driver, Seat::Driven];
        let first = self.meshed(role, seats, module, (teeth, forms), centres.mm())?;
        Some(Strand {
            role,
            module,
            gears: Gears::Pair(teeth),
            first,
            second: None,
        })
    }

    /// Reverse gears at the distances that their shifts make; none where such
    /// gears cannot meet.
    pub fn reverse(&self, module: Module, teeth: [Teeth; 3], forms: [Form; 3]) -> Option<Strand> {
        let mesh = |one: usize, other: usize| {
            let seats = [Seat::Driver, Seat::Idler, Seat::Driven];
            let (teeth, forms) = ([teeth[one], teeth[other]], [forms[one], forms[other]]);
            let centres_mm = own_centres_mm(self.problem(), module, teeth, &forms)?;
            let seats = [seats[one], seats[other]];
            self.meshed(Role::Reverse, seats, module, (teeth, forms), centres_mm)
        };
        Some(Strand {
            role: Role::Reverse,
            module,
            gears: Gears::Reverse(teeth),
            first: mesh(0, 1)?,
            second: Some(mesh(1, 2)?),
        })
    }

    /// The safeties of each mesh behind a head of `head_ratio` (of no matter on
    /// offset shafts and for the head itself), at a face width (mm).
    pub fn safeties(
        &self,
        strand: &Strand,
        head_ratio: f64,
        width_mm: f64,
    ) -> impl Iterator<Item = MeshSafety> {
        let loads = match strand.gears {
            Gears::Pair(teeth) => {
                let load = self.pair_load(strand.role, head_ratio, teeth);
                [load, load]
            }
            Gears::Reverse(teeth) => self.reverse_loads(head_ratio, teeth),
        };
        let meshes = [Some(strand.first), strand.second];
        let each = meshes.into_iter().zip(loads);
        each.filter_map(move |(mesh, load)| Some(mesh?.under(&load, width_mm)))
    }

    /// Whether a role holds what the duty asks for.
    pub fn holds(&self, strand: &Strand, head_ratio: f64, width_mm: f64) -> bool {
        let duty = self.problem().duty();
        let root = duty.and_then(Duty::min_root_safety);
        let flank = duty.and_then(Duty::min_flank_safety);
        self.safeties(strand, head_ratio, width_mm).all(|safety| {
            root.is_none_or(|least| safety.least_root() >= least)
                && flank.is_none_or(|least| safety.least_flank() >= least)
        })
    }

    /// Face width of the gears of a role: where it follows from the load, the
    /// least that holds whatever head the tolerance of the speed lets stand before
    /// them, so that gears are as wide in one set as in another; the most where
    /// none holds.
    pub fn width(&self, strand: &Strand) -> Length {
        let (step, least, most) = match self.problem().gears().face() {
            FaceWidth::Given(width) => return width,
            FaceWidth::Auto { step, least, most } => (step, least, most),
        };
        let step_mm = step.mm();
        let [low, high] = USUAL_MODULES.map(|modules| modules * strand.module.mm());
        let steps =
            |given: Option<Length>, usual_mm: f64| given.map_or(usual_mm, Length::mm) / step_mm;
        // A width that is given is met to the last digit.
        let low = whole((steps(least, low) - 1e-9).ceil().max(1.0));
        let high = whole((steps(most, high) + 1e-9).floor()).max(low);
        let head = self.most_head_ratio(strand);
        let wide = |count: i64| Length::from_steps(count * step.steps());
        let (mut low, mut high) = (low, high);
        while low < high {
            let middle = low.midpoint(high);
            if self.holds(strand, head, wide(middle).mm()) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        wide(low)
    }

    /// The largest head ratio that the tolerance of a role lets stand before its
    /// gears.
    fn most_head_ratio(&self, strand: &Strand) -> f64 {
        let problem = self.problem();
        let Some(head) = problem.head() else {
            return 1.0;
        };
        let window = match strand.role {
            Role::Head => return 1.0,
            Role::Speed(place) => problem.speeds()[place].geared().map(|own| own.window()),
            Role::Reverse => problem.reverse().map(|own| own.window()),
        };
        let within = window.and_then(|window| window.high());
        let within = within.map_or(f64::INFINITY, |most| most / strand.gears.ratio());
        let of_head = head.window().high().unwrap_or(f64::INFINITY);
        let teeth = problem.gears();
        let any = f64::from(teeth.max_teeth()) / f64::from(teeth.min_teeth());
        within.min(of_head).min(any)
    }
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "widths have few steps by the checks"
)]
fn whole(count: f64) -> i64 {
    count as i64
}

/// The distance at which two gears so shifted close without backlash, mm.
fn own_centres_mm(
    problem: &Problem,
    module: Module,
    teeth: [Teeth; 2],
    forms: &[Form; 2],
) -> Option<f64> {
    let gears = problem.gears();
    let beta = gears.helix_angle_deg().to_radians();
    let toothing = Toothing::new(*gears.rack(), module.mm(), beta).ok()?;
    let sum = forms[0].shift + forms[1].shift;
    let closing = Closing::from_shift_sum(toothing, teeth, sum).ok()?;
    Some(closing.centres_mm())
}
