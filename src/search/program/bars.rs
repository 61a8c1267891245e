//! Bars that the blanks of a set are cut from.
//!
//! One unknown for each seat of a gear and each bar that it may be cut from, one
//! for each bar that may be bought. How long a piece is, its seat says; how
//! thick, the choice that is taken.

use super::choices::Choices;
use super::needs::part;
use super::seats::{Place, places};
use super::solver::Program;
use super::sums::held;
use crate::base::Length;
use crate::problem::Problem;
use crate::stock::{Piece, Rod, Stock};
use crate::train::{rough_length, rough_um};
use std::collections::BTreeMap;

/// A seat and the pieces that may stand there.
#[derive(Debug)]
struct Seated {
    group: usize,
    /// What the piece takes of a bar, with its cut, in steps of length.
    need: u64,
    /// The thinnest bar for each choice of the group.
    thickness: Vec<Length>,
    /// Bars that hold one of them, by their places.
    bars: Vec<usize>,
}

/// One bar that may be cut.
#[derive(Clone, Copy, Debug)]
struct OneBar {
    diameter: Length,
    room: u64,
    /// None for what is owned.
    price: Option<u64>,
    /// Its number among those that are alike.
    copy: usize,
}

/// All that pieces may be cut from.
#[derive(Debug)]
pub(super) struct Bars {
    seats: Vec<Seated>,
    bars: Vec<OneBar>,
}

/// The unknowns of a program that cuts.
#[derive(Debug, Default)]
pub(super) struct Cuts {
    /// Per seat, each bar and the unknown that says that it is cut from it.
    seats: Vec<Vec<(usize, usize)>>,
    /// Of bars to be bought, with their prices.
    pub(super) money: Vec<(usize, u64)>,
}

impl Bars {
    pub(super) fn new(problem: &Problem, choices: &Choices) -> Self {
        let mut stock = Stock::of(problem);
        let named = problem.workshop().gear_material();
        let material = named.map(|name| stock.material(name));
        let made = choices.made();
        let seats = places(problem).into_iter().map(|place| {
            let piece = |od_um| piece_at(problem, &place, od_um);
            let choices = made.get(place.group).into_iter().flatten();
            let gears = choices.map(|made| made.gear(place.gear).map_or(0, |gear| gear.od_um));
            Seated {
                group: place.group,
                need: steps(stock.need(&piece(0))),
                thickness: gears.map(|od_um| piece(od_um).diameter).collect(),
                bars: Vec::new(),
            }
        });
        let mut all = Self {
            seats: seats.collect(),
            bars: Vec::new(),
        };
        let suits = |rod: &&Rod| material.is_none_or(|named| named == rod.material);
        for rod in stock.rack().iter().filter(suits) {
            all.offer(rod.diameter, steps(stock.room(rod)), None, rod.count);
        }
        let sold: Vec<&Rod> = stock.bars().iter().filter(suits).collect();
        for rod in worth(&sold, &stock) {
            let price = Some(rod.price_millionths);
            all.offer(rod.diameter, steps(stock.room(rod)), price, usize::MAX);
        }
        all
    }

    /// Adds as many alike as may be of use. What one holds of the longest
    /// pieces, it holds of any: `n` pieces never need more than `n` over that.
    fn offer(&mut self, diameter: Length, room: u64, price: Option<u64>, most: usize) {
        let fits = |seat: &Seated| {
            let thinnest = seat.thickness.iter().min();
            seat.need <= room && thinnest.is_some_and(|&thinnest| thinnest <= diameter)
        };
        let seats = self.seats.iter().filter(|seat| fits(seat));
        let longest = seats.clone().map(|seat| seat.need).max().unwrap_or(0);
        let a_bar = room.checked_div(longest).unwrap_or(0).max(1);
        let copies = seats
            .count()
            .div_ceil(usize::try_from(a_bar).unwrap_or(usize::MAX));
        for copy in 0..copies.min(most) {
            // Alike bars go by the first seat that is cut from them.
            for (number, seat) in self.seats.iter_mut().enumerate() {
                if number >= copy && fits(seat) {
                    seat.bars.push(self.bars.len());
                }
            }
            self.bars.push(OneBar {
                diameter,
                room,
                price,
                copy,
            });
        }
    }

    /// Whether some seat has no bar at all.
    pub(super) fn lack(&self) -> bool {
        self.seats.iter().any(|seat| seat.bars.is_empty())
    }

    /// How many unknowns they take.
    pub(super) fn count(&self) -> usize {
        let sold = self.bars.iter().filter(|bar| bar.price.is_some()).count();
        sold + self.seats.iter().map(|seat| seat.bars.len()).sum::<usize>()
    }

    pub(super) fn dearest(&self) -> u64 {
        let prices = self.bars.iter().filter_map(|bar| bar.price);
        prices.max().unwrap_or(0)
    }

