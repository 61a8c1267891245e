//! Gears under limits: what is said of how they are made.
//!
//! A split of the shift sum is not worked out again. It is held against what
//! makes it the right one: the mesh closes; every limit holds; and either the
//! specific sliding at both ends of the path is the same, or the least move
//! towards that breaks a limit.

use super::breach::{Breach, Role};
use super::claims::geared;
use super::room;
use super::tooth::{Tooth, shifts};
use crate::base::{Decimal, LENGTH_SLACK_MM, Length, Module, Teeth};
use crate::involute::{inverse_involute, involute};
use crate::problem::{Bore, Cutting, Problem, Seating, Shaft};
use crate::train::{Form, ReverseGears, Set};

/// Figures that two ways of computing give may differ by this, modules.
const SLACK: f64 = 1e-9;
/// A move of the shift that is felt, modules.
const MOVE: f64 = 1e-6;

/// What the reverse gears measure.
pub(super) struct ReverseLengths {
    /// From driver to idler and from idler to driven gear, mm.
    pub(super) to_idler: [f64; 2],
    /// Tip radii of driver and driven gear, mm.
    pub(super) tips: [f64; 2],
}

/// Two teeth in mesh.
#[derive(Clone, Copy)]
struct Mesh {
    gears: [Tooth; 2],
    centres: f64,
    working_rad: f64,
    module: f64,
}

/// Every breach of the limits by gears made as `forms` says, in the order of
/// [`Set::gears`].
pub(super) fn check(problem: &Problem, set: &Set, forms: &[Form], breaches: &mut Vec<Breach>) {
    if forms.len() != set.gears().count() {
        breaches.push(Breach::FigureMissing {
            name: "shifts".to_owned(),
        });
        return;
    }
    if !problem.judges() {
        let plain = |form: &Form| form.is_plain();
        if !forms.iter().all(plain) {
            breaches.push(making(Role::Head, "shift without profile_shift", 1.0, 0.0));
        }
        return;
    }
    let mut forms = forms.chunks(2);
    let roles = geared(problem)
        .map(|(role, _)| role)
        .zip(problem.speed_seatings());
    let head = set
        .head
        .map(|pair| (Role::Head, problem.head_seating(), pair));
    let pairs = set.pairs.iter().zip(roles);
    let speeds = pairs.map(|(pair, (role, seating))| (role, seating, *pair));
    for (role, seating, pair) in head.into_iter().chain(speeds) {
        if let Some(&[one, other]) = forms.next() {
            let module = pair.module.of(problem);
            let pair = [pair.driver, pair.driven];
            let checked = Pairing {
                problem,
                role: &role,
                module,
                teeth: pair,
                holes: seating.holes,
                centres: set.centre_distance.mm(),
            };
            checked.check([one, other], breaches);
        }
    }
}

fn making(role: Role, what: &str, is: f64, limit: f64) -> Breach {
    Breach::Making {
        role,
        what: what.to_owned(),
        is,
        limit,
    }
}

/// A pair of head or speed.
struct Pairing<'a> {
    problem: &'a Problem,
    role: &'a Role,
    module: Module,
    teeth: [Teeth; 2],
    holes: [Option<Bore>; 2],
    centres: f64,
}

