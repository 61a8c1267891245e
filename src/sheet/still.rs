//! A drawing as paper has it: one state, one side of the idler, nothing moves.

use super::drawing::{Drawing, Group, Item, Kind, Layer, at};
use crate::problem::Side;

impl Drawing {
    /// What is drawn in one state with the idler on one side, everything where
    /// it stands then. A gear that shows its teeth does not show its circles
    /// beside them.
    #[must_use]
    pub fn still(&self, state: &str, side: Side) -> Self {
        let drawn: Vec<&Group> = self
            .groups
            .iter()
            .filter(|group| group.is_drawn(state, side))
            .collect();
        let toothed = |of: &str| {
            let mut gears = drawn.iter().filter(|group| group.kind == Kind::Gear);
            gears.any(|gear| gear.of == of)
        };
        let shown = drawn
            .iter()
            .filter(|group| group.kind != Kind::Circles || !toothed(&group.of));
        Self {
            title: self.title.clone(),
            about: self.about.clone(),
            frame: self.frame,
            groups: shown.map(|group| group.stood(state)).collect(),
        }
    }
}

impl Group {
    fn is_drawn(&self, state: &str, side: Side) -> bool {
        let here = self.states.is_empty() || self.states.iter().any(|name| name == state);
        here && self.side.is_none_or(|own| own == side)
    }

    /// Moved to where it stands in a state, for good, without the mark by which
    /// the eye follows a gear that turns.
    fn stood(&self, state: &str) -> Self {
        let moved = self.moves.iter().find(|(name, _)| name == state);
        let by = at(moved.map_or(0.0, |(_, by_mm)| *by_mm), 0.0);
        let turns = |item: &&Item| self.kind == Kind::Gear && item.layer == Layer::Mark;
        let items = self.items.iter().filter(|item| !turns(item)).cloned();
        let items = items.map(|item| item.layer.draws(item.shape.shifted(by)));
        Self::new(self.kind, self.of.clone(), items.collect())
    }
}
