//! Every mesh with its figures, and what is wrong with it.

use super::called;
use super::finding::{Amount, Finding};
use crate::base::{LENGTH_SLACK_MM, Length, plain, signed};
use crate::inspect::{Aim, MeshFigures, wanted_backlash};
use crate::involute::{Closing as Closed, Meshing, Toothing};
use crate::making::gear_of;
use crate::problem::{Closing, Problem};
use crate::train::{Gear, Role, Set, forms_of, gears_of, made_of, mesh_of, meshes_of};

/// Two gears in mesh.
#[derive(Clone, Debug)]
pub struct Mesh {
    /// What they are there for.
    pub role: Role,
    /// The gears, the driving one first.
    pub gears: [Gear; 2],
    /// How far apart their axes are, mm; of reverse, as its own teeth have it.
    pub centres_mm: f64,
    /// Where they would mesh at their reference circles, mm.
    pub standard_mm: f64,
    /// Transverse module, mm.
    pub transverse_module_mm: f64,
    /// The mesh at full teeth; none where they do not go in at all.
    pub mesh: Option<Meshing>,
    /// All its figures; as the mesh.
    pub figures: Option<MeshFigures>,
}

impl Mesh {
    /// Sum of the teeth of both.
    pub fn tooth_sum(&self) -> u32 {
        self.gears.iter().map(|gear| gear.teeth.get()).sum()
    }

    /// Sum of teeth without shift that the centres are made for, a whole number
    /// or not.
    pub fn sum_for_centres(&self) -> f64 {
        2.0 * self.centres_mm / self.transverse_module_mm
    }

    /// Its gears by name and teeth.
    pub(super) fn named(&self) -> String {
        let [one, other] = self.gears.map(|gear| gear.teeth.get());
        format!("{one} and {other} teeth")
    }
}

/// The meshes of a set: head, speeds, the two of reverse.
pub(super) fn meshes(problem: &Problem, set: &Set) -> Vec<Mesh> {
    let gears = gears_of(problem, set);
    let made = made_of(problem, set, &forms_of(problem, set));
    let helix_rad = problem.gears().helix_angle_deg().to_radians();
    let all = meshes_of(problem, set).into_iter();
    all.map(|(places, centres_mm)| {
        let own = places.map(|place| gears[place]);
        let mesh = mesh_of(&made, places, centres_mm);
        let transverse_mm = own[0].module.of(problem).mm() / helix_rad.cos();
        let figures = mesh.map(|mesh| {
            let aim = Aim::at(&mesh, wanted_backlash(problem, &mesh), true);
            MeshFigures::of(&mesh, &aim, Some(own[0].face.mm()), None)
        });
        let sum: u32 = own.iter().map(|gear| gear.teeth.get()).sum();
        Mesh {
            role: own[0].role,
            gears: own,
            centres_mm,
            standard_mm: transverse_mm * f64::from(sum) / 2.0,
            transverse_module_mm: transverse_mm,
            mesh,
            figures,
        }
    })
    .collect()
}

/// Gears that cannot be at all: no root is left, or no flank.
pub(super) fn impossible(problem: &Problem, set: &Set) -> Vec<Finding> {
    let gears = gears_of(problem, set).into_iter();
    gears
        .zip(forms_of(problem, set))
        .filter_map(|(gear, form)| {
            let module = gear.module.of(problem);
            let fault = gear_of(problem.gears(), module, gear.teeth, &form).err()?;
            let what = format!("{} teeth cannot be: {fault}", gear.teeth);
            let next = "count its teeth and measure its outside diameter again";
            Some(Finding::fault(
                "gear",
                gear.name(problem),
                what,
                next.to_owned(),
            ))
        })
        .collect()
}

/// Meshes on the shafts that do not close as the file says that they close.
pub(super) fn closing(problem: &Problem, meshes: &[Mesh]) -> Vec<Finding> {
    let on_shafts = meshes.iter().filter(|mesh| mesh.role != Role::Reverse);
    on_shafts
        .filter_map(|mesh| match problem.gears().closing() {
            Closing::Tolerance(_) => None,
            Closing::Backlash { min, max } => ranged(problem, mesh, (min, max)),
            Closing::Shift { min, max } => shifted(problem, mesh, (min.to_f64(), max.to_f64())),
        })
        .collect()
}

