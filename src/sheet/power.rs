//! What the power passes, as a line along the section.

use super::drawing::{Group, Kind, Layer, Shape, Vertex, at};
use super::views::{Scene, state_name};
use crate::design::motion::{StateMotion, Step};
use crate::design::planes::{Layout, Part, PartId};
use crate::problem::{Shaft, Side};
use crate::train::Role;

/// One line a state, for either side of the idler where it passes that.
pub(super) fn power_lines(scene: &Scene<'_>, layout: &Layout) -> Vec<Group> {
    let states = scene.plan.motion.iter().flat_map(|motion| &motion.states);
    states
        .filter_map(|state| power_line(scene, layout, state))
        .collect()
}

fn power_line(scene: &Scene<'_>, layout: &Layout, state: &StateMotion) -> Option<Group> {
    let mut points = Vec::new();
    let mut last = None;
    for step in &state.path {
        match *step {
            Step::Shaft(shaft) => last = Some(shaft),
            Step::Gear(gear) => {
                let role = gear.role;
                let x = layout
                    .middle_mm(role)
                    .or_else(|| shared(scene, layout, role))?;
                let axis = scene.axis(gear.shaft(scene.problem), Side::Right)?;
                points.push(at(x, axis.y_mm));
            }
        }
    }
    let [from, _] = ends(layout, Shaft::Input)?;
    points.insert(0, at(from, scene.axis(Shaft::Input, Side::Right)?.y_mm));
    let last = last?;
    let [_, to] = ends(layout, last)?;
    points.push(at(to, scene.axis(last, Side::Right)?.y_mm));
    points.dedup_by(|one, other| one == other);
    let path = Shape::Path {
        corners: points.into_iter().map(Vertex::corner).collect(),
        closed: false,
    };
    let name = state_name(scene.problem, state.state);
    let mut group = Group::new(
        Kind::Power,
        format!("power in {name}"),
        vec![Layer::Power.draws(path)],
    );
    group.states = vec![name];
    Some(group)
}

/// Reverse has a plane of its own unless it shares a speed's driver.
fn shared(scene: &Scene<'_>, layout: &Layout, role: Role) -> Option<f64> {
    let place = scene.problem.shared_speed_among_all()?;
    layout
        .middle_mm(Role::Speed(place))
        .filter(|_| role == Role::Reverse)
}

/// From where to where a shaft reaches.
fn ends(layout: &Layout, shaft: Shaft) -> Option<[f64; 2]> {
    let own = |part: &&Part| part.id == PartId::Shaft(shaft);
    let parts = || layout.parts.iter().filter(own);
    let from = parts().map(|part| part.from_mm).reduce(f64::min)?;
    let to = parts().map(|part| part.to_mm).reduce(f64::max)?;
    Some([from, to])
}
