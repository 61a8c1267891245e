//! The pictures of a set, each with the name of its file.

use super::wanted::What;
use crate::design::Plan;
use crate::export::Work;
use crate::problem::Problem;
use crate::sheet::{
    BEFORE_DRILLING, BEFORE_TRUSTING, Drawing, Solid, Views, boring_plans, gear_drawings,
    gear_solids, names_of_parts, plate, set_in_place,
};
use crate::train::Set;

/// What pictures are made of.
pub(super) struct Source<'a> {
    pub(super) problem: &'a Problem,
    pub(super) set: &'a Set,
    pub(super) mark: &'a str,
    pub(super) plan: &'a Plan<'a>,
    /// The state that views show.
    pub(super) state: String,
    pub(super) allowance_mm: f64,
}

/// One picture, which goes into a file for each spelling.
pub(super) struct Picture {
    /// The file's name without its ending.
    pub(super) stem: String,
    pub(super) title: String,
    /// The gear that it shows alone.
    pub(super) gear: Option<String>,
    pub(super) matter: Matter,
}

/// What it is made of.
pub(super) enum Matter {
    /// A drawing, and what its bar must be measured before.
    Flat {
        drawing: Drawing,
        warning: &'static str,
    },
    /// Bodies.
    Bodies(Vec<Solid>),
}

impl Picture {
    pub(super) const fn is_solid(&self) -> bool {
        matches!(self.matter, Matter::Bodies(_))
    }

    fn flat(stem: impl Into<String>, drawing: Drawing) -> Self {
        Self {
            stem: stem.into(),
            title: drawing.title.clone(),
            gear: None,
            matter: Matter::Flat {
                drawing,
                warning: BEFORE_TRUSTING,
            },
        }
    }

    fn bodies(stem: impl Into<String>, title: String, bodies: Vec<Solid>) -> Self {
        Self {
            stem: stem.into(),
            title,
            gear: None,
            matter: Matter::Bodies(bodies),
        }
    }
}

/// All pictures of what is asked for. What needs a layout is left out where
/// there is none.
pub(super) fn gallery(source: &Source<'_>, wanted: &[What]) -> Vec<Picture> {
    let drawn = wanted.iter().flat_map(|what| source.pictures(*what));
    let mut pictures: Vec<Picture> = Vec::new();
    for mut picture in drawn {
        // Names that are the same but for signs would write over each other.
        let same =
            |other: &&Picture| other.stem == picture.stem && other.is_solid() == picture.is_solid();
        let again = pictures.iter().filter(same).count();
        if again > 0 {
            picture.stem = format!("{}-{}", picture.stem, again + 1);
        }
        pictures.push(picture);
    }
    pictures
}

impl Source<'_> {
    fn pictures(&self, what: What) -> Vec<Picture> {
        let (problem, set, plan) = (self.problem, self.set, self.plan);
        let still = |drawing: &Drawing| drawing.still(&self.state, plan.side);
        match what {
            What::End => {
                let views = Views::new(problem, set, plan);
                vec![Picture::flat("end-view", still(&views.end))]
            }
            What::Section => {
                let views = Views::new(problem, set, plan);
                let section = views.section.as_ref();
                section
                    .map(|section| Picture::flat("section", still(section)))
                    .into_iter()
                    .collect()
            }
            What::Names => names_of_parts(problem, set, plan)
                .map(|drawing| Picture::flat("names-of-parts", drawing))
                .into_iter()
                .collect(),
            What::Boring => self.boring().into_iter().collect(),
            What::BoringInput => self.boring().into_iter().take(1).collect(),
            What::BoringOutput => self.boring().into_iter().skip(1).collect(),
            What::Gear => self.gears(),
            What::Plate => self.plates(),
            What::Set => set_in_place(problem, set, plan)
                .map(|bodies| {
                    let title = format!("Set {}, everything in its place", self.mark);
                    Picture::bodies("set-in-place", title, bodies)
                })
                .into_iter()
                .collect(),
        }
    }

    fn boring(&self) -> [Picture; 2] {
        let [input, output] = boring_plans(self.problem, self.set, self.plan, true);
        [
            Picture::flat("boring-input", input),
            Picture::flat("boring-output", output),
        ]
    }

    fn gears(&self) -> Vec<Picture> {
        let stem = |name: &str| format!("gear-{}", slug(name));
        let drawings = gear_drawings(self.problem, self.set, self.plan);
        let drawn = drawings.into_iter().map(|(name, drawing)| Picture {
            gear: Some(name.clone()),
            ..Picture::flat(stem(&name), drawing)
        });
        let bodies = gear_solids(self.problem, self.set, self.plan, self.allowance_mm);
        let solid = bodies.into_iter().map(|(name, body)| Picture {
            gear: Some(name.clone()),
            ..Picture::bodies(stem(&name), format!("Gear: {name}"), vec![body])
        });
        drawn.chain(solid).collect()
    }

    fn plates(&self) -> Vec<Picture> {
        let work = Work::of(self.problem, self.set, self.mark);
        let plates = work.plates.iter().map(|record| {
            let stem = record.file.trim_end_matches(".svg");
            let drawing = plate(&record.drawing);
            Picture {
                matter: Matter::Flat {
                    drawing: drawing.clone(),
                    warning: BEFORE_DRILLING,
                },
                ..Picture::flat(stem, drawing)
            }
        });
        plates.collect()
    }
}

/// A name as a file may have it on any disk: letters and figures, else dashes.
fn slug(name: &str) -> String {
    let mut out = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        if letter.is_alphanumeric() {
            out.push(letter);
        } else if !out.ends_with('-') {
            out.push('-');
        }
    }
    out.trim_matches('-').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_gears_become_names_of_files() {
        assert_eq!(slug("layshaft, Crawl/2"), "layshaft-crawl-2");
        assert_eq!(slug("main, Rückwärts!"), "main-rückwärts");
    }
}