    /// Cuts every seat from one bar that holds what stands there. `groups` are
    /// the unknowns of the choices; a price weighs its part of `whole`.
    pub(super) fn state(
        &self,
        program: &mut Program,
        groups: &[&[usize]],
        whole: Option<u64>,
    ) -> Cuts {
        let mut cuts = Cuts::default();
        for seat in &self.seats {
            let own = seat.bars.iter().map(|&bar| (bar, program.unknown(0.0)));
            let own: Vec<(usize, usize)> = own.collect();
            program.exactly(1.0, own.iter().map(|&(_, x)| (x, 1.0)).collect());
            let choices = groups.get(seat.group).copied().unwrap_or_default();
            self.thick_enough(program, seat, &own, choices);
            cuts.seats.push(own);
        }
        let mut before = None;
        for (place, bar) in self.bars.iter().enumerate() {
            let opened = bar.price.map(|price| {
                let unknown = program.unknown(part(price, whole));
                cuts.money.push((unknown, price));
                unknown
            });
            let seats = self.seats.iter().zip(&cuts.seats);
            let pieces: Vec<(usize, u64)> = seats
                .filter_map(|(seat, own)| {
                    let (_, x) = own.iter().find(|(bar, _)| *bar == place)?;
                    Some((*x, seat.need))
                })
                .collect();
            held(program, bar.room, opened, &pieces);
            if let Some(opened) = opened {
                for &(piece, _) in &pieces {
                    program.at_most(0.0, vec![(piece, 1.0), (opened, -1.0)]);
                }
                if let Some(before) = before.filter(|_| bar.copy > 0) {
                    program.at_most(0.0, vec![(opened, 1.0), (before, -1.0)]);
                }
            }
            before = opened;
        }
        cuts
    }

    /// Who is cut from a bar of some thickness or a thinner one is a choice that
    /// such bars hold.
    fn thick_enough(
        &self,
        program: &mut Program,
        seat: &Seated,
        own: &[(usize, usize)],
        choices: &[usize],
    ) {
        let mut up_to: BTreeMap<Length, Vec<(usize, f64)>> = BTreeMap::new();
        for &(place, x) in own {
            if let Some(bar) = self.bars.get(place) {
                up_to.entry(bar.diameter).or_default().push((x, 1.0));
            }
        }
        let mut cut = Vec::new();
        for (diameter, bars) in up_to {
            cut.extend(bars);
            let both = seat.thickness.iter().zip(choices);
            let held = both.filter(|(thickness, _)| **thickness <= diameter);
            let mut terms: Vec<(usize, f64)> = held.map(|(_, &x)| (x, -1.0)).collect();
            if terms.len() < choices.len() {
                terms.extend(&cut);
                program.at_most(0.0, terms);
            }
        }
    }

    /// The money for the bars of an answer, if its cuts hold for these choices,
    /// one of each group: in whole numbers. With it the unknowns of its cuts.
    pub(super) fn price(&self, cuts: &Cuts, yes: &[bool], chosen: &[usize]) -> Cutting {
        let taken = |x: usize| yes.get(x).copied().unwrap_or(false);
        let mut used = vec![0_u64; self.bars.len()];
        let mut cutting = Cutting {
            money: None,
            taken: Vec::new(),
        };
        let mut all_hold = true;
        for (seat, own) in self.seats.iter().zip(&cuts.seats) {
            let mut from = own.iter().filter(|(_, x)| taken(*x));
            let (first, second) = (from.next(), from.next());
            cutting.taken.extend(first.map(|(_, x)| x));
            let holds = first
                .filter(|_| second.is_none())
                .is_some_and(|&(place, _)| {
                    let thickness = chosen
                        .get(seat.group)
                        .and_then(|&at| seat.thickness.get(at));
                    if let Some(used) = used.get_mut(place) {
                        *used += seat.need;
                    }
                    let bar = self.bars.get(place);
                    bar.zip(thickness)
                        .is_some_and(|(bar, &thickness)| thickness <= bar.diameter)
                });
            all_hold &= holds;
        }
        let bars = self.bars.iter().zip(&used);
        all_hold &= bars.clone().all(|(bar, &used)| used <= bar.room);
        let opened = bars.filter(|(_, used)| **used > 0);
        let money = opened.filter_map(|(bar, _)| bar.price).sum();
        cutting.money = all_hold.then_some(money);
        cutting
    }
}

/// What an answer cuts.
#[derive(Debug)]
pub(super) struct Cutting {
    /// What its bars cost; none where a piece is cut from what does not hold it.
    pub(super) money: Option<u64>,
    /// The unknowns that say so.
    pub(super) taken: Vec<usize>,
}

/// Bars for sale that no other beats: no thinner, no shorter and no dearer. Of
/// bars that are alike in all that, the first.
fn worth<'a>(sold: &[&'a Rod], stock: &Stock) -> Vec<&'a Rod> {
    let as_good = |one: &Rod, other: &Rod| {
        one.diameter >= other.diameter
            && stock.room(one) >= stock.room(other)
            && one.price_millionths <= other.price_millionths
    };
    let kept = sold.iter().enumerate().filter(|(place, rod)| {
        let mut others = sold.iter().enumerate();
        !others.any(|(at, other)| {
            at != *place && as_good(other, rod) && (at < *place || !as_good(rod, other))
        })
    });
    kept.map(|(_, &rod)| rod).collect()
}

/// The piece for a gear of that outside diameter, µm, whatever its material.
fn piece_at(problem: &Problem, place: &Place, od_um: u64) -> Piece {
    let length = rough_length(
        problem,
        place.role,
        place.seat,
        problem.gears().face().unit(),
    );
    Piece {
        diameter: Length::from_um(rough_um(problem, od_um)),
        length,
        material: None,
    }
}

fn steps(length: i64) -> u64 {
    u64::try_from(length).unwrap_or(0)
}