impl Pairing<'_> {
    fn mesh(&self, forms: [Form; 2]) -> Option<Mesh> {
        let tooth = |i: usize| Tooth::new(self.problem, self.module, self.teeth[i], forms[i]);
        Mesh::new(&[tooth(0), tooth(1)], self.centres, self.module.mm())
    }

    fn check(&self, forms: [Form; 2], breaches: &mut Vec<Breach>) {
        let Some(mesh) = self.mesh(forms) else {
            breaches.push(making(self.role.clone(), "base circles", self.centres, 0.0));
            return;
        };
        tools(self.problem, self.role, &self.teeth, breaches);
        if self.problem.gears().closing().shifts() {
            self.closes(&mesh, forms, breaches);
        } else {
            self.goes_in(&mesh, forms, breaches);
        }
        let mut broken = mesh.broken(self.problem, self.holes, self.module);
        if self.problem.limits().extra_tip_shortening() {
            // A tip may have been turned down to below the reference circle.
            broken.retain(|(what, ..)| *what != LOW_TIP);
        }
        broken.extend(mesh.runs(self.problem));
        for (what, is, limit) in broken {
            breaches.push(making(self.role.clone(), what, is, limit));
        }
    }

    /// Shifts close the mesh, tips keep the clearance, the split is the right
    /// one.
    fn closes(&self, mesh: &Mesh, forms: [Form; 2], breaches: &mut Vec<Breach>) {
        let mut wrong = |what, is, limit| {
            breaches.push(making(self.role.clone(), what, is, limit));
        };
        let sum = mesh.closing_sum();
        let said = forms[0].shift + forms[1].shift;
        if (said - sum).abs() > SLACK {
            wrong("sum of the shifts", said, sum);
        }
        let [one, other] = &mesh.gears;
        let spread = (self.centres - one.radius - other.radius) / mesh.module;
        let kept = (spread - sum).min(0.0);
        let turned_down = self.problem.limits().extra_tip_shortening();
        for form in forms {
            let below = form.tip_shortening < kept - SLACK;
            if form.tip_shortening > kept + SLACK || (below && !turned_down) {
                wrong("tip shortening", form.tip_shortening, kept);
            }
        }
        let by_clearance = forms.map(|form| Form {
            tip_shortening: kept,
            ..form
        });
        if let Some(lack) = self.better_split(by_clearance) {
            wrong("split of the shifts", said, said + lack);
        }
    }

    /// The move of the first shift, if any, that brings sliding nearer to
    /// balance and breaks no limit.
    fn better_split(&self, forms: [Form; 2]) -> Option<f64> {
        let mesh = self.mesh(forms)?;
        let towards = mesh.unbalance()?;
        let by = MOVE * towards.signum();
        let moved = [
            Form {
                shift: forms[0].shift + by,
                ..forms[0]
            },
            Form {
                shift: forms[1].shift - by,
                ..forms[1]
            },
        ];
        let other = self.mesh(moved)?;
        let still = other.unbalance().is_some_and(|left| left * towards > 0.0);
        let mut broken = other.broken(self.problem, self.holes, self.module);
        if self.problem.limits().extra_tip_shortening() {
            // Where tips are turned down, interference did not bound the split.
            let was = mesh.broken(self.problem, self.holes, self.module);
            if was.iter().any(|(what, ..)| *what == INTERFERENCE) {
                broken.retain(|(what, ..)| *what != INTERFERENCE);
            }
        }
        (still && broken.is_empty()).then_some(by)
    }

    /// Plain gears go in with no more thinning than is allowed.
    fn goes_in(&self, mesh: &Mesh, forms: [Form; 2], breaches: &mut Vec<Breach>) {
        let mut wrong = |what, is, limit| {
            breaches.push(making(self.role.clone(), what, is, limit));
        };
        let turned_down = self.problem.limits().extra_tip_shortening();
        for form in forms {
            let lowered = form.tip_shortening < 0.0 && !turned_down;
            if form.shift.abs() > 0.0 || form.tip_shortening > 0.0 || lowered {
                wrong("shift of a plain gear", form.shift, 0.0);
            }
        }
        let opened = involute(mesh.working_rad) - involute(mesh.gears[0].across_rad);
        let play = 2.0 * self.centres * opened;
        let least = -2.0 * self.problem.gears().max_thinning().mm();
        if !self.problem.limits().allow_binding() && play < least - 2.0 * LENGTH_SLACK_MM {
            wrong("backlash, mm", play, least);
        }
    }
}

const LOW_TIP: &str = "tip above the reference circle";
const INTERFERENCE: &str = "tip below the mate's flank, mm";

