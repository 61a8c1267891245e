//! What rates the meshes of one problem.

use super::loads::{Loads, MeshLoad};
use super::service::Service;
use super::strength::{MeshShape, MeshStrength, Metal};
use crate::base::{Module, Teeth};
use crate::inspect::wanted_backlash;
use crate::involute::{Meshing, Thinning, Toothing};
use crate::making::{Form, gear_with, toothing_of};
use crate::problem::{Material, Problem, Role, Seat, Shaft};

/// Made once for a problem; may be shared between threads.
#[derive(Clone, Debug)]
pub struct Rater<'a> {
    problem: &'a Problem,
    service: Service,
    pub(super) loads: Loads,
    head: [Metal; 2],
    /// By the place among all speeds; the direct one's are never asked for.
    speeds: Vec<[Metal; 2]>,
    reverse: [Metal; 3],
}

impl<'a> Rater<'a> {
    /// None without a duty: nothing then says what the teeth carry.
    pub fn of(problem: &'a Problem) -> Option<Self> {
        let duty = problem.duty()?;
        let hole = |shaft: Shaft| problem.bores().on(shaft).map(|bore| bore.reach_mm());
        let pair = |materials: &[Material; 2], is_head: bool| {
            let [driving, driven] = problem.shafts(is_head);
            [
                Metal::of(&materials[0], hole(driving)),
                Metal::of(&materials[1], hole(driven)),
            ]
        };
        let head = pair(problem.materials().head(), true);
        let mut geared = problem.materials().speeds().iter();
        let speeds = problem.speeds().iter().map(|speed| {
            let own = speed.geared().and_then(|_| geared.next());
            own.map_or(head, |materials| pair(materials, false))
        });
        let [driver, idler, driven] = problem.reverse_materials();
        let [driving_shaft, driven_shaft] = problem.shafts(false);
        Some(Self {
            service: Service::of(duty, problem.gears()),
            loads: Loads::of(problem, duty),
            head,
            speeds: speeds.collect(),
            reverse: [
                Metal::of(driver, hole(driving_shaft)),
                Metal::of(idler, hole(Shaft::Idler)),
                Metal::of(driven, hole(driven_shaft)),
            ],
            problem,
        })
    }

    /// The problem that it rates for.
    pub fn problem(&self) -> &'a Problem {
        self.problem
    }

    /// Strength of two gears in mesh at `centres_mm`: driving and driven gear of
    /// a pair, or two that meet in reverse. They are rated as they are cut,
    /// thinned by depth to the most backlash that is aimed at. None where such
    /// gears cannot be or cannot meet.
    pub fn meshed(
        &self,
        role: Role,
        seats: [Seat; 2],
        module: Module,
        (teeth, forms): ([Teeth; 2], [Form; 2]),
        centres_mm: f64,
    ) -> Option<MeshStrength> {
        let shape = self.shape(module, (teeth, forms), centres_mm)?;
        Some(self.of_shape(role, seats, &shape))
    }

    /// What of two gears in mesh does not depend on what they are there for.
    pub fn shape(
        &self,
        module: Module,
        (teeth, forms): ([Teeth; 2], [Form; 2]),
        centres_mm: f64,
    ) -> Option<MeshShape> {
        let toothing = toothing_of(self.problem.gears(), module).ok()?;
        self.shape_with(toothing, (teeth, forms), centres_mm)
    }

    pub(super) fn shape_with(
        &self,
        toothing: Toothing,
        (teeth, forms): ([Teeth; 2], [Form; 2]),
        centres_mm: f64,
    ) -> Option<MeshShape> {
        let gear = |i: usize| gear_with(toothing, teeth[i], &forms[i]).ok();
        let full = Meshing::new(gear(0)?, gear(1)?, centres_mm).ok()?;
        Some(MeshShape::of(&self.as_cut(&full)))
    }

    /// Strength of a mesh of that shape.
    pub fn of_shape(&self, role: Role, seats: [Seat; 2], shape: &MeshShape) -> MeshStrength {
        let metals = seats.map(|seat| self.metal(role, seat));
        MeshStrength::of(shape, metals, self.service)
    }

    /// The mesh with its teeth thinned as they are to be cut.
    pub(super) fn as_cut(&self, full: &Meshing) -> Meshing {
        let (_, most_mm) = wanted_backlash(self.problem, full);
        let thinning = Thinning::ByDepth(full.thinning_for_mm(most_mm));
        let thin = full.gears().map(|gear| gear.with_thinning(thinning));
        match thin {
            [Ok(first), Ok(second)] => full.with_gears([first, second]).unwrap_or(*full),
            _ => *full,
        }
    }

    /// Strength of a mesh just as it is given.
    pub fn strength(&self, role: Role, seats: [Seat; 2], mesh: &Meshing) -> MeshStrength {
        self.of_shape(role, seats, &MeshShape::of(mesh))
    }

    fn metal(&self, role: Role, seat: Seat) -> Metal {
        let of = |pair: &[Metal; 2]| match seat {
            Seat::Driver => pair[0],
            Seat::Idler | Seat::Driven => pair[1],
        };
        match (role, seat) {
            (Role::Reverse, Seat::Driver) => self.reverse[0],
            (Role::Reverse, Seat::Idler) => self.reverse[1],
            (Role::Reverse, Seat::Driven) => self.reverse[2],
            (Role::Speed(place), _) => of(self.speeds.get(place).unwrap_or(&self.head)),
            (Role::Head, _) => of(&self.head),
        }
    }

    /// What a head or speed pair carries behind a head of `head_ratio` (driven ÷
    /// driving teeth; of no matter on offset shafts).
    pub fn pair_load(&self, role: Role, head_ratio: f64, teeth: [Teeth; 2]) -> MeshLoad {
        self.loads.pair(role, head_ratio, teeth)
    }

    /// What the meshes of reverse carry: driver on idler, idler on driven gear.
    pub fn reverse_loads(&self, head_ratio: f64, teeth: [Teeth; 3]) -> [MeshLoad; 2] {
        self.loads.reverse(head_ratio, teeth)
    }
}
