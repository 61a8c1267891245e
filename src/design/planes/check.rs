//! What must hold whatever the order of the planes.

use super::across::Axis;
use super::fault::Fault;
use super::given::{End, Gearbox, ReverseForm, ShaftSize, Wheel};
use super::order::MOST_BLOCKS;
use super::part::{PartId, apart_mm, axis, fixed_shaft, free_shaft};
use super::unit::Frame;
use crate::base::LENGTH_SLACK_MM;
use crate::problem::{Arrangement, Shaft};
use crate::train::{Role, Seat};

/// Faults of the figures alone.
pub(super) fn figures(gearbox: &Gearbox) -> Vec<Fault> {
    let mut found = Figures(Vec::new());
    let in_line = gearbox.arrangement == Arrangement::InLine;
    if in_line != gearbox.head.is_some() || in_line != gearbox.shafts.input.is_some() {
        found.0.push(Fault::Head);
    }
    found.sizes(gearbox);
    found.shafts(gearbox);
    let shafts = &gearbox.shafts;
    for pair in gearbox.head.iter().chain(&gearbox.speeds) {
        found.positive("a face width", pair.face_width_mm);
        let on = match (pair.role, shafts.input) {
            (Role::Head, Some(input)) => (input.spigot_radius_mm, shafts.fixed.radius_mm),
            _ => (shafts.fixed.radius_mm, shafts.free.radius_mm),
        };
        found.wheel(PartId::Gear(pair.role, Seat::Driver), pair.driver, on.0);
        found.wheel(PartId::Gear(pair.role, Seat::Driven), pair.driven, on.1);
    }
    if let (Some(head), Some(input)) = (&gearbox.head, &shafts.input) {
        let deep = input.spigot_length_mm <= head.face_width_mm;
        found.needs("the spigot's length", deep && input.spigot_length_mm > 0.0);
    }
    found.reverse(gearbox);
    for load in &gearbox.loads {
        let parts = [load.on_driver_n, load.on_driven_n, load.on_head_n];
        let finite = parts.iter().flatten().all(|part| part.is_finite());
        found.needs("a load", finite);
    }
    found.0
}

struct Figures(Vec<Fault>);

impl Figures {
    fn needs(&mut self, what: &'static str, holds: bool) {
        if !holds && !self.0.contains(&Fault::Figure(what)) {
            self.0.push(Fault::Figure(what));
        }
    }

    /// Below a kilometre, so that whole nanometres never run over.
    fn positive(&mut self, what: &'static str, value_mm: f64) {
        self.needs(what, value_mm > 0.0 && value_mm < 1e6);
    }

    fn not_negative(&mut self, what: &'static str, value_mm: f64) {
        self.needs(what, (0.0..1e6).contains(&value_mm));
    }

    fn wheel(&mut self, gear: PartId, wheel: Wheel, on_radius_mm: f64) {
        self.positive("a tip radius", wheel.tip_radius_mm);
        self.needs("a root radius", wheel.root_radius_mm < wheel.tip_radius_mm);
        let hole_mm = wheel.hole_radius_mm;
        if hole_mm.is_nan() || hole_mm >= wheel.root_radius_mm {
            self.0.push(Fault::HoleOverRoot {
                gear,
                hole_mm: 2.0 * hole_mm,
                root_mm: 2.0 * wheel.root_radius_mm,
            });
        }
        if hole_mm < on_radius_mm - LENGTH_SLACK_MM {
            self.0.push(Fault::HoleUnderShaft {
                gear,
                hole_mm: 2.0 * hole_mm,
                shaft_mm: 2.0 * on_radius_mm,
            });
        }
    }

