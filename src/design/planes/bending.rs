//! Bending moments of the two shafts, each on simple supports at the inner
//! faces of the walls.

use super::given::Load;
use super::rows::Row;
use crate::train::Role;

/// The loads of one state with the rows at whose middles they are.
#[derive(Clone, Copy, Debug)]
struct State {
    fixed: usize,
    free: usize,
    head: Option<usize>,
    load: Load,
}

/// Loads, ready to be asked for places.
#[derive(Debug)]
pub(super) struct Beams {
    states: Vec<State>,
}

impl Beams {
    /// `with` is the row whose fixed gear drives reverse.
    pub(super) fn of(rows: &[Row], loads: &[Load], with: Option<usize>) -> Self {
        let row = |role| rows.iter().position(|row| row.role == role);
        let states = loads.iter().filter_map(|load| {
            let free = row(load.role)?;
            let fixed = match load.role {
                Role::Reverse => with?,
                _ => free,
            };
            Some(State {
                fixed,
                free,
                head: row(Role::Head),
                load: *load,
            })
        });
        Self {
            states: states.collect(),
        }
    }

    /// The largest moment over all states and both shafts, N·mm. `middles_mm`
    /// are the planes' by row.
    pub(super) fn worst_n_mm(&self, middles_mm: &[Option<f64>], length_mm: f64) -> f64 {
        let at = |row: usize| middles_mm.get(row).copied().flatten();
        let mut worst: f64 = 0.0;
        for state in &self.states {
            if let Some(free) = at(state.free) {
                worst = worst.max(single_n_mm(state.load.on_driven_n, free, length_mm));
            }
            if let Some(fixed) = at(state.fixed) {
                let own = (fixed, state.load.on_driver_n);
                let head = state.head.and_then(at);
                let head = head.map(|z_mm| (z_mm, state.load.on_head_n));
                worst = worst.max(double_n_mm(own, head, length_mm));
            }
        }
        worst
    }

    /// No more than the worst moment of any box that is at least `length_mm`
    /// long and has the given planes where they are; every other plane's
    /// middle is at least `from_mm[row]` from the input wall and `to_mm[row]`
    /// from the output wall.
    pub(super) fn least_n_mm(
        &self,
        middles_mm: &[Option<f64>],
        length_mm: f64,
        from_mm: impl Fn(usize) -> f64,
        to_mm: impl Fn(usize) -> f64,
    ) -> f64 {
        let at = |row: usize| middles_mm.get(row).copied().flatten();
        // Nearest to a wall that a plane may be: the moment has its least at
        // one of the two.
        let nearest = |load_n: [f64; 2], row: usize| {
            let ends = [from_mm(row), to_mm(row)];
            let moments = ends.map(|z_mm| single_n_mm(load_n, z_mm.min(length_mm), length_mm));
            moments[0].min(moments[1])
        };
        let mut least: f64 = 0.0;
        for state in &self.states {
            let load = &state.load;
            least = least.max(match at(state.free) {
                // Grows with the length of the beam behind it.
                Some(z_mm) => single_n_mm(load.on_driven_n, z_mm, length_mm),
                None => nearest(load.on_driven_n, state.free),
            });
            let fixed = at(state.fixed);
            let head = state.head.and_then(at);
            least = least.max(match (fixed, head) {
                (Some(z_mm), Some(head_mm)) => {
                    let own = (z_mm, load.on_driver_n);
                    growing_n_mm(own, (head_mm, load.on_head_n), length_mm)
                }
                (Some(z_mm), None) => single_n_mm(load.on_driver_n, z_mm, length_mm),
                (None, None) => nearest(load.on_driver_n, state.fixed),
                (None, Some(_)) => 0.0,
            });
        }
        least
    }
}

fn size(vector: [f64; 2]) -> f64 {
    vector[0].hypot(vector[1])
}

