//! Random racks from fixed seeds, and every way to cut them, written plainly.

use crate::random::Draw;
use layshaft::base::{Decimal, Length};
use layshaft::stock::{Piece, Rod, Stock};

/// A length in whole millimetres.
pub(super) fn mm(whole: u64) -> Length {
    Length::from_mm(Decimal::whole(i64::try_from(whole).unwrap()))
}

/// Pieces, and a rack and bars to cut them from.
pub(super) struct Case {
    pub(super) pieces: Vec<Piece>,
    pub(super) stock: Stock,
}

/// How large a case may be.
pub(super) struct Size {
    pub(super) pieces: u64,
    pub(super) rack: u64,
    pub(super) kinds: u64,
}

const STEEL_OR_BRASS: [&str; 2] = ["steel", "brass"];

/// A random rack. Some have a grip, some no kerf, some two materials.
pub(super) fn random(draw: &mut Draw, size: &Size) -> Case {
    let grip = if draw.percent(30) { 15 } else { 0 };
    let kerf = draw.whole(0, 3);
    let mut stock = Stock::new(mm(kerf), mm(grip));
    let materials = STEEL_OR_BRASS.map(|name| stock.material(name));
    let mixed = draw.percent(40);
    let material = |draw: &mut Draw| materials[usize::from(mixed && draw.percent(30))];
    for _ in 0..draw.whole(0, size.rack) {
        let rod = Rod {
            diameter: mm(draw.whole(2, 8) * 5),
            length: mm(draw.whole(12, 70)),
            material: material(draw),
            price_millionths: 0,
            count: usize::try_from(draw.whole(1, 2)).unwrap(),
        };
        stock.owns(rod);
    }
    let even = draw.percent(50);
    for _ in 0..draw.whole(1, size.kinds) {
        let (diameter, length) = (draw.whole(2, 8), draw.whole(3, 10));
        let length = if even { 7 } else { length };
        let rod = Rod {
            diameter: mm(diameter * 5),
            length: mm(length * 10),
            material: material(draw),
            price_millionths: diameter * diameter * length * 10_000 + draw.whole(0, 3) * 100_000,
            count: 1,
        };
        stock.sells(rod);
    }
    let pieces = (0..draw.whole(1, size.pieces)).map(|_| Piece {
        diameter: mm(draw.whole(5, 41)),
        length: mm(if even {
            draw.whole(10, 11)
        } else {
            draw.whole(6, 30)
        }),
        material: (mixed && draw.percent(50)).then(|| material(draw)),
    });
    let pieces = pieces.collect();
    Case { pieces, stock }
}

/// What a plan costs: money, new bars, and metal as Σ D² × (length + kerf).
pub(super) type Cost = (u64, usize, u128);

/// The least cost of all plans there are; none where there is no plan.
pub(super) fn every_plan(case: &Case) -> Option<Cost> {
    let rack = case.stock.rack().iter();
    let owned = rack.flat_map(|rod| std::iter::repeat_n(*rod, rod.count));
    let mut open: Vec<(Rod, Vec<Piece>)> = owned.map(|rod| (rod, Vec::new())).collect();
    let mut best = None;
    place(case, 0, &mut open, (0, 0, 0), &mut best);
    best
}

fn place(
    case: &Case,
    first: usize,
    open: &mut Vec<(Rod, Vec<Piece>)>,
    cost: Cost,
    best: &mut Option<Cost>,
) {
    let Some(piece) = case.pieces.get(first) else {
        *best = Some(best.map_or(cost, |best| best.min(cost)));
        return;
    };
    let (money, bars, metal) = cost;
    for i in 0..open.len() {
        let rod = open[i].0;
        open[i].1.push(*piece);
        if fits(&case.stock, &rod, &open[i].1) {
            let metal = metal + metal_of(&case.stock, &rod, piece);
            place(case, first + 1, open, (money, bars, metal), best);
        }
        open[i].1.pop();
    }
    for rod in case.stock.bars() {
        if fits(&case.stock, rod, &[*piece]) {
            open.push((*rod, vec![*piece]));
            let metal = metal + metal_of(&case.stock, rod, piece);
            let cost = (money + rod.price_millionths, bars + 1, metal);
            place(case, first + 1, open, cost, best);
            open.pop();
        }
    }
}