    fn sizes(&mut self, gearbox: &Gearbox) {
        let s = &gearbox.sizes;
        self.positive("the centre distance", gearbox.centre_distance_mm);
        self.positive("the sleeves' width", s.sleeve_width_mm);
        self.positive("the cutter's radius", s.cutter_radius_mm);
        self.positive("the walls' thickness", s.wall_mm);
        self.positive("the neutral gap", s.neutral_gap_mm);
        self.positive("the dogs' overlap", s.dog_overlap_mm);
        self.needs(
            "the dogs' overlap",
            s.dog_overlap_mm <= s.dog_ring_length_mm,
        );
        self.positive("the dog rings' length", s.dog_ring_length_mm);
        self.not_negative("the least metal of a ring", s.least_ring_mm);
        self.not_negative("the thrust washers' thickness", s.thrust_washer_mm);
        self.not_negative("the circlips' thickness", s.circlip_mm);
        self.not_negative("the end float", s.end_float_mm);
        self.not_negative("the least gap", s.least_gap_mm);
        self.positive("the sleeves' radius", s.sleeve_radius_mm);
        let over = s.sleeve_radius_mm > gearbox.shafts.free.radius_mm;
        self.needs("the sleeves' radius", over || gearbox.sleeves.is_empty());
        self.positive("the dog rings' radius", s.dog_ring_radius_mm.unwrap_or(1.0));
    }

    fn shafts(&mut self, gearbox: &Gearbox) {
        let shafts = &gearbox.shafts;
        for size in [shafts.fixed, shafts.free] {
            self.shaft(size);
        }
        if let Some(input) = shafts.input {
            self.shaft(input.size);
            self.positive("the spigot's radius", input.spigot_radius_mm);
            let steps = input.spigot_radius_mm <= shafts.free.radius_mm;
            self.needs("the spigot's radius", steps);
        }
    }

    fn shaft(&mut self, size: ShaftSize) {
        let bore_mm = size.bearing_bore_radius_mm;
        self.positive("a bearing's bore", bore_mm);
        self.positive("a shaft's radius", size.radius_mm);
        self.needs("a bearing's bore", bore_mm <= size.radius_mm);
        let outside_mm = size.bearing_outside_radius_mm;
        self.positive("a bearing's outside", outside_mm);
        self.needs("a bearing's outside", bore_mm <= outside_mm);
        for beyond_mm in [size.beyond_input_mm, size.beyond_output_mm] {
            self.not_negative("a shaft's end", beyond_mm);
        }
    }

    fn reverse(&mut self, gearbox: &Gearbox) {
        let Some(reverse) = &gearbox.reverse else {
            return;
        };
        self.positive("a face width", reverse.face_width_mm);
        let on_mm = gearbox.shafts.free.radius_mm;
        let gear = |seat| PartId::Gear(Role::Reverse, seat);
        self.wheel(gear(Seat::Driven), reverse.driven, on_mm);
        self.positive("the pin's radius", reverse.idler.pin_radius_mm);
        let pin_mm = reverse.idler.pin_radius_mm;
        self.wheel(gear(Seat::Idler), reverse.idler.wheel, pin_mm);
        let place = reverse.idler.place;
        let finite = place.x_mm.is_finite() && place.y_mm.is_finite();
        self.needs("the idler's place", finite);
        match reverse.form {
            ReverseForm::Shared { with } => {
                let there = gearbox.speeds.iter().any(|pair| pair.role == with);
                if !there {
                    self.0.push(Fault::NoSuchGear(with));
                }
            }
            ReverseForm::SlidingIdler { gap_mm, .. } => {
                self.not_negative("the gap beside the idler", gap_mm);
                let on_mm = gearbox.shafts.fixed.radius_mm;
                self.wheel(gear(Seat::Driver), reverse.driver, on_mm);
            }
            ReverseForm::ConstantMesh => {
                let on_mm = gearbox.shafts.fixed.radius_mm;
                self.wheel(gear(Seat::Driver), reverse.driver, on_mm);
            }
        }
    }
}

