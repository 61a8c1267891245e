//! One body, open at the top: what does not pass a bearing's hole is lowered
//! in, and its shaft is pushed through it.

use super::split::pin;
use super::sweep::Way;
use super::yard::{Done, Yard};
use super::{Obstacle, Site, Step};
use crate::base::LENGTH_SLACK_MM;
use crate::design::planes::given::{End, Gearbox, ShaftSize};
use crate::design::planes::layout::Layout;
use crate::design::planes::part::PartId;
use crate::problem::Shaft;

/// What goes in at once.
#[derive(Clone, Copy)]
enum Load {
    Idler,
    Fixed,
    Input,
    Free,
}

/// Orders in which idler and shafts go in: what lies lower usually first. The
/// input shaft of an in-line box goes in before the main shaft, which ends in
/// its gear.
const ORDERS: [[Load; 4]; 8] = [
    [Load::Fixed, Load::Idler, Load::Input, Load::Free],
    [Load::Fixed, Load::Input, Load::Free, Load::Idler],
    [Load::Idler, Load::Fixed, Load::Input, Load::Free],
    [Load::Input, Load::Fixed, Load::Idler, Load::Free],
    [Load::Input, Load::Fixed, Load::Free, Load::Idler],
    [Load::Input, Load::Free, Load::Idler, Load::Fixed],
    [Load::Input, Load::Free, Load::Fixed, Load::Idler],
    [Load::Idler, Load::Input, Load::Free, Load::Fixed],
];

const DOWN: [f64; 2] = [0.0, -1.0];

pub(super) fn assemble(gearbox: &Gearbox, layout: &Layout) -> Result<Vec<Step>, Vec<Obstacle>> {
    let mut obstacles = Vec::new();
    for order in ORDERS {
        let mut yard = Yard::new(gearbox, layout);
        let built = order.iter().try_for_each(|&load| put(&mut yard, load));
        match built.and_then(|()| bearings(&mut yard)) {
            Ok(()) => return Ok(yard.steps),
            Err(obstacle) if obstacles.contains(&obstacle) => {}
            Err(obstacle) => obstacles.push(obstacle),
        }
    }
    Err(obstacles)
}

fn put(yard: &mut Yard, load: Load) -> Done {
    let shafts = yard.gearbox.shafts;
    match load {
        Load::Idler => {
            let idler = yard.idler();
            if idler.is_empty() {
                return Ok(());
            }
            let words = "Lower the idler to its place.".to_owned();
            yard.lay(&idler, DOWN, words)?;
            pin(yard)
        }
        Load::Fixed => shaft(yard, yard.fixed(), shafts.fixed, &[End::Output, End::Input]),
        Load::Input => input(yard),
        // In line the input gear closes the other side.
        Load::Free if shafts.input.is_some() => {
            shaft(yard, yard.free(), shafts.free, &[End::Output])
        }
        Load::Free => shaft(yard, yard.free(), shafts.free, &[End::Output, End::Input]),
    }
}

/// The first of several ways that works, else what was in the way of the last.
fn first_of(yard: &mut Yard, ways: &[&dyn Fn(&mut Yard) -> Done]) -> Done {
    let mut last = Ok(());
    for way in ways {
        let mut trial = yard.clone();
        last = way(&mut trial);
        if last.is_ok() {
            *yard = trial;
            return last;
        }
    }
    last
}

/// A shaft whole through one of these walls, else alone through gears that
/// were lowered in before.
fn shaft(yard: &mut Yard, shaft: Shaft, size: ShaftSize, walls: &[End]) -> Done {
    let whole = |wall: End| move |yard: &mut Yard| pushed_whole(yard, shaft, size, wall);
    let through = |wall: End| move |yard: &mut Yard| pushed_through(yard, shaft, size, wall);
    let mut last = Ok(());
    for &wall in walls {
        last = first_of(yard, &[&whole(wall)]);
        if last.is_ok() {
            return last;
        }
    }
    for &wall in walls {
        last = first_of(yard, &[&through(wall)]);
        if last.is_ok() {
            return last;
        }
    }
    last
}

/// Whether parts pass the hole for a bearing.
fn passes(yard: &Yard, ids: &[PartId], size: ShaftSize, words: &str) -> Done {
    for &id in ids {
        if yard.radius(&[id]) > size.bearing_outside_radius_mm + LENGTH_SLACK_MM {
            return Err(Obstacle {
                part: id,
                in_the_way: None,
                words: words.to_owned(),
            });
        }
    }
    Ok(())
}

fn pushed_whole(yard: &mut Yard, shaft: Shaft, size: ShaftSize, wall: End) -> Done {
    let parts = yard.group(shaft);
    let words = format!(
        "Push {} with all that is on it in through the {} wall.",
        yard.names(&[PartId::Shaft(shaft)]),
        wall.word()
    );
    passes(yard, &parts, size, &words)?;
    yard.load(shaft)?;
    yard.slide(Site::Case, &parts, wall.other(), words)
}

fn pushed_through(yard: &mut Yard, shaft: Shaft, size: ShaftSize, wall: End) -> Done {
    for parts in yard.loose(shaft) {
        let words = format!(
            "Lower {} onto the axis of {}.",
            yard.names(&parts),
            yard.names(&[PartId::Shaft(shaft)])
        );
        yard.lay(&parts, DOWN, words)?;
    }
    let ids = [PartId::Shaft(shaft)];
    let words = format!(
        "Push {} in through the {} wall and all that is there.",
        yard.names(&ids),
        wall.word()
    );
    passes(yard, &ids, size, &words)?;
    yard.slide(Site::Case, &ids, wall.other(), words)
}

/// The input shaft with its gear, in through its wall, or lowered behind its
/// place and pushed out into it.
fn input(yard: &mut Yard) -> Done {
    let (Some(input), parts) = (yard.gearbox.shafts.input, yard.input()) else {
        return Ok(());
    };
    let outside = |yard: &mut Yard| {
        let words = format!("Push {} in through the input wall.", yard.names(&parts));
        passes(yard, &parts, input.size, &words)?;
        yard.slide(Site::Case, &parts, End::Output, words)
    };
    first_of(yard, &[&outside, &lowered])
}

fn lowered(yard: &mut Yard) -> Done {
    let parts = yard.input();
    let (from_mm, to_mm) = yard.ends(&parts);
    let words = format!(
        "Lower {} behind its place and push it out into the input wall.",
        yard.names(&parts)
    );
    // Its tail has to come inside the wall.
    let back_mm = -from_mm;
    if to_mm + back_mm > yard.layout.length_mm + LENGTH_SLACK_MM {
        return Err(Obstacle {
            part: PartId::Shaft(Shaft::Input),
            in_the_way: None,
            words,
        });
    }
    let down = Way {
        from_mm: [0.0, yard.clear_mm(), back_mm],
        to_mm: [0.0, 0.0, back_mm],
    };
    let out = Way {
        from_mm: down.to_mm,
        to_mm: [0.0; 3],
    };
    yard.put(Site::Case, &parts, down, words)?;
    let words = "Push it out into the input wall.".to_owned();
    yard.put(Site::Case, &parts, out, words)
}

/// Bearings last, from outside.
fn bearings(yard: &mut Yard) -> Done {
    for end in [End::Input, End::Output] {
        for bearing in yard.bearings(end) {
            let words = format!("Push {} in from outside.", yard.names(&[bearing]));
            yard.slide(Site::Case, &[bearing], end.other(), words)?;
        }
    }
    Ok(())
}
