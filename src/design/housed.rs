//! A set of gears with all that it sits on, as the layout wants it.
//!
//! What the problem does not size is taken as usual, and [`Housed::taken`] says
//! so: common practice, no source.

use super::forces::StateForces;
use super::loaded::loads;
use super::planes::{
    Blanks, End, Gearbox, Goal, Idler, InputShaft, Pair, Pin, Reverse, ReverseForm as Form,
    ShaftSize as Size, Shafts, Sizes, Wheel,
};
use crate::base::{Length, Module};
use crate::making::gear_of;
use crate::problem::{
    Arrangement, Closing, HeldIn, Holding, IdlerPin, Origin, Problem, ReverseForm, Served, Shaft,
    ShaftSize, Side, Spigot,
};
use crate::train::{
    Gear, Point, Role, Seat, Set, forms_of, gears_of, idler_centres, pairs_of, reverse_lengths,
};

/// A shaft that nothing sizes is so much of the smallest root on it.
const USUAL_SHARE: f64 = 0.45;
/// A pin that nothing sizes, mm.
const USUAL_PIN_MM: f64 = 6.0;
/// Over the dog ring, mm.
const SLEEVE_OVER_RING_MM: f64 = 3.0;
/// A shaft stands out of its wall by so many diameters.
const STANDS_OUT: f64 = 1.5;
/// A spigot reaches so many diameters into the input gear.
const SPIGOT_REACH: f64 = 1.5;

/// A set with shafts, pin and case.
#[derive(Clone, Debug)]
pub struct Housed<'a> {
    problem: &'a Problem,
    set: &'a Set,
    gears: Vec<(Gear, Wheel)>,
    sizes: [Option<ShaftSize>; 5],
}

impl<'a> Housed<'a> {
    /// Of a set of `problem`.
    pub fn new(problem: &'a Problem, set: &'a Set) -> Self {
        let mut housed = Self {
            problem,
            set,
            gears: Vec::new(),
            sizes: [None; 5],
        };
        let gears: Vec<(Gear, f64, f64)> = gears_of(problem, set)
            .into_iter()
            .zip(forms_of(problem, set))
            .filter_map(|(gear, form)| {
                let module = gear.module.of(problem);
                let made = gear_of(problem.gears(), module, gear.teeth, &form).ok()?;
                Some((gear, made.tip_mm() / 2.0, made.root_mm() / 2.0))
            })
            .collect();
        for &shaft in housed.shafts() {
            let roots = gears
                .iter()
                .filter(|(gear, ..)| gear.shaft(problem) == shaft);
            let least = roots
                .map(|(_, _, root)| *root)
                .fold(f64::INFINITY, f64::min);
            let usual = || ShaftSize::assumed(2.0 * USUAL_SHARE * least);
            let size = problem.shafting().of(shaft).unwrap_or_else(usual);
            housed.sizes[shaft as usize] = Some(size);
        }
        housed.gears = gears
            .into_iter()
            .map(|(gear, tip_radius_mm, root_radius_mm)| {
                let wheel = Wheel {
                    tip_radius_mm,
                    root_radius_mm,
                    hole_radius_mm: housed.hole_mm(&gear),
                };
                (gear, wheel)
            })
            .collect();
        housed
    }

    /// The problem and the set.
    pub const fn of(&self) -> (&'a Problem, &'a Set) {
        (self.problem, self.set)
    }

    /// How far the spigot reaches into the input gear, mm.
    pub(super) fn spigot_reach_mm(&self) -> f64 {
        let width = self.face_mm(Role::Head);
        (SPIGOT_REACH * self.spigot_mm()).min(width)
    }