/// Faults of who is served by whom.
pub(super) fn served(gearbox: &Gearbox) -> Vec<Fault> {
    let mut faults = Vec::new();
    let slides =
        |reverse: &super::given::Reverse| matches!(reverse.form, ReverseForm::SlidingIdler { .. });
    let mut free: Vec<Role> = gearbox.speeds.iter().map(|pair| pair.role).collect();
    let reverse = gearbox.reverse.as_ref().filter(|reverse| !slides(reverse));
    free.extend(reverse.map(|_| Role::Reverse));
    for (i, role) in free.iter().enumerate() {
        let odd = *role == Role::Head || (*role == Role::Reverse && i < gearbox.speeds.len());
        if odd || free[..i].contains(role) {
            faults.push(Fault::Twice(*role));
        }
    }
    if gearbox
        .head
        .as_ref()
        .is_some_and(|head| head.role != Role::Head)
    {
        faults.push(Fault::Head);
    }
    for (place, sleeve) in gearbox.sleeves.iter().enumerate() {
        if sleeve.is_empty() || sleeve.len() > 2 {
            faults.push(Fault::SleeveOf(place));
        }
    }
    let all: Vec<Role> = gearbox.sleeves.iter().flatten().copied().collect();
    for (i, role) in all.iter().enumerate() {
        let direct = *role == Role::Head && gearbox.head.is_some();
        if !free.contains(role) && !direct {
            faults.push(Fault::NoSuchGear(*role));
        }
        if all[..i].contains(role) {
            faults.push(Fault::ServedTwice(*role));
        }
    }
    let unserved = free.iter().filter(|role| !all.contains(role));
    faults.extend(unserved.map(|&role| Fault::NotServed(role)));
    if gearbox.sleeves.len() > MOST_BLOCKS - 1 {
        faults.push(Fault::TooManySleeves);
    }
    faults
}

/// The outer radius of each sleeve's dog rings, mm, or what forbids them.
pub(super) fn ring_radii(frame: &Frame) -> Result<Vec<f64>, Vec<Fault>> {
    let sizes = &frame.gearbox.sizes;
    let mut faults = Vec::new();
    let mut radii = Vec::new();
    for sleeve in &frame.gearbox.sleeves {
        let rows = frame.rows.iter().filter(|row| sleeve.contains(&row.role));
        let root = |least: f64, wheel: Wheel| least.min(wheel.root_radius_mm);
        let largest_mm = rows.clone().map(|row| row.free).fold(f64::INFINITY, root);
        let ring_mm = sizes.dog_ring_radius_mm.unwrap_or(largest_mm);
        for row in rows {
            let root_mm = row.free.root_radius_mm;
            if ring_mm > root_mm + LENGTH_SLACK_MM {
                faults.push(Fault::RingOverRoot {
                    role: row.role,
                    ring_mm,
                    root_mm,
                });
            }
            let left_mm = ring_mm - row.free.hole_radius_mm;
            if left_mm < sizes.least_ring_mm - LENGTH_SLACK_MM {
                faults.push(Fault::RingTooThin {
                    role: row.role,
                    left_mm,
                    least_mm: sizes.least_ring_mm,
                });
            }
        }
        radii.push(ring_mm);
    }
    if faults.is_empty() {
        Ok(radii)
    } else {
        Err(faults)
    }
}