/// The rule as it is said at the saw: with a grip every piece has its cut and
/// the grip stays; without one there is a cut between two pieces.
fn fits(stock: &Stock, rod: &Rod, pieces: &[Piece]) -> bool {
    let alike = |piece: &Piece| piece.material.is_none_or(|m| m == rod.material);
    let suits = |piece: &Piece| alike(piece) && piece.diameter <= rod.diameter;
    let count = i64::try_from(pieces.len()).unwrap();
    let lengths: i64 = pieces.iter().map(|piece| piece.length.steps()).sum();
    let (kerf, grip) = (stock.kerf().steps(), stock.grip().steps());
    let cuts = if grip > 0 { count } else { count - 1 };
    pieces.iter().all(suits) && lengths + cuts * kerf <= rod.length.steps() - grip
}

/// D² × (length + kerf), in steps.
pub(super) fn metal_of(stock: &Stock, rod: &Rod, piece: &Piece) -> u128 {
    let of = |length: Length| u128::try_from(length.steps()).unwrap();
    of(rod.diameter) * of(rod.diameter) * (of(piece.length) + of(stock.kerf()))
}

/// The same, by what each set of pieces costs on the bars up to each: for more
/// pieces than every plan can be listed of.
pub(super) fn by_sets(case: &Case) -> Option<Cost> {
    let all = (1_usize << case.pieces.len()) - 1;
    let mut best: Vec<Option<Cost>> = vec![None; all + 1];
    best[0] = Some((0, 0, 0));
    let rack = case.stock.rack().iter();
    for rod in rack.flat_map(|rod| std::iter::repeat_n(rod, rod.count)) {
        let on_it: Vec<(usize, Cost)> = sets_on(case, rod);
        for set in (1..=all).rev() {
            let with = |(own, cost): &(usize, Cost)| {
                let rest = best[(own & set == *own).then(|| set - own)?]?;
                Some(sum(rest, (0, 0, cost.2)))
            };
            let least = on_it.iter().filter_map(with).chain(best[set]).min();
            best[set] = least;
        }
    }
    let mut new: Vec<Option<Cost>> = vec![None; all + 1];
    for rod in case.stock.bars() {
        for (set, cost) in sets_on(case, rod) {
            new[set] = new[set].into_iter().chain([cost]).min();
        }
    }
    for set in 1..=all {
        // Some new bar has the last piece of those that are left, or none has.
        let with = |own: usize| Some(sum(best[set - own]?, new[own]?));
        let mut own = set;
        let mut least = best[set];
        while own > 0 {
            least = with(own).into_iter().chain(least).min();
            own = (own - 1) & set;
        }
        best[set] = least;
    }
    best[all]
}

fn sum(one: Cost, other: Cost) -> Cost {
    (one.0 + other.0, one.1 + other.1, one.2 + other.2)
}

/// The sets of pieces that one rod holds, with their price, bar and metal.
fn sets_on(case: &Case, rod: &Rod) -> Vec<(usize, Cost)> {
    let mut sets = Vec::new();
    for set in 1..1_usize << case.pieces.len() {
        let members = case.pieces.iter().enumerate();
        let members = members.filter(|(place, _)| set >> place & 1 == 1);
        let members: Vec<Piece> = members.map(|(_, piece)| *piece).collect();
        if fits(&case.stock, rod, &members) {
            let metal = members
                .iter()
                .map(|piece| metal_of(&case.stock, rod, piece));
            sets.push((set, (rod.price_millionths, 1, metal.sum())));
        }
    }
    sets
}