/// W z (L − z) / L.
fn single_n_mm(load_n: [f64; 2], z_mm: f64, length_mm: f64) -> f64 {
    size(load_n) * z_mm * (length_mm - z_mm) / length_mm
}

/// The larger moment at two loads; between them it is smaller, for the length
/// of a vector that changes evenly has no summit inside.
fn double_n_mm(own: (f64, [f64; 2]), head: Option<(f64, [f64; 2])>, length_mm: f64) -> f64 {
    let Some(head) = head else {
        return single_n_mm(own.1, own.0, length_mm);
    };
    let (near, far) = if own.0 <= head.0 {
        (own, head)
    } else {
        (head, own)
    };
    let at = |z_mm: f64| {
        let part = |load: &(f64, [f64; 2]), i: usize| {
            let lever = if z_mm < load.0 {
                z_mm * (length_mm - load.0)
            } else {
                load.0 * (length_mm - z_mm)
            };
            load.1[i] * lever / length_mm
        };
        size([
            part(&near, 0) + part(&far, 0),
            part(&near, 1) + part(&far, 1),
        ])
    };
    at(near.0).max(at(far.0))
}

/// The least that [`double_n_mm`] may become as the beam grows behind its
/// loads: at the far load the moment grows with the length; at the near one
/// it is z (A − B/L), whose least lies where A·B L = B², or at an end.
fn growing_n_mm(own: (f64, [f64; 2]), head: (f64, [f64; 2]), length_mm: f64) -> f64 {
    let (near, far) = if own.0 <= head.0 {
        (own, head)
    } else {
        (head, own)
    };
    let sum = |f: &dyn Fn(usize) -> f64| [f(0), f(1)];
    let arms = sum(&|i| near.1[i] * near.0 + far.1[i] * far.0);
    let loads = sum(&|i| near.1[i] + far.1[i]);
    let at_far = size(arms) * (1.0 - far.0 / length_mm);
    let square = arms[0] * arms[0] + arms[1] * arms[1];
    let along = loads[0] * arms[0] + loads[1] * arms[1];
    let inverse = if square > 0.0 {
        (along / square).clamp(0.0, 1.0 / length_mm)
    } else {
        0.0
    };
    let at_near = near.0 * size(sum(&|i| loads[i] - arms[i] * inverse));
    at_far.max(at_near)
}

#[cfg(test)]
mod tests {
    use super::*;

    const DOWN_100_N: [f64; 2] = [0.0, -100.0];

    // 100 N in the middle of 80 mm: W L / 4 = 2000 N·mm.
    #[test]
    fn a_load_in_the_middle() {
        assert!((single_n_mm(DOWN_100_N, 40.0, 80.0) - 2000.0).abs() < 1e-9);
    }

    // 100 N at 20 and at 60 of 80: reactions 100 each, 100 * 20 = 2000 at both.
    // Turned against each other: reactions 50 and -50, 50 * 20 = 1000.
    #[test]
    fn two_loads() {
        let own = (60.0, DOWN_100_N);
        let with = double_n_mm(own, Some((20.0, DOWN_100_N)), 80.0);
        assert!((with - 2000.0).abs() < 1e-9);
        let against = double_n_mm(own, Some((20.0, [0.0, 100.0])), 80.0);
        assert!((against - 1000.0).abs() < 1e-9);
    }

    #[test]
    fn the_bound_of_a_growing_beam_holds() {
        for turn in 0..24 {
            let angle = f64::from(turn) * 0.27;
            let own = (47.0, [90.0 * angle.cos(), 90.0 * angle.sin()]);
            let head = (11.0, [0.0, 130.0]);
            let bound = growing_n_mm(own, head, 60.0);
            for more in 0..400 {
                let length_mm = 60.0 + f64::from(more);
                let moment = double_n_mm(own, Some(head), length_mm);
                assert!(bound <= moment + 1e-9, "{turn} {more}");
            }
        }
    }
}