/// Parts that come too near whatever stands where along the shafts.
pub(super) fn touches(frame: &Frame) -> Vec<Fault> {
    let gearbox = frame.gearbox;
    let shafts = &gearbox.shafts;
    let fixed = PartId::Shaft(fixed_shaft(gearbox.arrangement));
    let free = PartId::Shaft(free_shaft(gearbox.arrangement));
    let on_fixed = |id, radius_mm| (id, Axis::Fixed, radius_mm);
    let on_free = |id, radius_mm| (id, Axis::Free, radius_mm);
    let fixed = on_fixed(fixed, shafts.fixed.radius_mm);
    let free = on_free(free, shafts.free.radius_mm);
    let mut near = vec![(fixed, free)];
    for row in &frame.rows {
        near.push((on_free(row.free_id(), row.free.tip_radius_mm), fixed));
        let wheel = row.fixed.filter(|_| row.role != Role::Head);
        near.extend(wheel.map(|w| (on_fixed(row.fixed_id(), w.tip_radius_mm), free)));
    }
    for sleeve in 0..gearbox.sleeves.len() {
        let radius_mm = gearbox.sizes.sleeve_radius_mm;
        near.push((on_free(PartId::Sleeve(sleeve), radius_mm), fixed));
    }
    if let Some(reverse) = &gearbox.reverse {
        let on_pin = |id, radius_mm| (id, Axis::Idler, radius_mm);
        let idler = PartId::Gear(Role::Reverse, Seat::Idler);
        let idler = on_pin(idler, reverse.idler.wheel.tip_radius_mm);
        let pin = on_pin(PartId::Pin, reverse.idler.pin_radius_mm);
        near.extend([(idler, fixed), (idler, free), (pin, fixed), (pin, free)]);
        let row = |role| frame.rows.iter().find(move |row| row.role == role);
        if let ReverseForm::Shared { with } = reverse.form {
            let beside = row(with);
            near.extend(beside.map(|r| (idler, on_free(r.free_id(), r.free.tip_radius_mm))));
        } else if let Some(own) = row(Role::Reverse) {
            let driver = on_fixed(own.fixed_id(), reverse.driver.tip_radius_mm);
            near.push((driver, on_free(own.free_id(), own.free.tip_radius_mm)));
        }
    }
    let mut faults = Vec::new();
    for (one, other) in near {
        let short_mm = frame.across.short_mm((one.1, one.2), (other.1, other.2));
        faults.extend(touch(one.0, other.0, short_mm));
    }
    faults.extend(in_the_walls(gearbox));
    faults
}

fn touch(part: PartId, other: PartId, short_mm: f64) -> Option<Fault> {
    let fault = Fault::Touch {
        part,
        other,
        short_mm,
    };
    (short_mm > LENGTH_SLACK_MM).then_some(fault)
}

/// Holes of one wall that run into each other.
fn in_the_walls(gearbox: &Gearbox) -> Vec<Fault> {
    let mut faults = Vec::new();
    for end in [End::Input, End::Output] {
        let mut holes: Vec<(PartId, Shaft, f64)> = bearings(gearbox, end)
            .into_iter()
            .map(|(shaft, size)| {
                let id = PartId::Bearing(shaft, end);
                (id, shaft, size.bearing_outside_radius_mm)
            })
            .collect();
        let idler = gearbox.reverse.as_ref().map(|reverse| reverse.idler);
        let idler = idler.filter(|idler| idler.pin.reaches(end));
        holes.extend(idler.map(|idler| (PartId::Pin, Shaft::Idler, idler.pin_radius_mm)));
        for (i, one) in holes.iter().enumerate() {
            for other in holes.iter().skip(i + 1) {
                let axes = axis(gearbox, one.1).zip(axis(gearbox, other.1));
                let apart = axes.map_or(f64::INFINITY, |(a, b)| apart_mm(a, b));
                faults.extend(touch(one.0, other.0, one.2 + other.2 - apart));
            }
        }
    }
    faults
}

/// The shafts with a bearing in a wall.
pub(super) fn bearings(gearbox: &Gearbox, end: End) -> Vec<(Shaft, ShaftSize)> {
    let shafts = &gearbox.shafts;
    let fixed = (fixed_shaft(gearbox.arrangement), shafts.fixed);
    let free = (free_shaft(gearbox.arrangement), shafts.free);
    match (shafts.input, end) {
        (Some(input), End::Input) => vec![(Shaft::Input, input.size), fixed],
        _ => vec![fixed, free],
    }
}
