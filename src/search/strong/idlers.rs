//! The meshes of plain reverse gears, each worked out once.
//!
//! Driver and idler, idler and driven gear: both meshes pass on one force. It
//! rises with the head ratio over the driver's teeth, and speed and turns fall
//! with it; beside its own gears nothing else tells how safe a mesh is. So a
//! mesh holds up to a limit of that quotient, whatever third gear there is.

use super::bracket::Bracket;
use super::staircase::Staircase;
use crate::base::{Length, Teeth};
use crate::making::Form;
use crate::mesh::ReverseSpan;
use crate::problem::{Duty, Problem, Role, Seat};
use crate::rating::{LoadedMesh, MeshShape, MeshStrength, Rater, Strand, Widths, least_that};
use crate::train::ModuleId;
use std::sync::OnceLock;

/// Meshes of an outer gear and an idler.
#[derive(Debug)]
pub(super) struct Idlers {
    /// Fewest and most teeth of outer gears, and of idlers.
    outer: (u32, u32),
    idler: (u32, u32),
    /// The outer gear driving.
    shapes: Vec<OnceLock<Option<MeshShape>>>,
    /// Up to which quotients they hold: the outer gear driving, the idler driving.
    limits: [Vec<OnceLock<Bracket>>; 2],
    /// How wide they must be, in steps: the same.
    widths: [Vec<OnceLock<Staircase>>; 2],
    /// Quotients that heads make; none on offset shafts, where there is one load.
    ends: Option<[f64; 2]>,
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
        self.bracket.at(head_ratio / self.driver)
    }
}

impl Idlers {
    /// `heads`: the least and the greatest head ratio.
    pub(super) fn of(problem: &Problem, heads: Option<[f64; 2]>) -> Option<Self> {
        let reverse = problem.reverse()?;
        let gears = problem.gears();
        let outer = (gears.min_teeth().get(), gears.max_teeth().get());
        let idler = (reverse.idler_min().get(), reverse.idler_max().get());
        let count = |(least, most): (u32, u32)| (most + 1 - least) as usize;
        let all = gears.modules().len() * count(outer) * count(idler);
        let over =
            |[least, most]: [f64; 2]| [least / f64::from(outer.1), most / f64::from(outer.0)];
        Some(Self {
            shapes: (0..all).map(|_| OnceLock::new()).collect(),
            limits: [(); 2].map(|()| (0..all).map(|_| OnceLock::new()).collect()),
            widths: [(); 2].map(|()| (0..all).map(|_| OnceLock::new()).collect()),
            ends: heads.map(over),
            outer,
            idler,
        })
    }

    fn place(&self, module: ModuleId, outer: Teeth, idler: Teeth) -> usize {
        let outers = (self.outer.1 + 1 - self.outer.0) as usize;
        let idlers = (self.idler.1 + 1 - self.idler.0) as usize;
        let outer = (outer.get() - self.outer.0) as usize;
        (module.index() * outers + outer) * idlers + (idler.get() - self.idler.0) as usize
    }

    /// The shape of an outer gear driving an idler.
    fn shape(
        &self,
        rater: &Rater<'_>,
        module: ModuleId,
        outer: Teeth,
        idler: Teeth,
    ) -> Option<&MeshShape> {
        let own = || {
            let module = module.of(rater.problem());
            rater.free_shape(module, [outer, idler], [Form::PLAIN; 2])
        };
        let shape = self.shapes[self.place(module, outer, idler)].get_or_init(own);
        shape.as_ref()
    }

    /// Reverse gears of a span; none where they cannot meet.
    pub(super) fn strand(
        &self,
        rater: &Rater<'_>,
        span: &ReverseSpan,
        idler: Teeth,
    ) -> Option<Strand> {
        let first = self.shape(rater, span.module, span.driver, idler)?;
        let second = self.shape(rater, span.module, span.driven, idler)?.turned();
        let teeth = [span.driver, idler, span.driven];
        let module = span.module.of(rater.problem());
        Some(rater.reverse_of(module, teeth, [first, &second]))
    }

