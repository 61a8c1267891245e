//! Halves parted along the plane of the shafts: whole shafts are laid in.

use super::yard::{Done, Yard};
use super::{Obstacle, Site, Step};
use crate::design::planes::given::{End, Gearbox, Pin};
use crate::design::planes::layout::Layout;
use crate::design::planes::part::PartId;
use crate::problem::Shaft;

/// What is laid in at once.
#[derive(Clone, Copy)]
enum Load {
    Idler,
    Fixed,
    Free,
}

/// Orders in which idler and shafts are laid in, the most usual first.
const ORDERS: [[Load; 3]; 6] = [
    [Load::Idler, Load::Fixed, Load::Free],
    [Load::Idler, Load::Free, Load::Fixed],
    [Load::Fixed, Load::Idler, Load::Free],
    [Load::Free, Load::Idler, Load::Fixed],
    [Load::Fixed, Load::Free, Load::Idler],
    [Load::Free, Load::Fixed, Load::Idler],
];

pub(super) fn assemble(gearbox: &Gearbox, layout: &Layout) -> Result<Vec<Step>, Vec<Obstacle>> {
    let mut obstacles = Vec::new();
    for order in ORDERS {
        let mut yard = Yard::new(gearbox, layout);
        let built = benches(&mut yard)
            .and_then(|()| order.iter().try_for_each(|&load| lay(&mut yard, load)));
        match built {
            Ok(()) => return Ok(yard.steps),
            Err(obstacle) if obstacles.contains(&obstacle) => {}
            Err(obstacle) => obstacles.push(obstacle),
        }
    }
    Err(obstacles)
}

/// Both shafts loaded, bearings on their ends, the input shaft on the end of
/// the main shaft.
fn benches(yard: &mut Yard) -> Done {
    let (fixed, free) = (yard.fixed(), yard.free());
    yard.load(fixed)?;
    yard.load(free)?;
    let input = yard.input();
    if !input.is_empty() {
        let words = format!("Put {} on the main shaft's end.", yard.names(&input));
        yard.slide(Site::Bench(free), &input, End::Output, words)?;
    }
    for end in [End::Input, End::Output] {
        for bearing in yard.bearings(end) {
            let PartId::Bearing(shaft, _) = bearing else {
                continue;
            };
            let on = if shaft == fixed { fixed } else { free };
            let words = format!("Push {} on.", yard.names(&[bearing]));
            yard.slide(Site::Bench(on), &[bearing], end.other(), words)?;
        }
    }
    Ok(())
}

/// Towards the half that holds the idler, which lies at the bottom.
fn side(gearbox: &Gearbox) -> [f64; 2] {
    let place = gearbox.reverse.as_ref().map(|reverse| reverse.idler.place);
    match place {
        Some(place) if place.x_mm < 0.0 => [-1.0, 0.0],
        _ => [1.0, 0.0],
    }
}

fn lay(yard: &mut Yard, load: Load) -> Done {
    let towards = side(yard.gearbox);
    match load {
        Load::Idler => {
            let idler = yard.idler();
            if idler.is_empty() {
                return Ok(());
            }
            let words = "Hold the idler in its place in the half.".to_owned();
            yard.lay(&idler, towards, words)?;
            pin(yard)
        }
        Load::Fixed => {
            let mut parts = yard.group(yard.fixed());
            parts.extend(bearings_of(yard, &[yard.fixed()]));
            laid(yard, &parts, yard.fixed(), towards)
        }
        Load::Free => {
            let mut parts = yard.group(yard.free());
            parts.extend(yard.input());
            let other = if yard.gearbox.head.is_some() {
                Shaft::Input
            } else {
                yard.free()
            };
            parts.extend(bearings_of(yard, &[yard.free(), other]));
            laid(yard, &parts, yard.free(), towards)
        }
    }
}

fn laid(yard: &mut Yard, parts: &[PartId], shaft: Shaft, towards: [f64; 2]) -> Done {
    let name = yard.names(&[PartId::Shaft(shaft)]);
    let words = format!("Lay {name} in with all that is on it.");
    yard.lay(parts, towards, words)
}

fn bearings_of(yard: &Yard, shafts: &[Shaft]) -> Vec<PartId> {
    yard.ids(|part| matches!(part.id, PartId::Bearing(shaft, _) if shafts.contains(&shaft)))
}

/// Pushes the pin in through its wall, a through pin from the output side.
pub(super) fn pin(yard: &mut Yard) -> Done {
    let pin = yard
        .gearbox
        .reverse
        .as_ref()
        .map(|reverse| reverse.idler.pin);
    let wall = match pin {
        Some(Pin::Stub(wall)) => wall,
        _ => End::Output,
    };
    let words = format!("Push the idler's pin in through the {} wall.", wall.word());
    yard.slide(Site::Case, &[PartId::Pin], wall.other(), words)
}
