//! The parts of a layout as rings.

use super::check::bearings;
use super::given::{End, Idler, Pin, ShaftSize, Wheel};
use super::grid::mm;
use super::part::{Part, PartId, fixed_shaft, free_shaft};
use super::place::Places;
use super::unit::{Frame, Stretch};
use crate::problem::Shaft;
use crate::train::{Role, Seat};

/// Every part: shafts, gears, dog rings, sleeves, idler and pin, bearings.
pub(super) fn parts(frame: &Frame, places: &Places) -> Vec<Part> {
    let mut list = List {
        frame,
        places,
        parts: Vec::new(),
    };
    list.shafts();
    list.gears();
    list.idler();
    list.bearings();
    list.parts
}

struct List<'a> {
    frame: &'a Frame<'a>,
    places: &'a Places,
    parts: Vec<Part>,
}

impl List<'_> {
    fn add(&mut self, id: PartId, shaft: Shaft, z_mm: (f64, f64), radii_mm: (f64, f64)) {
        if z_mm.1 > z_mm.0 {
            self.parts.push(Part {
                id,
                shaft,
                from_mm: z_mm.0,
                to_mm: z_mm.1,
                inner_radius_mm: radii_mm.0,
                outer_radius_mm: radii_mm.1,
            });
        }
    }

    fn shafts(&mut self) {
        let gearbox = self.frame.gearbox;
        let shafts = &gearbox.shafts;
        let fixed = fixed_shaft(gearbox.arrangement);
        self.shaft_from(fixed, shafts.fixed, 0.0);
        self.journal_in(fixed, shafts.fixed);
        let free = free_shaft(gearbox.arrangement);
        let (Some(input), Some(head)) = (shafts.input, self.head()) else {
            self.shaft_from(free, shafts.free, 0.0);
            self.journal_in(free, shafts.free);
            return;
        };
        let hole_mm = self.hole(Role::Head);
        let spigot_mm = mm(head.to) - input.spigot_length_mm;
        self.journal_in(Shaft::Input, input.size);
        let id = PartId::Shaft(Shaft::Input);
        let radius_mm = input.size.radius_mm;
        self.add(id, Shaft::Input, (0.0, mm(head.from)), (0.0, radius_mm));
        // What is left of the input gear's core.
        self.add(id, Shaft::Input, (mm(head.from), spigot_mm), (0.0, hole_mm));
        let shoulder_mm = self.shoulder(head);
        let id = PartId::Shaft(free);
        let spigot = (spigot_mm, shoulder_mm);
        self.add(id, free, spigot, (0.0, input.spigot_radius_mm));
        self.shaft_from(free, shafts.free, shoulder_mm);
    }

    /// Where the main shaft gets thicker behind the input gear and its dogs.
    fn shoulder(&self, head: Stretch) -> f64 {
        let sizes = &self.frame.gearbox.sizes;
        let mut rings = self.places.rings.iter();
        match rings.find(|ring| ring.of == head.of) {
            Some(ring) => mm(ring.to) + sizes.end_float_mm.min(sizes.neutral_gap_mm),
            None => mm(head.to) + sizes.end_float_mm.min(mm(self.frame.apart())),
        }
    }

    fn head(&self) -> Option<Stretch> {
        let mut rows = self.frame.rows.iter();
        let row = rows.position(|row| row.role == Role::Head)?;
        self.places.plane(row)
    }

    fn hole(&self, role: Role) -> f64 {
        let mut rows = self.frame.rows.iter();
        let row = rows.find(|row| row.role == role);
        row.map_or(0.0, |row| row.free.hole_radius_mm)
    }

    fn journal_in(&mut self, shaft: Shaft, size: ShaftSize) {
        let out_mm = -self.frame.gearbox.sizes.wall_mm - size.beyond_input_mm;
        let radii = (0.0, size.bearing_bore_radius_mm);
        self.add(PartId::Shaft(shaft), shaft, (out_mm, 0.0), radii);
    }

    /// A shaft from a place inside to its end beyond the output wall.
    fn shaft_from(&mut self, shaft: Shaft, size: ShaftSize, from_mm: f64) {
        let length_mm = mm(self.places.length);
        let id = PartId::Shaft(shaft);
        self.add(id, shaft, (from_mm, length_mm), (0.0, size.radius_mm));
        let out_mm = length_mm + self.frame.gearbox.sizes.wall_mm + size.beyond_output_mm;
        let radii = (0.0, size.bearing_bore_radius_mm);
        self.add(id, shaft, (length_mm, out_mm), radii);
    }

    fn gears(&mut self) {
        let gearbox = self.frame.gearbox;
        let fixed = fixed_shaft(gearbox.arrangement);
        let free = free_shaft(gearbox.arrangement);
        let radii = |wheel: Wheel| (wheel.hole_radius_mm, wheel.tip_radius_mm);
        for &plane in &self.places.planes {
            let row = self.frame.rows[plane.of];
            let z_mm = (mm(plane.from), mm(plane.to));
            if let Some(wheel) = row.fixed {
                self.add(row.fixed_id(), fixed, z_mm, radii(wheel));
            }
            let shaft = Self::shaft_of(row.role, free);
            self.add(row.free_id(), shaft, z_mm, radii(row.free));
        }
        let sleeve_mm = (
            gearbox.shafts.free.radius_mm,
            gearbox.sizes.sleeve_radius_mm,
        );
        for &ring in &self.places.rings {
            let row = self.frame.rows[ring.of];
            let served = gearbox.sleeves.iter().position(|s| s.contains(&row.role));
            let radius_mm = served.and_then(|sleeve| self.frame.ring_radii_mm.get(sleeve));
            let radii = (row.free.hole_radius_mm, radius_mm.copied().unwrap_or(0.0));
            let shaft = Self::shaft_of(row.role, free);
            let z_mm = (mm(ring.from), mm(ring.to));
            self.add(PartId::DogRing(row.role), shaft, z_mm, radii);
        }
        for &sleeve in &self.places.sleeves {
            let z_mm = (mm(sleeve.from), mm(sleeve.to));
            self.add(PartId::Sleeve(sleeve.of), free, z_mm, sleeve_mm);
        }
    }

    const fn shaft_of(role: Role, free: Shaft) -> Shaft {
        match role {
            Role::Head => Shaft::Input,
            _ => free,
        }
    }

    fn idler(&mut self) {
        let reverse = self.frame.gearbox.reverse.as_ref();
        if let (Some(reverse), Some((from, to, slide))) = (reverse, self.places.idler) {
            let Idler { wheel, .. } = reverse.idler;
            let z_mm = (mm(from + slide), mm(to + slide));
            let id = PartId::Gear(Role::Reverse, Seat::Idler);
            let radii = (wheel.hole_radius_mm, wheel.tip_radius_mm);
            self.add(id, Shaft::Idler, z_mm, radii);
            let swept = (mm(from + slide.min(0)), mm(to + slide.max(0)));
            self.pin(reverse.idler, swept);
        }
    }

    fn pin(&mut self, idler: Idler, swept_mm: (f64, f64)) {
        let wall_mm = self.frame.gearbox.sizes.wall_mm;
        let outside_mm = (-wall_mm, mm(self.places.length) + wall_mm);
        let z_mm = match idler.pin {
            Pin::Through => outside_mm,
            Pin::Stub(End::Input) => (outside_mm.0, swept_mm.1),
            Pin::Stub(End::Output) => (swept_mm.0, outside_mm.1),
        };
        let radii = (0.0, idler.pin_radius_mm);
        self.add(PartId::Pin, Shaft::Idler, z_mm, radii);
    }

    fn bearings(&mut self) {
        let length_mm = mm(self.places.length);
        let wall_mm = self.frame.gearbox.sizes.wall_mm;
        for (end, z_mm) in [
            (End::Input, (-wall_mm, 0.0)),
            (End::Output, (length_mm, length_mm + wall_mm)),
        ] {
            for (shaft, size) in bearings(self.frame.gearbox, end) {
                let radii = (size.bearing_bore_radius_mm, size.bearing_outside_radius_mm);
                self.add(PartId::Bearing(shaft, end), shaft, z_mm, radii);
            }
        }
    }
}
