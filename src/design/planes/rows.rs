//! The planes of a box as one list: head, speeds as given, reverse.

use super::given::{Gearbox, Pair, Reverse, ReverseForm, Wheel};
use super::grid::{Nm, nm};
use super::part::PartId;
use crate::train::{Role, Seat};

/// One plane.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    pub(super) role: Role,
    pub(super) face: Nm,
    /// On the layshaft or input shaft; none where reverse shares a speed's.
    pub(super) fixed: Option<Wheel>,
    /// On the main or output shaft; of the head, the input gear.
    pub(super) free: Wheel,
}

impl Row {
    fn pair(pair: &Pair) -> Self {
        let (fixed, free) = match pair.role {
            Role::Head => (pair.driven, pair.driver),
            _ => (pair.driver, pair.driven),
        };
        Self {
            role: pair.role,
            face: nm(pair.face_width_mm),
            fixed: Some(fixed),
            free,
        }
    }

    fn reverse(reverse: &Reverse) -> Self {
        let shares = matches!(reverse.form, ReverseForm::Shared { .. });
        Self {
            role: Role::Reverse,
            face: nm(reverse.face_width_mm),
            fixed: (!shares).then_some(reverse.driver),
            free: reverse.driven,
        }
    }

    /// The gear on the layshaft or input shaft.
    pub(super) const fn fixed_id(&self) -> PartId {
        match self.role {
            Role::Head => PartId::Gear(Role::Head, Seat::Driven),
            role => PartId::Gear(role, Seat::Driver),
        }
    }

    /// The gear on the main or output shaft; of the head, the input gear.
    pub(super) const fn free_id(&self) -> PartId {
        match self.role {
            Role::Head => PartId::Gear(Role::Head, Seat::Driver),
            role => PartId::Gear(role, Seat::Driven),
        }
    }
}

/// Every plane of the box.
pub(super) fn rows(gearbox: &Gearbox) -> Vec<Row> {
    let pairs = gearbox.head.iter().chain(&gearbox.speeds).map(Row::pair);
    pairs
        .chain(gearbox.reverse.as_ref().map(Row::reverse))
        .collect()
}
