//! Which gears are cut already: they need neither cutter nor dividing head.

use super::model::Problem;

impl Problem {
    /// Whether the two gears of the head pair are.
    pub fn head_made(&self) -> [bool; 2] {
        [self.head.cut.is_some(); 2]
    }

    /// Whether driver and driven gear of each geared speed are, in file order.
    pub fn speeds_made(&self) -> impl Iterator<Item = [bool; 2]> {
        let shared = self.shared_speed().filter(|_| self.reverse_is_cut());
        self.geared().enumerate().map(move |(place, geared)| {
            let made = geared.cut.is_some();
            // The driver of reverse gears that are cut is this speed's.
            [made || shared == Some(place), made]
        })
    }

    /// Whether driver, idler and driven gear of reverse are.
    pub fn reverse_made(&self) -> [bool; 3] {
        let made = self.reverse_is_cut();
        let shared = self.shared_speed();
        let of_speed = shared.and_then(|place| self.geared().nth(place));
        let driver = of_speed.is_some_and(|speed| speed.cut.is_some());
        [made || driver, made, made]
    }

    fn reverse_is_cut(&self) -> bool {
        self.reverse.as_ref().is_some_and(|r| r.cut.is_some())
    }
}
