//! The meshes of plain reverse gears, each worked out once.
//!
//! Driver and idler, idler and driven gear: both meshes pass on one force. It
//! rises with the head ratio over the driver's teeth, and speed and turns fall
//! with it; beside its own gears nothing else tells how safe a mesh is. So a
//! mesh holds up to a limit of that quotient, whatever third gear there is.

use super::bracket::{Bracket, CLEAR, reach};
use super::staircase::{Staircase, Tread};
use crate::base::{Length, Teeth};
use crate::making::Form;
use crate::mesh::ReverseSpan;
use crate::problem::{Duty, Problem, Role, Seat};
use crate::rating::{LoadedMesh, MeshShape, MeshStrength, Rater, Strand, Widths, least_near};
use crate::train::ModuleId;
use std::sync::OnceLock;

/// Meshes of an outer gear and an idler.
#[derive(Debug)]
pub(super) struct Idlers {
    /// Fewest and most teeth of outer gears, and of idlers.
    outer: (u32, u32),
    idler: (u32, u32),
    /// By module and outer gear, its meshes with each idler.
    rows: Vec<OnceLock<Vec<Meeting>>>,
    /// Quotients that heads make; none on offset shafts, where there is one load.
    ends: Option<[f64; 2]>,
}

/// An outer gear and an idler.
#[derive(Debug, Default)]
struct Meeting {
    /// The outer gear driving; none where such gears cannot meet.
    shape: OnceLock<Option<MeshShape>>,
    /// The outer gear driving, the idler driving.
    driving: [Known; 2],
}

/// What is known of a mesh.
#[derive(Debug, Default)]
struct Known {
    /// Up to which quotients it holds.
    limit: OnceLock<Bracket>,
    /// How many steps wide it must be.
    steps: Staircase,
}

/// Up to which head ratios reverse gears hold.
#[derive(Clone, Copy, Debug)]
pub(super) struct Holds {
    driver: f64,
    bracket: Bracket,
}

impl Holds {
    /// Whether they do behind a head; none where it must be asked.
    pub(super) fn behind(self, head_ratio: f64) -> Option<bool> {
        self.under(head_ratio / self.driver)
    }

    /// Whether they do at a head ratio over the driver's teeth; the same.
    pub(super) fn under(self, load: f64) -> Option<bool> {
        self.bracket.at(load)
    }
}

impl Idlers {
    /// `heads`: the least and the greatest head ratio.
    pub(super) fn of(problem: &Problem, heads: Option<[f64; 2]>) -> Option<Self> {
        let reverse = problem.reverse()?;
        let gears = problem.gears();
        let outer = (gears.min_teeth().get(), gears.max_teeth().get());
        let outers = (outer.1 + 1 - outer.0) as usize;
        let over =
            |[least, most]: [f64; 2]| [least / f64::from(outer.1), most / f64::from(outer.0)];
        let rows = 0..gears.modules().len() * outers;
        Some(Self {
            outer,
            idler: (reverse.idler_min().get(), reverse.idler_max().get()),
            rows: rows.map(|_| OnceLock::new()).collect(),
            ends: heads.map(over),
        })
    }

    fn row(&self, module: ModuleId, outer: Teeth) -> &[Meeting] {
        let outers = (self.outer.1 + 1 - self.outer.0) as usize;
        let place = module.index() * outers + (outer.get() - self.outer.0) as usize;
        let idlers = self.idler.0..=self.idler.1;
        self.rows[place].get_or_init(|| idlers.map(|_| Meeting::default()).collect())
    }

    /// The meshes of a span's gears.
    pub(super) fn between<'i>(&'i self, rater: &'i Rater<'i>, span: &ReverseSpan) -> Between<'i> {
        Between {
            rater,
            span: *span,
            ends: self.ends,
            first_idler: self.idler.0,
            rows: [span.driver, span.driven].map(|outer| self.row(span.module, outer)),
        }
    }
}

/// The meshes of a driver and a driven gear with whatever idler.
pub(super) struct Between<'i> {
    rater: &'i Rater<'i>,
    span: ReverseSpan,
    ends: Option<[f64; 2]>,
    first_idler: u32,
    rows: [&'i [Meeting]; 2],
}

/// One mesh of reverse, and what is known of it.
struct Mesh<'i> {
    rater: &'i Rater<'i>,
    known: &'i Known,
    shape: &'i MeshShape,
    /// Whether the outer gear does.
    drives: bool,
    /// Outer gear, idler.
    teeth: [Teeth; 2],
}

