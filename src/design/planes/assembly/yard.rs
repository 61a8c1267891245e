//! What stands already while a box is put together, and the steps so far.

use super::sweep::{Way, meets};
use super::{Direction, Obstacle, Site, Step};
use crate::design::planes::given::{End, Gearbox};
use crate::design::planes::layout::Layout;
use crate::design::planes::part::{Part, PartId, fixed_shaft, free_shaft};
use crate::problem::Shaft;
use crate::train::{Role, Seat};

/// A step, or what is in its way.
pub(super) type Done = Result<(), Obstacle>;

/// The parts with their sites, and the steps.
#[derive(Clone)]
pub(super) struct Yard<'a> {
    pub(super) gearbox: &'a Gearbox,
    pub(super) layout: &'a Layout,
    stands: Vec<(Site, PartId)>,
    pub(super) steps: Vec<Step>,
}

impl<'a> Yard<'a> {
    pub(super) const fn new(gearbox: &'a Gearbox, layout: &'a Layout) -> Self {
        Self {
            gearbox,
            layout,
            stands: Vec::new(),
            steps: Vec::new(),
        }
    }

    /// The rings of a part.
    pub(super) fn rings(&self, id: PartId) -> impl Iterator<Item = &'a Part> + use<'a> {
        self.layout.parts.iter().filter(move |part| part.id == id)
    }

    /// Where parts begin and end along the shafts, mm.
    pub(super) fn ends(&self, ids: &[PartId]) -> (f64, f64) {
        let rings = ids.iter().flat_map(|&id| self.rings(id));
        rings.fold((f64::INFINITY, f64::NEG_INFINITY), |(from, to), part| {
            (from.min(part.from_mm), to.max(part.to_mm))
        })
    }

    /// The largest outer radius of parts, mm.
    pub(super) fn radius(&self, ids: &[PartId]) -> f64 {
        let rings = ids.iter().flat_map(|&id| self.rings(id));
        rings.map(|part| part.outer_radius_mm).fold(0.0, f64::max)
    }

    /// Whether a part has its place in the layout.
    fn is_there(&self, id: PartId) -> bool {
        self.layout.parts.iter().any(|part| part.id == id)
    }

    /// Parts along the shafts, from the input on, of those that satisfy `on`.
    pub(super) fn ids(&self, on: impl Fn(&Part) -> bool) -> Vec<PartId> {
        let mut parts: Vec<&Part> = self.layout.parts.iter().filter(|p| on(p)).collect();
        parts.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
        let mut ids: Vec<PartId> = Vec::new();
        for part in parts {
            if !ids.contains(&part.id) {
                ids.push(part.id);
            }
        }
        ids
    }

    /// The bearings of a wall.
    pub(super) fn bearings(&self, end: End) -> Vec<PartId> {
        self.ids(|part| matches!(part.id, PartId::Bearing(_, wall) if wall == end))
    }

    /// What is put on a shaft in one go, from the input on: pieces of fixed
    /// gears, free gears with their dogs, sleeves.
    pub(super) fn loose(&self, shaft: Shaft) -> Vec<Vec<PartId>> {
        if shaft == fixed_shaft(self.gearbox.arrangement) {
            let seat = |role| {
                if role == Role::Head {
                    Seat::Driven
                } else {
                    Seat::Driver
                }
            };
            let gear = |&role: &Role| PartId::Gear(role, seat(role));
            let piece = |piece: &Vec<Role>| piece.iter().map(gear).collect();
            let separate = self.gearbox.blanks == crate::design::planes::given::Blanks::Separate;
            let pieces: Vec<Vec<PartId>> = self.layout.pieces.iter().map(piece).collect();
            return if separate {
                pieces.into_iter().flatten().map(|id| vec![id]).collect()
            } else {
                pieces
            };
        }
        let loose = |part: &Part| {
            part.shaft == shaft && matches!(part.id, PartId::Gear(..) | PartId::Sleeve(_))
        };
        let with_dogs = |id: PartId| match id {
            PartId::Gear(role, _) if self.is_there(PartId::DogRing(role)) => {
                vec![id, PartId::DogRing(role)]
            }
            _ => vec![id],
        };
        self.ids(loose).into_iter().map(with_dogs).collect()
    }

    /// The input shaft of an in-line box with its gear; nothing offset.
    pub(super) fn input(&self) -> Vec<PartId> {
        if self.gearbox.head.is_none() {
            return Vec::new();
        }
        self.ids(|part| part.shaft == Shaft::Input && !matches!(part.id, PartId::Bearing(..)))
    }

    /// A shaft and all that is on it, without bearings.
    pub(super) fn group(&self, shaft: Shaft) -> Vec<PartId> {
        self.ids(|part| part.shaft == shaft && !matches!(part.id, PartId::Bearing(..)))
    }

    pub(super) fn fixed(&self) -> Shaft {
        fixed_shaft(self.gearbox.arrangement)
    }

    pub(super) fn free(&self) -> Shaft {
        free_shaft(self.gearbox.arrangement)
    }