/// A limit, what it holds and what it should.
type Broken = (&'static str, f64, f64);

impl Mesh {
    fn new(gears: &[Tooth; 2], centres: f64, module: f64) -> Option<Self> {
        let cos = (gears[0].base() + gears[1].base()) / centres;
        (cos < 1.0).then(|| Self {
            gears: *gears,
            centres,
            working_rad: cos.acos(),
            module,
        })
    }

    /// The sum of shifts that closes the centres without play.
    fn closing_sum(&self) -> f64 {
        let [one, other] = &self.gears;
        let apart = self.centres - one.radius - other.radius;
        if apart.abs() < 1e-12 * self.centres {
            return 0.0;
        }
        let opened = involute(self.working_rad) - involute(one.across_rad);
        one.teeth_per_shift() * opened + other.teeth_per_shift() * opened
    }

    /// The path of contact from tip to tip, from the first gear's base circle.
    fn path(&self) -> (f64, f64, f64) {
        let [one, other] = &self.gears;
        let whole = self.centres * self.working_rad.sin();
        (whole - other.way(other.tip), one.way(one.tip), whole)
    }

    /// Whether the first shift must grow (positive) or fall to balance specific
    /// sliding; nothing where it is balanced to what doubles hold, or where an
    /// end of the path lies past a base circle.
    fn unbalance(&self) -> Option<f64> {
        let (from, to, whole) = self.path();
        if from <= 0.0 || to >= whole {
            return None;
        }
        let [one, other] = &self.gears;
        let ratio = other.radius / one.radius;
        // Specific sliding at the foot of the first and of the second flank.
        let first = 1.0 - (whole - from) / (from * ratio);
        let second = 1.0 - to * ratio / (whole - to);
        let apart = second - first;
        (apart.abs() > 1e-4 * (1.0 + first.abs())).then_some(apart)
    }

    /// Limits that bound the split, where they do not hold.
    fn broken(&self, problem: &Problem, holes: [Option<Bore>; 2], module: Module) -> Vec<Broken> {
        let limits = problem.limits();
        let (least, most) = shifts(problem, module);
        let mut broken = Vec::new();
        let mut hold = |what, is: f64, limit: f64| {
            if is < limit - SLACK {
                broken.push((what, is, limit));
            }
        };
        let (from, to, whole) = self.path();
        let feet = [from, whole - to];
        for ((gear, hole), start) in self.gears.iter().zip(holes).zip(feet) {
            hold("shift", gear.shift, least);
            hold("shift", -gear.shift, -most);
            hold(LOW_TIP, gear.height, 0.0);
            if let Some(hole) = hole {
                hold(
                    "wall, mm",
                    gear.wall(&hole),
                    limits.min_wall().mm() - 2.0 * LENGTH_SLACK_MM,
                );
            }
            if !limits.allow_undercut() {
                hold("shift against undercut", gear.shift, gear.uncut_from());
            }
            let thick = limits.min_tip_thickness().to_f64();
            hold("tip thickness, modules", gear.tip_thickness(), thick);
            if !limits.allow_interference() {
                hold(INTERFERENCE, start - gear.foot(), -2.0 * LENGTH_SLACK_MM);
            }
        }
        let contact = (to - from) / self.base_pitch();
        hold(
            "contact ratio",
            contact,
            limits.min_contact_ratio().to_f64(),
        );
        broken
    }

    /// What a mesh that is made must hold besides.
    fn runs(&self, problem: &Problem) -> Vec<Broken> {
        let limits = problem.limits();
        let mut broken = Vec::new();
        let (from, to, whole) = self.path();
        let [one, other] = &self.gears;
        let true_path = to.min(whole - other.foot()) - from.max(one.foot());
        let contact = true_path / self.base_pitch();
        let asked = limits.min_contact_ratio().to_f64();
        if contact < asked - SLACK {
            broken.push(("contact ratio", contact, asked));
        }
        let usual = problem.gears().rack().least_tip_clearance();
        let least = limits.min_tip_clearance().map_or(usual, Decimal::to_f64);
        for (tip, root) in [(one.tip, other.root), (other.tip, one.root)] {
            let gap = (self.centres - tip - root) / self.module;
            if gap < least - 10.0 * SLACK {
                broken.push(("tip clearance, modules", gap, least));
            }
        }
        broken
    }

    fn base_pitch(&self) -> f64 {
        self.gears[0].base_pitch()
    }
}

fn tools(problem: &Problem, role: &Role, teeth: &[Teeth], breaches: &mut Vec<Breach>) {
    if problem.gears().cutting() != Cutting::Form {
        return;
    }
    let cos = problem.gears().helix_angle_deg().to_radians().cos();
    for z in teeth {
        let seen = f64::from(*z) / cos.powi(3);
        if seen + 0.5 < 12.0 {
            breaches.push(making(
                role.clone(),
                "teeth that a form cutter sees",
                seen,
                12.0,
            ));
        }
    }
}

/// What the reverse gears measure when made as `forms` says; nothing where the
/// problem judges nothing, or they do not mesh.
pub(super) fn reverse_lengths(
    problem: &Problem,
    gears: ReverseGears,
    forms: &[Form],
) -> Option<ReverseLengths> {
    let [driver, idler, driven] = reverse_teeth(problem, gears, forms)?;
    Some(ReverseLengths {
        to_idler: [closed_at(&driver, &idler)?, closed_at(&driven, &idler)?],
        tips: [driver.tip, driven.tip],
    })
}

fn reverse_teeth(problem: &Problem, gears: ReverseGears, forms: &[Form]) -> Option<[Tooth; 3]> {
    let &[.., driver, idler, driven] = forms else {
        return None;
    };
    let module = gears.module.of(problem);
    let tooth = |teeth, form| Tooth::new(problem, module, teeth, form);
    Some([
        tooth(gears.driver, driver),
        tooth(gears.idler, idler),
        tooth(gears.driven, driven),
    ])
}

/// The centre distance that two shifts close without play.
fn closed_at(one: &Tooth, other: &Tooth) -> Option<f64> {
    let spread = (one.shift + other.shift) / (one.teeth_per_shift() + other.teeth_per_shift());
    let working = inverse_involute(involute(one.across_rad) + spread)?;
    Some((one.base() + other.base()) / working.cos())
}

/// Reverse under limits: shifts nearest 0, tips, and both meshes.
pub(super) fn check_reverse(
    problem: &Problem,
    centres: Length,
    gears: ReverseGears,
    forms: &[Form],
    breaches: &mut Vec<Breach>,
) {
    if !problem.judges() {
        return;
    }
    let (Some(teeth), Some(lengths)) = (
        reverse_teeth(problem, gears, forms),
        reverse_lengths(problem, gears, forms),
    ) else {
        return breaches.push(making(Role::Reverse, "gears that mesh", 0.0, 1.0));
    };
    room::check(
        problem,
        centres.mm(),
        lengths.to_idler,
        teeth[1].tip,
        breaches,
    );
    let module = gears.module.of(problem);
    tools(
        problem,
        &Role::Reverse,
        &[gears.driver, gears.idler, gears.driven],
        breaches,
    );
    let Seating { holes, .. } = problem.reverse_seating();
    let holes = [holes[0], problem.bores().on(Shaft::Idler), holes[1]];
    let mut wrong = |what, is, limit| breaches.push(making(Role::Reverse, what, is, limit));
    for tooth in &teeth {
        let (least, most) = shifts(problem, module);
        let uncut = if problem.limits().allow_undercut() {
            least
        } else {
            least.max(tooth.uncut_from())
        };
        let nearest = 0.0_f64.max(uncut).min(most);
        if (tooth.shift - nearest).abs() > SLACK || uncut > most + SLACK {
            wrong("shift nearest 0", tooth.shift, nearest);
        }
    }
    let [driver, idler, driven] = teeth;
    let [one, other] = lengths.to_idler;
    let turned_down = problem.limits().extra_tip_shortening();
    let kept = |outer: &Tooth, centres: f64| {
        let spread = (centres - outer.radius - idler.radius) / module.mm();
        (spread - outer.shift - idler.shift).min(0.0)
    };
    let (with_driver, with_driven) = (kept(&driver, one), kept(&driven, other));
    let lower = with_driver.min(with_driven);
    let addendum = problem.gears().rack().addendum;
    for (tooth, kept) in [(driver, with_driver), (idler, lower), (driven, with_driven)] {
        let k = tooth.height - addendum - tooth.shift;
        if k > kept + SLACK || (k < kept - SLACK && !turned_down) {
            wrong("tip shortening", k, kept);
        }
    }
    for (outer, centres, hole) in [(driver, one, holes[0]), (driven, other, holes[2])] {
        let Some(mesh) = Mesh::new(&[outer, idler], centres, module.mm()) else {
            wrong("base circles", centres, 0.0);
            continue;
        };
        let mut broken = mesh.broken(problem, [hole, holes[1]], module);
        // Only the split of a pair asks the first and last of these; tips of
        // reverse gears may lie anywhere.
        broken.retain(|(what, ..)| *what != LOW_TIP);
        broken.extend(mesh.runs(problem));
        for (what, is, limit) in broken {
            wrong(what, is, limit);
        }
    }
}
