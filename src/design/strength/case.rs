//! A box as its rating sees it.

use super::Service;
use super::line::Section;
use super::material::shock;
use super::utilisation::When;
use crate::design::forces::{Flow, LoadFrom, ShaftForces, StateForces};
use crate::design::motion::{Motion, State, StateMotion};
use crate::design::planes::{Gearbox, Layout, PartId};
use crate::design::{Housed, Plan};
use crate::problem::{Arrangement, Problem, Shaft};
use crate::train::{Role, Seat};

/// A laid-out box, loaded both ways.
#[derive(Clone, Debug)]
pub(super) struct Case<'a> {
    pub(super) problem: &'a Problem,
    pub(super) housed: &'a Housed<'a>,
    pub(super) gearbox: &'a Gearbox,
    pub(super) layout: &'a Layout,
    pub(super) motion: &'a Motion,
    pub(super) states: Vec<(Flow, &'a StateForces)>,
    pub(super) service: Service,
}

impl<'a> Case<'a> {
    /// None where the box could not be laid out, loaded or turned.
    pub(super) fn of(plan: &'a Plan<'a>, service: Service) -> Option<Self> {
        let driving = plan.driving.as_ref()?.as_ref().ok()?;
        let overrun = plan.overrun.as_ref()?.as_ref().ok()?;
        let with = |flow: Flow| move |state| (flow, state);
        let drives = driving.iter().map(with(Flow::Drives));
        Some(Self {
            problem: plan.housed.of().0,
            housed: &plan.housed,
            gearbox: &plan.gearbox,
            layout: plan.layout.as_ref().ok()?,
            motion: plan.motion.as_ref().ok()?,
            states: drives
                .chain(overrun.iter().map(with(Flow::Overruns)))
                .collect(),
            service,
        })
    }

    pub(super) fn shock(&self) -> f64 {
        shock(self.problem).value
    }

    pub(super) fn when(flow: Flow, state: State) -> When {
        When::In(state, flow)
    }

    pub(super) fn motion_in(&self, state: State) -> Option<&'a StateMotion> {
        self.motion.states.iter().find(|at| at.state == state)
    }

    /// Turns a minute of something that turns so per turn of the input.
    pub(super) fn rpm(&self, per_input_turn: f64) -> f64 {
        (per_input_turn * self.service.input_rpm).abs()
    }

    /// Diameter of a shaft under its gears, or of the idler's pin, mm.
    pub(super) fn diameter_mm(&self, shaft: Shaft) -> f64 {
        if shaft == Shaft::Idler {
            return 2.0 * self.housed.pin_radius_mm();
        }
        let size = self.housed.size(shaft);
        size.map_or(0.0, |size| size.diameter().mm())
    }

    /// The lengths of a shaft, from the input on.
    pub(super) fn sections(&self, shaft: Shaft) -> Vec<Section> {
        let own = |id: PartId| match shaft {
            Shaft::Idler => id == PartId::Pin,
            _ => id == PartId::Shaft(shaft),
        };
        let parts = self.layout.parts.iter().filter(|part| own(part.id));
        let mut sections: Vec<Section> = parts
            .map(|part| Section {
                from_mm: part.from_mm,
                to_mm: part.to_mm,
                outside_mm: 2.0 * part.outer_radius_mm,
                inside_mm: 2.0 * part.inner_radius_mm,
            })
            .collect();
        if let (Shaft::Input, Arrangement::InLine) = (shaft, self.problem.arrangement()) {
            self.with_input_gear(&mut sections);
        }
        sections.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
        sections
    }

    /// The input gear is of one piece with its shaft: from there on its body
    /// bends, up to the spigot full, then with the spigot's hole.
    fn with_input_gear(&self, sections: &mut Vec<Section>) {
        let mut planes = self.layout.planes.iter();
        let (Some(plane), Some(wheel)) = (
            planes.find(|plane| plane.role == Role::Head),
            self.housed.wheel(Role::Head, Seat::Driver),
        ) else {
            return;
        };
        sections.retain(|section| section.from_mm < plane.from_mm);
        let spigot_mm = plane.to_mm - self.housed.spigot_reach_mm();
        let body = |from_mm: f64, to_mm: f64, inside_mm: f64| Section {
            from_mm,
            to_mm,
            outside_mm: 2.0 * wheel.root_radius_mm,
            inside_mm,
        };
        let hole_mm = 2.0 * wheel.hole_radius_mm;
        let bodies = [
            body(plane.from_mm, spigot_mm, 0.0),
            body(spigot_mm, plane.to_mm, hole_mm),
        ];
        sections.extend(bodies.into_iter().filter(|s| s.to_mm > s.from_mm));
    }

    /// Where torque passes along a shaft, mm.
    pub(super) fn torque_span_mm(
        &self,
        state: &StateForces,
        shaft: &ShaftForces,
        sections: &[Section],
    ) -> Option<(f64, f64)> {
        if shaft.torque_n_m.abs() < f64::MIN_POSITIVE {
            return None;
        }
        let meshes = shaft.loads.iter().filter(|load| is_gear(load.from));
        let mut places: Vec<f64> = meshes.map(|load| load.z_mm).collect();
        let last = [Shaft::Main, Shaft::Output].contains(&shaft.shaft);
        if last {
            places.extend(self.hub_mm(state.state));
        }
        let least = places.iter().copied().fold(f64::INFINITY, f64::min);
        let most = places.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let ends = (sections.first()?.from_mm, sections.last()?.to_mm);
        match shaft.shaft {
            Shaft::Input if places.is_empty() => Some(ends),
            Shaft::Input => Some((ends.0, most)),
            Shaft::Main | Shaft::Output => Some((least.max(ends.0), ends.1)),
            Shaft::Layshaft | Shaft::Idler => (least < most).then_some((least, most)),
        }
    }

    /// What a state's dogs engage, [`Role::Head`] in the direct speed.
    pub(super) fn engaged(&self, state: State) -> Option<Role> {
        match state {
            State::Neutral => None,
            State::Speed(place) => {
                let geared = self.problem.speeds()[place].geared();
                Some(geared.map_or(Role::Head, |_| Role::Speed(place)))
            }
            State::Reverse => Some(Role::Reverse),
        }
    }

    /// Middle of the sleeve that engages in a state, mm.
    fn hub_mm(&self, state: State) -> Option<f64> {
        let role = self.engaged(state)?;
        let serves = |sleeve: usize| {
            let served = self.gearbox.sleeves.get(sleeve);
            served.is_some_and(|served| served.contains(&role))
        };
        let mut sleeves = self.layout.sleeves.iter();
        let found = sleeves.find(|sleeve| serves(sleeve.sleeve))?;
        Some(found.middle_mm)
    }

    /// Radius of the dog rings that a sleeve engages for a role, mm.
    pub(super) fn ring_radius_mm(&self, role: Role) -> Option<f64> {
        let mut parts = self.layout.parts.iter();
        let ring = parts.find(|part| part.id == PartId::DogRing(role))?;
        Some(ring.outer_radius_mm)
    }
}

pub(super) fn is_gear(from: LoadFrom) -> bool {
    matches!(from, LoadFrom::Gear(_))
}
