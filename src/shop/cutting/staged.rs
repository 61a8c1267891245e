//! The best way known, and what is proved of it.

use super::plan::{Cost, Plan, Proof, cost, laid_out};
use crate::stock::{Opened, Piece, Stock};

/// The best way so far.
#[derive(Debug)]
pub(super) struct Best<'a> {
    pub(super) pieces: &'a [Piece],
    pub(super) stock: &'a Stock,
    way: Option<(Cost, Vec<Opened>)>,
    at_least: u64,
    bars_proved: bool,
    metal_proved: bool,
}

impl<'a> Best<'a> {
    pub(super) fn start(pieces: &'a [Piece], stock: &'a Stock, way: Vec<Opened>) -> Self {
        let mut best = Self {
            pieces,
            stock,
            way: None,
            at_least: 0,
            bars_proved: false,
            metal_proved: false,
        };
        best.offer(way);
        best
    }

    /// Takes a way that is one and better than the best; whether it is a way.
    pub(super) fn offer(&mut self, way: Vec<Opened>) -> bool {
        let Some(cost) = cost(self.pieces, self.stock, &way) else {
            return false;
        };
        if self.way.as_ref().is_none_or(|(best, _)| cost < *best) {
            self.way = Some((cost, way));
        }
        true
    }

    pub(super) fn cost(&self) -> Option<Cost> {
        self.way.as_ref().map(|(cost, _)| *cost)
    }

    pub(super) fn money(&self) -> Option<u64> {
        self.cost().map(|(money, _, _)| money)
    }

    /// No plan costs less than this.
    pub(super) fn money_is_at_least(&mut self, money: u64) {
        self.at_least = self.at_least.max(money);
    }

    /// This is the least money.
    pub(super) fn money_is(&mut self, money: u64) {
        self.at_least = money;
    }

    pub(super) fn money_at_least(&self) -> u64 {
        self.at_least
    }

    pub(super) fn money_is_proved(&self) -> bool {
        self.money() == Some(self.at_least)
    }

    /// No plan for the best's money has fewer new bars than it.
    pub(super) fn bars_are_least(&mut self) {
        self.bars_proved = true;
    }

    /// No plan for its money and bars takes less metal.
    pub(super) fn metal_is_least(&mut self) {
        self.metal_proved = true;
    }

    pub(super) fn plan(self) -> Option<Plan> {
        let proof = Proof {
            money_at_least_millionths: self.at_least,
            bars: self.bars_proved,
            metal: self.metal_proved,
        };
        let (_, way) = self.way?;
        laid_out(self.pieces, self.stock, &way, proof)
    }
}
