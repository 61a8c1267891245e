//! From an order to places.

use super::bending::Beams;
use super::blocks::Space;
use super::given::{End, ReverseForm};
use super::grid::{Nm, mm, nm};
use super::idler::idler_rows;
use super::layout::{Beside, FixedGear, Layout, Moved, PlanePlace, Rod, RodPosition, SleevePlace};
use super::order::{Order, standing};
use super::parts::parts;
use super::pieces::{fits, pieces};
use super::run_out::run_out_mm;
use super::unit::{Frame, Stretch};
use crate::train::Role;

/// Everything along the shafts, nm from the input wall's inner face.
pub(super) struct Places {
    pub(super) length: Nm,
    /// By row, from the input on.
    pub(super) planes: Vec<Stretch>,
    /// By row.
    pub(super) rings: Vec<Stretch>,
    /// By sleeve, in neutral.
    pub(super) sleeves: Vec<Stretch>,
    /// The idler in mesh, and how far it slides out, towards the output above
    /// 0.
    pub(super) idler: Option<(Nm, Nm, Nm)>,
    /// Gears of the fixed shaft.
    fixed: Vec<Stretch>,
}

impl Places {
    pub(super) fn of(space: &Space, frame: &Frame, order: &Order) -> Self {
        let mut places = Self {
            length: order.length,
            planes: Vec::new(),
            rings: Vec::new(),
            sleeves: Vec::new(),
            idler: None,
            fixed: standing(space, frame, &order.units),
        };
        for &(unit, begun) in &order.units {
            let unit = &space.units[unit];
            let moved = |all: &[Stretch]| -> Vec<Stretch> {
                all.iter().map(|stretch| stretch.shifted(begun)).collect()
            };
            places.planes.extend(moved(&unit.planes));
            places.rings.extend(moved(&unit.rings));
            places.sleeves.extend(moved(&unit.sleeves));
        }
        places.idler = places.idler_of(frame);
        places
    }

    pub(super) fn plane(&self, row: usize) -> Option<Stretch> {
        self.planes.iter().find(|plane| plane.of == row).copied()
    }

    fn idler_of(&self, frame: &Frame) -> Option<(Nm, Nm, Nm)> {
        let (own, with) = idler_rows(frame)?;
        let (own, with) = (self.plane(own)?, self.plane(with)?);
        let (from, to) = (own.from.min(with.from), own.to.max(with.to));
        let slide = match frame.gearbox.reverse.as_ref()?.form {
            ReverseForm::SlidingIdler { towards, gap_mm } => match towards {
                End::Input => from - to - nm(gap_mm),
                End::Output => to - from + nm(gap_mm),
            },
            _ => 0,
        };
        Some((from, to, slide))
    }
}

/// The layout without its assembly.
pub(super) fn layout(space: &Space, frame: &Frame, beams: &Beams, order: &Order) -> Layout {
    let places = Places::of(space, frame, order);
    let role = |row: usize| frame.rows[row].role;
    let pieces = pieces(frame, &places.fixed);
    let mut middles_mm = vec![None; frame.rows.len()];
    for plane in &places.planes {
        middles_mm[plane.of] = Some(mm(plane.from + plane.to) / 2.0);
    }
    let planes = places.planes.iter().map(|plane| PlanePlace {
        role: role(plane.of),
        from_mm: mm(plane.from),
        to_mm: mm(plane.to),
        middle_mm: mm(plane.from + plane.to) / 2.0,
    });
    Layout {
        length_mm: mm(order.length),
        parts: parts(frame, &places),
        planes: planes.collect(),
        sleeves: sleeves(frame, &places),
        rods: rods(frame, &places),
        fixed_gears: fixed_gears(frame, &places, &pieces),
        pieces: pieces
            .iter()
            .map(|piece| piece.iter().map(|&row| role(row)).collect())
            .collect(),
        bending_n_m: beams.worst_n_mm(&middles_mm, mm(order.length)) / 1000.0,
        assembly: Err(Vec::new()),
    }
}