    /// The idler, if there is one.
    pub(super) fn idler(&self) -> Vec<PartId> {
        self.ids(|part| part.id == PartId::Gear(Role::Reverse, Seat::Idler))
    }

    /// Names of parts, for sentences.
    pub(super) fn names(&self, ids: &[PartId]) -> String {
        let shown = |id: &&PartId| !matches!(id, PartId::DogRing(_));
        let names = ids.iter().filter(shown);
        let names: Vec<String> = names
            .map(|id| format!("the {}", id.name(self.gearbox)))
            .collect();
        match names.as_slice() {
            [] => "nothing".to_owned(),
            [one] => one.clone(),
            [before @ .., last] => format!("{} and {last}", before.join(", ")),
        }
    }

    /// Moves parts, if nothing that stands at the site is in the way.
    pub(super) fn put(&mut self, site: Site, ids: &[PartId], way: Way, words: String) -> Done {
        for part in ids.iter().flat_map(|&id| self.rings(id)) {
            for &(at, id) in &self.stands {
                if at != site || ids.contains(&id) {
                    continue;
                }
                if self
                    .rings(id)
                    .any(|still| meets(self.gearbox, part, still, way))
                {
                    return Err(Obstacle {
                        part: part.id,
                        in_the_way: Some(id),
                        words,
                    });
                }
            }
        }
        self.stands.retain(|(_, id)| !ids.contains(id));
        if way.to_mm.iter().all(|part| part.abs() <= 0.0) {
            self.stands.extend(ids.iter().map(|&id| (site, id)));
        }
        self.steps.push(Step {
            site,
            parts: ids.to_vec(),
            direction: direction(way),
            from_mm: way.from_mm,
            to_mm: way.to_mm,
            words,
        });
        Ok(())
    }

    /// Moves parts along the shafts towards `end` from beyond all else.
    pub(super) fn slide(&mut self, site: Site, ids: &[PartId], end: End, words: String) -> Done {
        self.put(site, ids, self.along(ids, end), words)
    }

    /// From clear of the box, along the shafts towards `end`.
    fn along(&self, ids: &[PartId], end: End) -> Way {
        let (from_mm, to_mm) = self.ends(ids);
        let all: Vec<PartId> = self.ids(|_| true);
        let (first_mm, last_mm) = self.ends(&all);
        let z_mm = match end {
            End::Input => last_mm - from_mm,
            End::Output => first_mm - to_mm,
        };
        Way {
            from_mm: [0.0, 0.0, z_mm],
            to_mm: [0.0; 3],
        }
    }

    /// Moves parts across the shafts, (x, y) pointing the way.
    pub(super) fn lay(&mut self, ids: &[PartId], towards: [f64; 2], words: String) -> Done {
        let clear_mm = self.clear_mm();
        let way = Way {
            from_mm: [-clear_mm * towards[0], -clear_mm * towards[1], 0.0],
            to_mm: [0.0; 3],
        };
        self.put(Site::Case, ids, way, words)
    }

    /// Farther across than the box is wide, mm.
    pub(super) fn clear_mm(&self) -> f64 {
        let all: Vec<PartId> = self.ids(|_| true);
        let place = self
            .gearbox
            .reverse
            .as_ref()
            .map(|reverse| reverse.idler.place);
        let place_mm = place.map_or(0.0, |place| place.x_mm.abs() + place.y_mm.abs());
        2.0 * self.radius(&all) + self.gearbox.centre_distance_mm + place_mm
    }

    /// Something that is there from the beginning.
    pub(super) fn stays(&mut self, ids: &[PartId], words: String) -> Done {
        let way = Way {
            from_mm: [0.0; 3],
            to_mm: [0.0; 3],
        };
        self.put(Site::Case, ids, way, words)
    }

    /// Puts what is loose on a shaft, from its input end, the farthest first.
    pub(super) fn load(&mut self, shaft: Shaft) -> Done {
        let bench = Site::Bench(shaft);
        let on = PartId::Shaft(shaft);
        let way = Way {
            from_mm: [0.0; 3],
            to_mm: [0.0; 3],
        };
        let words = format!("Have {} ready on the bench.", self.names(&[on]));
        self.put(bench, &[on], way, words)?;
        for parts in self.loose(shaft).into_iter().rev() {
            let words = format!(
                "Slide {} on {} from its input end.",
                self.names(&parts),
                self.names(&[on])
            );
            self.slide(bench, &parts, End::Output, words)?;
        }
        Ok(())
    }
}

fn direction(way: Way) -> Direction {
    let [x, y, z] = [0, 1, 2].map(|i| way.to_mm[i] - way.from_mm[i]);
    if z > 0.0 {
        Direction::TowardsOutput
    } else if z < 0.0 {
        Direction::TowardsInput
    } else if y < 0.0 {
        Direction::Down
    } else if x > 0.0 {
        Direction::Right
    } else if x < 0.0 {
        Direction::Left
    } else {
        Direction::Stays
    }
}