/// Backlash that no cut brings into the range asked for.
fn ranged(problem: &Problem, mesh: &Mesh, (min, max): (Length, Length)) -> Option<Finding> {
    let play = mesh.mesh.as_ref()?.backlash_mm();
    let thinning = problem.gears().max_thinning();
    if play > max.mm() + LENGTH_SLACK_MM {
        return Some(loose(problem, mesh, play, max.mm(), "you allow"));
    }
    let thinned = play + 2.0 * thinning.mm();
    if thinned >= min.mm() - LENGTH_SLACK_MM {
        return None;
    }
    let short = min.mm() - thinned;
    let what = format!(
        "{} lack {} mm of play: {} mm at the working circle with full teeth, {} mm with both \
         gears cut {thinning} mm thinner, and {min} mm is the least you allow",
        mesh.named(),
        plain(short, 3),
        plain(play, 3),
        plain(thinned, 3),
    );
    let next = tight_next(mesh);
    let finding = Finding::fault("binds", called(problem, mesh.role), what, next);
    let allowed = problem.limits().allow_binding();
    Some(finding.by(Amount::mm(short)).remark_if(allowed))
}

/// Shifts that close the centres but lie outside those that the file gives.
fn shifted(problem: &Problem, mesh: &Mesh, (min, max): (f64, f64)) -> Option<Finding> {
    let gears = problem.gears();
    let module = mesh.gears[0].module.of(problem).mm();
    let beta = gears.helix_angle_deg().to_radians();
    let toothing = Toothing::new(*gears.rack(), module, beta).ok()?;
    let teeth = mesh.gears.map(|gear| gear.teeth);
    let sum = Closed::at_centres(toothing, teeth, mesh.centres_mm).map(|c| c.shift_sum());
    let place = called(problem, mesh.role);
    let a = plain(mesh.centres_mm, 3);
    match sum {
        Ok(sum) if (2.0 * min..=2.0 * max).contains(&sum) => None,
        Ok(sum) => {
            let what = format!(
                "{} close {a} mm only with shifts of {} in all, and the file gives {} to {}",
                mesh.named(),
                signed(sum, 3),
                signed(2.0 * min, 2),
                signed(2.0 * max, 2),
            );
            let next = "count the teeth and measure the centres again; if both are right, widen \
                        gears.profile_shift";
            let amount = Amount {
                value: sum,
                unit: "modules",
            };
            Some(Finding::fault("shift", place, what, next.to_owned()).by(amount))
        }
        Err(fault) => {
            let what = format!("{} do not go in at {a} mm: {fault}", mesh.named());
            Some(Finding::fault("binds", place, what, tight_next(mesh)))
        }
    }
}

pub(super) fn loose(problem: &Problem, mesh: &Mesh, play: f64, most: f64, usual: &str) -> Finding {
    let what = format!(
        "{} are loose: {} mm of backlash at the working circle from the centres alone, and {usual} \
         {} mm; they need {} mm between the axes, which are {} mm apart",
        mesh.named(),
        plain(play, 3),
        plain(most, 3),
        plain(mesh.standard_mm, 3),
        plain(mesh.centres_mm, 3),
    );
    let next = format!(
        "count the teeth and measure the centres over pins again; {}",
        made_for(mesh)
    );
    let place = called(problem, mesh.role);
    Finding::fault("loose", place, what, next).by(Amount::mm(play - most))
}

/// Which sums of teeth the centres are made for.
fn made_for(mesh: &Mesh) -> String {
    format!(
        "these centres are made for {} teeth in all of module {} mm, and there are {}",
        plain(mesh.sum_for_centres(), 2),
        plain(mesh.transverse_module_mm, 3),
        mesh.tooth_sum(),
    )
}

pub(super) fn tight_next(mesh: &Mesh) -> String {
    format!(
        "do not force it: count the teeth and measure the centres over pins again; {}",
        made_for(mesh)
    )
}