    /// Up to which head ratios reverse gears so wide hold, or the first mesh alone
    /// where that fails behind the least head ratio that is asked for already; none
    /// on offset shafts, and where they cannot meet.
    pub(super) fn holds(
        &self,
        rater: &Rater<'_>,
        (span, idler): (&ReverseSpan, Teeth),
        width: Length,
        least_head: f64,
    ) -> Option<Holds> {
        let ends = self.ends?;
        let limit = |drives: bool, outer: Teeth| {
            let shape = self.shape(rater, span.module, outer, idler)?;
            let place = self.place(span.module, outer, idler);
            let own = || {
                let mesh = Mesh::of(rater, shape, drives, [outer, idler]);
                Bracket::of(ends, |load| {
                    over(rater, &mesh.under(rater, load), width.mm())
                })
            };
            Some(*self.limits[usize::from(!drives)][place].get_or_init(own))
        };
        let first = Holds {
            driver: f64::from(span.driver),
            bracket: limit(true, span.driver)?,
        };
        if first.behind(least_head) == Some(false) {
            return Some(first);
        }
        Some(Holds {
            bracket: first.bracket.and(limit(false, span.driven)?),
            ..first
        })
    }
}

impl Idlers {
    /// How many steps wide reverse gears must be to hold at a head ratio over the
    /// driver's teeth; one more than the most where that is too little. None on
    /// offset shafts, and where they cannot meet.
    pub(super) fn steps(
        &self,
        rater: &Rater<'_>,
        (span, idler): (&ReverseSpan, Teeth),
        widths: Widths,
        load: f64,
    ) -> Option<i64> {
        self.ends?;
        let needed = |drives: bool, outer: Teeth| {
            let shape = self.shape(rater, span.module, outer, idler)?;
            let place = self.place(span.module, outer, idler);
            let stairs = self.widths[usize::from(!drives)][place].get_or_init(Staircase::default);
            Some(stairs.at(load, widths.least..widths.most + 1, |run| {
                let mesh = Mesh::of(rater, shape, drives, [outer, idler]);
                let mesh = mesh.under(rater, load);
                least_that(run, |count| {
                    rater.is_enough(&mesh.safety(widths.wide(count).mm()))
                })
            }))
        };
        let first = needed(true, span.driver)?;
        if first > widths.most {
            return Some(first);
        }
        Some(first.max(needed(false, span.driven)?))
    }
}

/// One mesh of reverse, by itself.
struct Mesh {
    strength: MeshStrength,
    drives: bool,
    teeth: [Teeth; 2],
}

impl Mesh {
    /// Of an outer gear and an idler; `drives`: the outer gear does.
    fn of(rater: &Rater<'_>, shape: &MeshShape, drives: bool, teeth: [Teeth; 2]) -> Self {
        let strength = |seats, shape| rater.of_shape(Role::Reverse, seats, shape);
        Self {
            strength: if drives {
                strength([Seat::Driver, Seat::Idler], shape)
            } else {
                strength([Seat::Idler, Seat::Driven], &shape.turned())
            },
            drives,
            teeth,
        }
    }

    /// The mesh at a head ratio over the driver's teeth.
    fn under(&self, rater: &Rater<'_>, load: f64) -> LoadedMesh<'_> {
        let [outer, idler] = self.teeth;
        // Any driver will do for the second mesh, and any driven gear for the first.
        let head_ratio = load * f64::from(outer);
        let [first, second] = rater.reverse_loads(head_ratio, [outer, idler, outer]);
        self.strength
            .loaded(if self.drives { &first } else { &second })
    }
}

/// The safety of a mesh over what is asked for.
fn over(rater: &Rater<'_>, mesh: &LoadedMesh<'_>, width_mm: f64) -> f64 {
    let safety = mesh.safety(width_mm);
    let duty = rater.problem().duty();
    let over = |own: f64, least: Option<f64>| least.map_or(f64::INFINITY, |least| own / least);
    let root = over(safety.least_root(), duty.and_then(Duty::min_root_safety));
    let flank = over(safety.least_flank(), duty.and_then(Duty::min_flank_safety));
    root.min(flank)
}