impl<'i> Between<'i> {
    /// The shape of a mesh, the outer gear driving; none where the gears cannot meet.
    fn shape(&self, drives: bool, idler: Teeth) -> Option<&'i MeshShape> {
        let meeting = &self.rows[usize::from(!drives)][self.place(idler)];
        let own = || {
            let module = self.span.module.of(self.rater.problem());
            let teeth = [self.outer(drives), idler];
            self.rater.free_shape(module, teeth, [Form::PLAIN; 2])
        };
        meeting.shape.get_or_init(own).as_ref()
    }

    const fn place(&self, idler: Teeth) -> usize {
        (idler.get() - self.first_idler) as usize
    }

    const fn outer(&self, drives: bool) -> Teeth {
        if drives {
            self.span.driver
        } else {
            self.span.driven
        }
    }

    /// The mesh of the driver, or that of the driven gear, with an idler.
    fn mesh(&self, drives: bool, idler: Teeth) -> Option<Mesh<'i>> {
        let meeting = &self.rows[usize::from(!drives)][self.place(idler)];
        Some(Mesh {
            rater: self.rater,
            known: &meeting.driving[usize::from(!drives)],
            shape: self.shape(drives, idler)?,
            drives,
            teeth: [self.outer(drives), idler],
        })
    }

    /// The reverse gears with an idler; none where they cannot meet.
    pub(super) fn strand(&self, idler: Teeth) -> Option<Strand> {
        let first = self.shape(true, idler)?;
        let second = self.shape(false, idler)?.turned();
        let span = &self.span;
        let module = span.module.of(self.rater.problem());
        let teeth = [span.driver, idler, span.driven];
        Some(self.rater.reverse_of(module, teeth, [first, &second]))
    }

    /// Up to which head ratios reverse gears so wide hold, or the first mesh alone
    /// where that fails behind the least head ratio that is asked for already; none
    /// on offset shafts, and where they cannot meet.
    pub(super) fn holds(&self, idler: Teeth, width: Length, least_head: f64) -> Option<Holds> {
        let ends = self.ends?;
        let limit = |drives: bool| {
            let row = self.rows[usize::from(!drives)];
            let near = || {
                let before = row.get(self.place(idler).checked_sub(1)?)?;
                let known = &before.driving[usize::from(!drives)];
                known.limit.get().and_then(|bracket| bracket.limit())
            };
            let mesh = self.mesh(drives, idler)?;
            let own = || mesh.limit(ends, near(), width);
            Some(*mesh.known.limit.get_or_init(own))
        };
        let first = Holds {
            driver: f64::from(self.span.driver),
            bracket: limit(true)?,
        };
        if first.behind(least_head) == Some(false) {
            return Some(first);
        }
        Some(Holds {
            bracket: first.bracket.and(limit(false)?),
            ..first
        })
    }

    /// How many steps wide reverse gears must be to hold at a head ratio over the
    /// driver's teeth, looked for near a guess; more than the most where that is too
    /// little. None on offset shafts, where they cannot meet and where it must be
    /// asked.
    pub(super) fn steps(
        &self,
        idler: Teeth,
        widths: Widths,
        near: (f64, Option<i64>),
    ) -> Option<i64> {
        self.ends?;
        let needed = |drives: bool| self.mesh(drives, idler)?.steps(widths, near);
        Some(needed(true)?.max(needed(false)?))
    }
}

impl Mesh<'_> {
    fn strength(&self) -> MeshStrength {
        let strength = |seats, shape| self.rater.of_shape(Role::Reverse, seats, shape);
        if self.drives {
            strength([Seat::Driver, Seat::Idler], self.shape)
        } else {
            strength([Seat::Idler, Seat::Driven], &self.shape.turned())
        }
    }

    /// The mesh at a head ratio over the driver's teeth.
    fn under<'s>(&self, strength: &'s MeshStrength, load: f64) -> LoadedMesh<'s> {
        let [outer, idler] = self.teeth;
        // Any driver will do for the second mesh, and any driven gear for the first.
        let head_ratio = load * f64::from(outer);
        let [first, second] = self.rater.reverse_loads(head_ratio, [outer, idler, outer]);
        strength.loaded(if self.drives { &first } else { &second })
    }

    /// Up to which of the loads between `ends` the mesh, so wide, holds.
    fn limit(&self, ends: [f64; 2], near: Option<f64>, width: Length) -> Bracket {
        let strength = self.strength();
        let middle = (ends[0] * ends[1]).sqrt();
        Bracket::of(ends, near.unwrap_or(middle), |load| {
            self.reach(&self.under(&strength, load), width)
        })
    }

    /// How many steps wide the mesh must be under a load, one more than the most
    /// where that is too little; none within rounding of a step.
    fn steps(&self, widths: Widths, (load, guess): (f64, Option<i64>)) -> Option<i64> {
        let find = |run| {
            let strength = self.strength();
            let mesh = self.under(&strength, load);
            let reach = |count| self.reach(&mesh, widths.wide(count));
            let number = least_near(run, guess, |count| reach(count) >= 1.0);
            let (mut from, mut to) = (0.0, f64::INFINITY);
            if number > widths.least {
                from = load * reach(number - 1) * (1.0 + CLEAR);
            }
            if number <= widths.most {
                to = load * reach(number) * (1.0 - CLEAR);
            }
            (from <= load && load <= to).then_some(Tread { number, from, to })
        };
        let run = widths.least..widths.most + 1;
        self.known.steps.at(load, run, find)
    }

    /// The [`reach`] of the mesh under a load.
    fn reach(&self, mesh: &LoadedMesh<'_>, width: Length) -> f64 {
        let safety = mesh.safety(width.mm());
        let duty = self.rater.problem().duty();
        let over = |own: f64, least: Option<f64>| least.map_or(f64::INFINITY, |least| own / least);
        reach(
            over(safety.least_root(), duty.and_then(Duty::min_root_safety)),
            over(safety.least_flank(), duty.and_then(Duty::min_flank_safety)),
        )
    }
}
