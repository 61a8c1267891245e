//! How pictures are spelled.

use super::pictures::{Matter, Picture};
use crate::cli::exit::Failure;
use crate::export::{dxf, svg, write_3mf, write_stl};
use clap::ValueEnum;
use std::io::{self, Write};
use std::path::Path;

/// Spellings of drawings and bodies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Spelling {
    /// A drawing for paper and browsers, at full size with a bar to measure
    Svg,
    /// A drawing for CAD, mm, a layer a meaning
    Dxf,
    /// Bodies as triangles, mm
    Stl,
    /// Bodies as triangles with their names, mm
    #[value(name = "3mf")]
    ThreeMf,
}

impl Spelling {
    pub(super) const ALL: [Self; 4] = [Self::Svg, Self::Dxf, Self::Stl, Self::ThreeMf];

    /// How its files end.
    pub(super) const fn ending(self) -> &'static str {
        match self {
            Self::Svg => "svg",
            Self::Dxf => "dxf",
            Self::Stl => "stl",
            Self::ThreeMf => "3mf",
        }
    }

    /// Whether it is for bodies.
    pub(super) const fn is_solid(self) -> bool {
        matches!(self, Self::Stl | Self::ThreeMf)
    }

    /// Whether it can hold a picture.
    pub(super) const fn fits(self, picture: &Picture) -> bool {
        self.is_solid() == picture.is_solid()
    }

    /// That of one file: what is asked for, else what its name ends in.
    pub(super) fn of_file(asked: &[Self], file: &Path) -> Result<Self, Failure> {
        let by_name = || {
            let ending = file.extension()?.to_str()?.to_ascii_lowercase();
            Self::ALL.into_iter().find(|own| own.ending() == ending)
        };
        match asked {
            [] => by_name().ok_or_else(|| {
                Failure::BadInput(format!(
                    "--output {}: end the name in .svg, .dxf, .stl or .3mf, or say --format",
                    file.display()
                ))
            }),
            [only] => Ok(*only),
            _ => Err(Failure::BadInput(
                "--output takes one format: say --into DIR for several".to_owned(),
            )),
        }
    }
}

/// Writes one picture; [`Spelling::fits`] is asked before.
pub(super) fn spell(picture: &Picture, spelling: Spelling, to: &mut dyn Write) -> io::Result<()> {
    match (&picture.matter, spelling) {
        (Matter::Flat { drawing, .. }, Spelling::Dxf) => {
            to.write_all(dxf(&drawing.clone().with_hatch_lines()).as_bytes())
        }
        (Matter::Flat { drawing, warning }, _) => {
            to.write_all(svg(&drawing.clone().on_paper(warning)).as_bytes())
        }
        (Matter::Bodies(solids), Spelling::Stl) => write_stl(solids, to),
        (Matter::Bodies(solids), _) => write_3mf(&picture.title, solids, to),
    }
}
