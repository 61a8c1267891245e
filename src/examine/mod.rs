//! A gearbox that exists, looked over: what its teeth do, what is wrong with
//! it, and how to prove it on the bench.
//!
//! In: a problem whose gears are [found](crate::problem::Problem::found), and
//! the set of teeth that the file gives, whatever a search would say of it.
//! Out: figures of every mesh, gaps, walls, and each [`Finding`] with what to do
//! next; a [`Trial`] of the box by hand. Assumed: gears cut by the rack of the
//! file. Sources: those of the parts that are asked (`inspect`, `train`,
//! `verify`, `design`).

mod engage;
mod finding;
mod given;
mod matters;
mod meshes;
mod ratios;
mod reverse;
mod trial;
mod walls;

pub use finding::{Amount, Finding, Weight};
pub use given::{Lacking, given_set};
pub use meshes::Mesh;
pub use ratios::is_asked;
pub use trial::{ARM_MM, Beat, Play, Rim, Symptom, Trial, Turned};
pub use walls::Wall;

use crate::design::Plan;
use crate::inspect::GearFigures;
use crate::making::Rules;
use crate::mesh::doubts;
use crate::problem::{Fault, Problem, Seating};
use crate::train::{Figures, Gear, Pair, Role, Set, forms_of, gears_of, made_of, remarks};

/// A gearbox with all that was found about it.
#[derive(Debug)]
pub struct Examined<'a> {
    /// The problem, its gears taken as found.
    pub problem: &'a Problem,
    /// The teeth.
    pub set: &'a Set,
    /// Ratios and sizes.
    pub figures: Figures,
    /// Shafts, places, boring, motion.
    pub plan: Plan<'a>,
    /// Every mesh: head, speeds in file order, the two of reverse.
    pub meshes: Vec<Mesh>,
    /// Every gear that can be, with its figures at full teeth; one that serves a
    /// speed and reverse stands here once.
    pub gears: Vec<(Gear, GearFigures)>,
    /// Metal between root and hole, gear by gear, where the hole is known.
    pub walls: Vec<Wall>,
    /// Faults and remarks, in the order of the parts they are about.
    pub findings: Vec<Finding>,
}

impl<'a> Examined<'a> {
    /// Looks over `set` as gears that exist; `problem` should be [`taken`] for
    /// it. `unbuilt` are faults that kept the file from
    /// being taken as it is written.
    pub fn new(problem: &'a Problem, set: &'a Set, unbuilt: &[Fault]) -> Self {
        let mut examined = Self {
            problem,
            set,
            figures: Figures::of(problem, set),
            plan: Plan::new(problem, set),
            meshes: meshes::meshes(problem, set),
            gears: gears(problem, set),
            walls: Vec::new(),
            findings: unbuilt.iter().map(finding::of_file).collect(),
        };
        examined.walls = walls::walls(problem, &examined.plan.housed);
        let mut found = examined.meshes_found();
        found.extend(walls::findings(problem, &examined.walls));
        found.extend(reverse::findings(&examined));
        found.extend(engage::findings(&examined));
        found.extend(ratios::findings(&examined));
        examined.findings.extend(found);
        examined
    }

    /// What is wrong with teeth, alone and in mesh.
    fn meshes_found(&self) -> Vec<Finding> {
        let (problem, set) = (self.problem, self.set);
        let mut found = meshes::impossible(problem, set);
        found.extend(meshes::closing(problem, &self.meshes));
        let remarks = remarks(problem, set).into_iter();
        let remarks = remarks.chain(doubts(problem, set));
        found.extend(remarks.filter_map(|remark| matters::remarked(self, &remark)));
        found
    }

    /// What is wrong: with any of these the answer is no.
    pub fn faults(&self) -> impl Iterator<Item = &Finding> {
        let is_fault = |finding: &&Finding| finding.weight == Weight::Fault;
        self.findings.iter().filter(is_fault)
    }

    /// What is worth knowing.
    pub fn remarks(&self) -> impl Iterator<Item = &Finding> {
        let is_remark = |finding: &&Finding| finding.weight == Weight::Remark;
        self.findings.iter().filter(is_remark)
    }
}

fn gears(problem: &Problem, set: &Set) -> Vec<(Gear, GearFigures)> {
    let made = made_of(problem, set, &forms_of(problem, set));
    let shared = set.shared_place(problem);
    let all = gears_of(problem, set).into_iter().zip(made).enumerate();
    all.filter(|(place, _)| Some(*place) != shared)
        .filter_map(|(_, (gear, made))| Some((gear, GearFigures::of(&made?))))
        .collect()
}

/// The problem to look `set` over with. Where its limits say how the gears are
/// made and refuse none, they were made so; else the gears are taken as
/// [found](Problem::found), and limits only mark them.
pub fn taken(problem: &Problem, set: &Set) -> Problem {
    let Some(rules) = Rules::of(problem) else {
        return problem.clone();
    };
    let is_made = |pair: &Pair, seating: &Seating| {
        let (module, teeth) = (pair.module.of(problem), [pair.driver, pair.driven]);
        rules
            .pair(module, teeth, seating.holes, set.centre_distance)
            .is_ok()
    };
    let head = set
        .head
        .iter()
        .all(|pair| is_made(pair, &problem.head_seating()));
    let mut speeds = set.pairs.iter().zip(problem.speed_seatings());
    let reverse = set.reverse.iter().all(|gears| {
        let teeth = [gears.driver, gears.idler, gears.driven];
        let made = rules.reverse(problem, gears.module.of(problem), teeth);
        made.is_ok()
    });
    if head && reverse && speeds.all(|(pair, seating)| is_made(pair, &seating)) {
        problem.clone()
    } else {
        problem.clone().found()
    }
}

/// A role as people call it: `head`, `speed 1`, `reverse`.
pub fn called(problem: &Problem, role: Role) -> String {
    match role {
        Role::Speed(_) => format!("speed {}", role.name(problem)),
        Role::Head | Role::Reverse => role.name(problem).to_owned(),
    }
}