    /// The shafts of the box, the idler's pin aside.
    pub const fn shafts(&self) -> &'static [Shaft] {
        self.problem.arrangement().shafts()
    }

    /// The size of a shaft of the box.
    pub fn size(&self, shaft: Shaft) -> Option<ShaftSize> {
        self.sizes[shaft as usize]
    }

    /// Shafts whose size nothing in the file gives.
    pub fn taken(&self) -> Vec<Shaft> {
        let assumed = |shaft: &&Shaft| {
            self.size(**shaft)
                .is_some_and(|size| size.origin() == Origin::Assumed)
        };
        self.shafts().iter().filter(assumed).copied().collect()
    }

    /// Radius of the idler's pin, mm.
    pub fn pin_radius_mm(&self) -> f64 {
        let given = self.problem.idler_pin().map(|pin| pin.pin().mm());
        given.unwrap_or(USUAL_PIN_MM) / 2.0
    }

    /// Which wall holds the pin.
    pub fn held_in(&self) -> HeldIn {
        let given = self.problem.idler_pin().map(IdlerPin::held_in);
        given.unwrap_or(HeldIn::OutputWall)
    }

    /// Face width of the gears of a role, mm; 0 where the set has none.
    pub fn face_mm(&self, role: Role) -> f64 {
        let own = self.gears.iter().find(|(gear, _)| gear.role == role);
        own.map_or(0.0, |(gear, _)| gear.face.mm())
    }

    /// The gear in a seat of a role.
    pub fn wheel(&self, role: Role, seat: Seat) -> Option<Wheel> {
        let is = |(gear, _): &&(Gear, Wheel)| (gear.role, gear.seat) == (role, seat);
        self.gears.iter().find(is).map(|(_, wheel)| *wheel)
    }

    /// Where the idler may sit with the set's own teeth.
    pub fn idler_places(&self) -> Option<[Point; 2]> {
        let (to_outer, _) = reverse_lengths(self.problem, self.set.reverse?);
        let [upper, lower] = self.problem.arrangement().upper_lower(to_outer);
        idler_centres(self.set.centre_distance.mm(), upper, lower)
    }

    /// Fewest teeth of each module that leave the wall asked for over the hole
    /// of gears on a shaft, with as much shift as the file allows; nothing where
    /// no count up to the most does.
    pub fn least_teeth(&self, shaft: Shaft) -> Vec<Option<u32>> {
        let gears = self.problem.gears();
        let reach = self.problem.bores().on(shaft).map(|bore| bore.reach_mm());
        let most_shift = match gears.closing() {
            Closing::Shift { max, .. } => max.to_f64(),
            Closing::Tolerance(_) | Closing::Backlash { .. } => 0.0,
        };
        let root_mm = reach.map(|reach| reach + self.problem.limits().min_wall().mm());
        let beta = gears.helix_angle_deg().to_radians();
        let of = |module: &Module| {
            let depth = gears.rack().dedendum - most_shift;
            let needed = 2.0 * beta.cos() * (root_mm? / module.mm() + depth);
            let holds = |z: &u32| f64::from(*z) >= needed - 1e-9;
            (gears.min_teeth().get()..=gears.max_teeth().get()).find(holds)
        };
        gears.modules().iter().map(of).collect()
    }

    fn hole_mm(&self, gear: &Gear) -> f64 {
        let shaft = gear.shaft(self.problem);
        let given = self.problem.bores().on(shaft).map(|bore| bore.reach_mm());
        let of_input_gear = gear.role == Role::Head && gear.seat == Seat::Driver;
        given.unwrap_or_else(|| match (shaft, of_input_gear) {
            (Shaft::Idler, _) => self.pin_radius_mm(),
            (_, true) => self.spigot_mm() / 2.0,
            _ => self
                .size(shaft)
                .map_or(0.0, |size| size.diameter().mm() / 2.0),
        })
    }

    /// Diameter of the spigot, mm.
    fn spigot_mm(&self) -> f64 {
        let given = self.problem.shafting().spigot();
        given.map_or_else(
            || {
                let main = self.size(Shaft::Main);
                f64::from(Spigot::SHARE_TENTHS) / 10.0
                    * main.map_or(0.0, |size| size.diameter().mm())
            },
            |spigot| spigot.diameter().mm(),
        )
    }

    /// The box with the set's own idler on `side`, loaded as in `states`.
    pub fn boxed(&self, states: &[StateForces], side: Side) -> Gearbox {
        let layout = self.problem.layout();
        let pair = |role: Role| {
            Some(Pair {
                role,
                name: role.name(self.problem).to_owned(),
                face_width_mm: self.face_mm(role),
                driver: self.wheel(role, Seat::Driver)?,
                driven: self.wheel(role, Seat::Driven)?,
            })
        };
        let roles = pairs_of(self.problem, self.set)
            .into_iter()
            .map(|(role, _)| role);
        let (heads, speeds): (Vec<Role>, Vec<Role>) = roles.partition(|role| *role == Role::Head);
        Gearbox {
            arrangement: self.problem.arrangement(),
            centre_distance_mm: self.set.centre_distance.mm(),
            head: heads.first().and_then(|role| pair(*role)),
            speeds: speeds.into_iter().filter_map(pair).collect(),
            reverse: self.reverse(side),
            sleeves: self.sleeves(),
            sizes: self.lengths(),
            shafts: self.shaft_sizes(),
            blanks: match layout.holding() {
                Holding::Auto => Blanks::Auto,
                Holding::OnePiece => Blanks::OnePiece,
                Holding::Keyed | Holding::Bonded | Holding::Pressed => Blanks::Separate,
            },
            goal: if layout.least_bending() {
                Goal::LeastBending
            } else {
                Goal::Shortest
            },
            loads: loads(states),
            case: layout.case(),
        }
    }

    fn reverse(&self, side: Side) -> Option<Reverse> {
        let wheel = self.wheel(Role::Reverse, Seat::Idler)?;
        let place = self.idler_places()?[side as usize];
        let layout = self.problem.layout();
        let pin = match self.held_in() {
            HeldIn::OutputWall => Pin::Stub(End::Output),
            HeldIn::InputWall => Pin::Stub(End::Input),
            HeldIn::BothWalls => Pin::Through,
        };
        // It slides along its pin, towards the wall that holds it.
        let towards = match self.held_in() {
            HeldIn::InputWall => End::Input,
            _ => End::Output,
        };
        Some(Reverse {
            name: "reverse".to_owned(),
            form: match self.problem.reverse_form()? {
                ReverseForm::ConstantMesh => Form::ConstantMesh,
                ReverseForm::SharedDriver => Form::Shared {
                    with: Role::Speed(self.problem.shared_speed_among_all()?),
                },
                ReverseForm::SlidingIdler => Form::SlidingIdler {
                    towards,
                    gap_mm: layout.gap().mm(),
                },
            },
            face_width_mm: self.face_mm(Role::Reverse),
            driver: self.wheel(Role::Reverse, Seat::Driver)?,
            idler: Idler {
                wheel,
                place,
                pin_radius_mm: self.pin_radius_mm(),
                pin,
            },
            driven: self.wheel(Role::Reverse, Seat::Driven)?,
        })
    }

    /// Which gears each sleeve serves.
    fn sleeves(&self) -> Vec<Vec<Role>> {
        let speeds = self.problem.speeds();
        let role = |served: &Served| match *served {
            Served::Speed(place) if speeds[place].geared().is_none() => Role::Head,
            Served::Speed(place) => Role::Speed(place),
            Served::Reverse => Role::Reverse,
        };
        let forks = self.problem.layout().forks().iter();
        forks.map(|fork| fork.iter().map(role).collect()).collect()
    }

    fn lengths(&self) -> Sizes {
        let layout = self.problem.layout();
        let mm = |length: Length| length.mm();
        Sizes {
            dog_ring_length_mm: mm(layout.dog_ring()),
            sleeve_width_mm: mm(layout.sleeve_width()),
            sleeve_radius_mm: layout
                .sleeve_outside()
                .map_or_else(|| self.ring_mm() + SLEEVE_OVER_RING_MM, |d| d.mm() / 2.0),
            neutral_gap_mm: mm(layout.neutral_gap()),
            dog_overlap_mm: mm(layout.dog_overlap()),
            dog_ring_radius_mm: layout.dog_ring_outside().map(|d| d.mm() / 2.0),
            least_ring_mm: mm(layout.dog_wall()),
            thrust_washer_mm: mm(layout.washer()),
            circlip_mm: mm(layout.circlip()),
            end_float_mm: mm(layout.end_float()),
            least_gap_mm: mm(layout.gap()),
            cutter_radius_mm: mm(layout.cutter_radius()),
            wall_mm: mm(layout.wall()),
        }
    }

    /// Radius of the largest dog ring, mm: as given, else the largest under the
    /// roots that its sleeve serves.
    fn ring_mm(&self) -> f64 {
        if let Some(given) = self.problem.layout().dog_ring_outside() {
            return given.mm() / 2.0;
        }
        let root = |role: &Role| {
            let seat = if *role == Role::Head {
                Seat::Driver
            } else {
                Seat::Driven
            };
            self.wheel(*role, seat).map(|wheel| wheel.root_radius_mm)
        };
        let of = |roles: &Vec<Role>| roles.iter().filter_map(root).fold(f64::INFINITY, f64::min);
        self.sleeves()
            .iter()
            .map(of)
            .filter(|ring| ring.is_finite())
            .fold(0.0, f64::max)
    }

    fn shaft_sizes(&self) -> Shafts {
        let size = |shaft| {
            let size = self.size(shaft);
            let radius = |of: Option<f64>| of.unwrap_or(0.0) / 2.0;
            let bearing = size.and_then(|size| size.bearing());
            let diameter = size.map(|size| size.diameter().mm());
            Size {
                radius_mm: radius(diameter),
                bearing_bore_radius_mm: radius(bearing.map(|b| b.bore().mm()).or(diameter)),
                bearing_outside_radius_mm: radius(bearing.map(|b| b.outside().mm()).or(diameter)),
                beyond_input_mm: 0.0,
                beyond_output_mm: 0.0,
            }
        };
        let out = |mut size: Size, input: bool| {
            let reach = 2.0 * STANDS_OUT * size.radius_mm;
            if input {
                size.beyond_input_mm = reach;
            } else {
                size.beyond_output_mm = reach;
            }
            size
        };
        match self.problem.arrangement() {
            Arrangement::InLine => Shafts {
                fixed: size(Shaft::Layshaft),
                free: out(size(Shaft::Main), false),
                input: Some(InputShaft {
                    size: out(size(Shaft::Input), true),
                    spigot_radius_mm: self.spigot_mm() / 2.0,
                    spigot_length_mm: self.spigot_reach_mm(),
                }),
            },
            Arrangement::Offset => Shafts {
                fixed: out(size(Shaft::Input), true),
                free: out(size(Shaft::Output), false),
                input: None,
            },
        }
    }
}
