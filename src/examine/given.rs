//! The set that a file gives by its teeth.

use super::called;
use crate::base::Module;
use crate::problem::{CutPair, Head, Problem, Reverse, ReverseForm};
use crate::train::{ModuleId, Pair, ReverseGears, Role, Set};

/// Why a file does not give a whole set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lacking {
    /// These roles have no teeth.
    Teeth(Vec<String>),
    /// These roles do not say which of the modules listed is theirs.
    Module(Vec<String>),
    /// The file lists more than one centre distance.
    Centres,
}

impl Lacking {
    /// What is lacking and what to do, in a sentence or two.
    pub fn words(&self) -> String {
        match self {
            Self::Teeth(roles) => format!(
                "check looks over a gearbox whose teeth are known, and the file gives none for \
                 {}: add \"teeth\": [driver, driven] there ([driver, idler, driven] in reverse), \
                 or name a set of the search with --set",
                roles.join(", ")
            ),
            Self::Module(roles) => format!(
                "the file lists several modules and does not say which the gears of {} have: add \
                 \"module_mm\" beside their teeth",
                roles.join(", ")
            ),
            Self::Centres => "the file lists several centre distances, and a gearbox has one: \
                              measure it over pins in the bores and give centre_distance_mm as one \
                              number, or name a set of the search with --set"
                .to_owned(),
        }
    }
}

/// The set of the teeth that `problem` gives. Nothing asks whether they fit.
///
/// # Errors
/// What the file leaves open.
pub fn given_set(problem: &Problem) -> Result<Set, Lacking> {
    let mut open = Open::default();
    let head = problem
        .head()
        .map(|head| open.pair(problem, Role::Head, Head::cut(head)));
    let geared = problem.speeds().iter().enumerate();
    let pairs: Vec<Option<Pair>> = geared
        .filter_map(|(place, speed)| Some((place, speed.geared()?.cut())))
        .map(|(place, cut)| open.pair(problem, Role::Speed(place), cut))
        .collect();
    let reverse = problem
        .reverse()
        .map(|reverse| open.reverse(problem, reverse));
    open.closed()?;
    if problem.centre_distances().len() > 1 {
        return Err(Lacking::Centres);
    }
    Ok(Set {
        centre_distance: problem.centre_distances().at(0),
        head: head.flatten(),
        pairs: pairs.into_iter().flatten().collect(),
        reverse: reverse.flatten(),
    })
}

/// Roles that leave something open.
#[derive(Debug, Default)]
struct Open {
    teeth: Vec<String>,
    module: Vec<String>,
}

impl Open {
    fn pair(&mut self, problem: &Problem, role: Role, cut: Option<CutPair>) -> Option<Pair> {
        let Some(cut) = cut else {
            self.teeth.push(called(problem, role));
            return None;
        };
        Some(Pair {
            module: self.module(problem, role, cut.module)?,
            driver: cut.driver,
            driven: cut.driven,
        })
    }

    fn reverse(&mut self, problem: &Problem, reverse: &Reverse) -> Option<ReverseGears> {
        let Some(cut) = reverse.cut() else {
            self.teeth.push(called(problem, Role::Reverse));
            return None;
        };
        // A driver that is the gear of a speed has that gear's module.
        let shared = problem.reverse_form() == Some(ReverseForm::SharedDriver);
        let of_speed = problem.shared_speed().filter(|_| shared);
        let of_speed = of_speed.and_then(|place| problem.geared().nth(place)?.cut()?.module);
        Some(ReverseGears {
            module: self.module(problem, Role::Reverse, cut.module.or(of_speed))?,
            driver: cut.driver,
            idler: cut.idler,
            driven: cut.driven,
        })
    }

    /// The module said, or the only one there is.
    fn module(&mut self, problem: &Problem, role: Role, said: Option<Module>) -> Option<ModuleId> {
        let listed = problem.gears().modules();
        let place = match (said, listed) {
            (Some(said), _) => listed.iter().position(|module| *module == said),
            (None, [_]) => Some(0),
            (None, _) => None,
        };
        if place.is_none() {
            self.module.push(called(problem, role));
        }
        place.map(ModuleId::new)
    }

    fn closed(self) -> Result<(), Lacking> {
        if !self.teeth.is_empty() {
            return Err(Lacking::Teeth(self.teeth));
        }
        if !self.module.is_empty() {
            return Err(Lacking::Module(self.module));
        }
        Ok(())
    }
}
