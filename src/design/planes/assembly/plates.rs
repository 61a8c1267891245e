//! Two end plates: one lies on the bench, all goes onto it, the other closes.

use super::yard::{Done, Yard};
use super::{Obstacle, Site, Step};
use crate::design::planes::given::{End, Gearbox, Pin};
use crate::design::planes::layout::Layout;
use crate::design::planes::part::PartId;

/// Tries the input plate at the bottom, then the output plate.
pub(super) fn assemble(gearbox: &Gearbox, layout: &Layout) -> Result<Vec<Step>, Vec<Obstacle>> {
    let mut obstacles = Vec::new();
    for base in [End::Input, End::Output] {
        let mut yard = Yard::new(gearbox, layout);
        match build(&mut yard, base) {
            Ok(()) => return Ok(yard.steps),
            Err(obstacle) => obstacles.push(obstacle),
        }
    }
    Err(obstacles)
}

fn build(yard: &mut Yard, base: End) -> Done {
    let closing = base.other();
    let (fixed, free) = (yard.fixed(), yard.free());
    yard.load(fixed)?;
    yard.load(free)?;
    let pin = yard
        .gearbox
        .reverse
        .as_ref()
        .map(|reverse| reverse.idler.pin);
    let mut plate = yard.bearings(base);
    plate.extend((pin == Some(Pin::Stub(base))).then_some(PartId::Pin));
    let words = format!(
        "Lay the {} plate down with {}.",
        base.word(),
        yard.names(&plate)
    );
    yard.stays(&plate, words)?;
    let input = yard.input();
    if base == End::Input && !input.is_empty() {
        let words = format!("Put {} into the input plate.", yard.names(&input));
        yard.slide(Site::Case, &input, base, words)?;
    }
    bundle(yard, base, pin)?;
    if base == End::Output && !input.is_empty() {
        let words = format!("Put {} on the main shaft's end.", yard.names(&input));
        yard.slide(Site::Case, &input, base, words)?;
    }
    let mut plate = yard.bearings(closing);
    if pin == Some(Pin::Stub(closing)) {
        plate.push(PartId::Pin);
        plate.extend(yard.idler());
    }
    let words = format!(
        "Close with the {} plate, which brings {}.",
        closing.word(),
        yard.names(&plate)
    );
    yard.slide(Site::Case, &plate, base, words)
}

/// Both loaded shafts at once, their gears in mesh, with the idler unless the
/// closing plate brings it.
fn bundle(yard: &mut Yard, base: End, pin: Option<Pin>) -> Done {
    let mut parts = yard.group(yard.fixed());
    parts.extend(yard.group(yard.free()));
    if pin.is_some_and(|pin| pin.reaches(base)) {
        parts.extend(yard.idler());
    }
    let mut named = vec![PartId::Shaft(yard.fixed()), PartId::Shaft(yard.free())];
    named.extend(parts.iter().filter(|id| yard.idler().contains(id)));
    if pin == Some(Pin::Through) {
        parts.push(PartId::Pin);
        named.push(PartId::Pin);
    }
    let words = format!(
        "Put {} with all that is on them together into the {} plate, gears in mesh.",
        yard.names(&named),
        base.word()
    );
    yard.slide(Site::Case, &parts, base, words)
}