fn travel(frame: &Frame) -> Nm {
    let sizes = &frame.gearbox.sizes;
    nm(sizes.neutral_gap_mm) + nm(sizes.dog_overlap_mm)
}

fn sleeves(frame: &Frame, places: &Places) -> Vec<SleevePlace> {
    let place = |sleeve: &Stretch| SleevePlace {
        sleeve: sleeve.of,
        middle_mm: mm(sleeve.from + sleeve.to) / 2.0,
        travel_mm: mm(travel(frame)),
        ring_radius_mm: frame.ring_radii_mm[sleeve.of],
    };
    places.sleeves.iter().map(place).collect()
}

/// A rod whose part has its middle at `middle` (twice, in nm) in neutral.
fn rod(moves: Moved, twice_middle: Nm, engaged: &[(Role, Nm)]) -> Rod {
    let position = |engages: Option<Role>, by: Nm| RodPosition {
        engages,
        towards: engages.map(|_| if by > 0 { End::Output } else { End::Input }),
        move_mm: mm(by),
        notch_mm: mm(-by),
        middle_mm: mm(twice_middle + 2 * by) / 2.0,
    };
    let mut positions = vec![(0, position(None, 0))];
    let engaged = engaged.iter();
    positions.extend(engaged.map(|&(role, by)| (by, position(Some(role), by))));
    positions.sort_by_key(|&(by, _)| by);
    Rod {
        moves,
        positions: positions
            .into_iter()
            .map(|(_, position)| position)
            .collect(),
    }
}

fn rods(frame: &Frame, places: &Places) -> Vec<Rod> {
    let mut sleeves = places.sleeves.clone();
    sleeves.sort_by_key(|sleeve| sleeve.of);
    let travel = travel(frame);
    let mut rods = Vec::new();
    for sleeve in sleeves {
        let served = frame.gearbox.sleeves.get(sleeve.of).into_iter().flatten();
        let engaged: Vec<(Role, Nm)> = served
            .filter_map(|&role| {
                let row = frame.rows.iter().position(|row| row.role == role)?;
                let before = places.plane(row)?.from < sleeve.from;
                Some((role, if before { -travel } else { travel }))
            })
            .collect();
        rods.push(rod(
            Moved::Sleeve(sleeve.of),
            sleeve.from + sleeve.to,
            &engaged,
        ));
    }
    if let Some((from, to, slide)) = places.idler.filter(|&(_, _, slide)| slide != 0) {
        // Neutral is out of mesh: reverse is the way back.
        let out = from + to + 2 * slide;
        rods.push(rod(Moved::Idler, out, &[(Role::Reverse, -slide)]));
    }
    rods
}

fn fixed_gears(frame: &Frame, places: &Places, pieces: &[Vec<usize>]) -> Vec<FixedGear> {
    let all = &places.fixed;
    let cutter_mm = frame.gearbox.sizes.cutter_radius_mm;
    let beside = |one: Stretch, other: Stretch| {
        let wheel = |s: Stretch| frame.rows[s.of].fixed;
        let (own, others) = wheel(one).zip(wheel(other))?;
        let (low, high) = if one.from < other.from {
            (one, other)
        } else {
            (other, one)
        };
        Some(Beside {
            role: frame.rows[other.of].role,
            gap_mm: mm(high.from - low.to),
            run_out_mm: run_out_mm(cutter_mm, own.root_radius_mm, others.tip_radius_mm),
            fits: fits(frame, low, high),
        })
    };
    let of = |(place, &gear): (usize, &Stretch)| {
        let before = place.checked_sub(1).and_then(|before| all.get(before));
        let neighbours = before.into_iter().chain(all.get(place + 1));
        FixedGear {
            role: frame.rows[gear.of].role,
            beside: neighbours
                .filter_map(|&other| beside(gear, other))
                .collect(),
            piece: pieces
                .iter()
                .position(|piece| piece.contains(&gear.of))
                .unwrap_or_default(),
        }
    };
    all.iter().enumerate().map(of).collect()
}
