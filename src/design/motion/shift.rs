//! What a dog must take up when a speed is changed.

use super::{Gearing, Rate, Turns};

/// Which way a speed is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// To a smaller ratio: the input turns slower afterwards.
    Up,
    /// To a larger ratio.
    Down,
}

/// A change from one forward speed to the neighbouring one, neighbours by
/// their ratios. The output keeps its speed; the new gear is met while it still
/// turns as the input's speed before the change makes it (common practice, no
/// source).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shift {
    /// Place of the speed before, among all speeds of the problem.
    pub from: usize,
    /// Place of the speed after.
    pub to: usize,
    /// Which way.
    pub way: Way,
    /// Speed of the new speed's gear less that of its shaft, per input turn
    /// before the change, signed as all turns are.
    pub difference: Rate,
    /// The same in per cent of the shaft's speed: positive where the gear turns
    /// faster than its shaft and must be slowed down.
    pub difference_percent: f64,
    /// The input's speed after the change, per input turn before it.
    pub input_after: Rate,
}

impl Gearing<'_> {
    /// Up through all speeds, then down again.
    pub(super) fn shifts(&self, input_rpm: Option<f64>) -> Vec<Shift> {
        let places = self.by_speed();
        let steps = || places.iter().zip(places.iter().skip(1));
        let up = steps().filter_map(|(&slow, &fast)| self.shift(slow, fast, Way::Up, input_rpm));
        let down = steps().rev();
        let down = down.filter_map(|(&slow, &fast)| self.shift(fast, slow, Way::Down, input_rpm));
        up.chain(down).collect()
    }

    fn shift(&self, from: usize, to: usize, way: Way, input_rpm: Option<f64>) -> Option<Shift> {
        let (shaft, gear) = (self.speed_turns(from), self.speed_turns(to));
        Some(Shift {
            from,
            to,
            way,
            difference: Rate::of(gear.less(shaft), input_rpm),
            difference_percent: 100.0 * gear.over(shaft)?.less(Turns::ONE).to_f64(),
            input_after: Rate::of(shaft.over(gear)?, input_rpm),
        })
    }
}
