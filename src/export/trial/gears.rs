//! Gears to print and to measure, and where blue must show.

use super::part::{TrialBlock, TrialCell, TrialHead, TrialPart, TrialTable};
use crate::examine::{Examined, Mesh, called};
use crate::export::GearSheet;
use crate::inspect::{GearFigures, Size};
use crate::train::Gear;

const PRINT: &str = "Print one of each at full size, flat on the bed, and ream the holes. They show \
                     whether centres, sense and clearances are right. They are for turning by hand \
                     only. Measure a cut gear as below before it replaces a printed one.";

const BLUE: &str = "A thin coat of blue on the driving gear, three turns by hand against a light \
                    drag. The mark should cover the middle two thirds of the width, and stand \
                    between these diameters; a mark at one end says that the shafts are not \
                    parallel, one at the tips alone that they are too far apart, a line at the \
                    foot that a tip digs in.";

/// Gears to print, and what to measure on them and on the real ones.
pub(super) fn printed(examined: &Examined<'_>, sheets: &[GearSheet]) -> TrialPart {
    let heads = vec![
        TrialHead::words("gear"),
        TrialHead::figures("teeth", ""),
        TrialHead::figures("outside Ø", "mm"),
        TrialHead::figures("over teeth", ""),
        TrialHead::figures("span", "mm"),
        TrialHead::figures("pins Ø", "mm"),
        TrialHead::figures("over pins", "mm"),
        TrialHead::read(),
    ];
    let row = |(gear, figures): &(Gear, GearFigures)| {
        let name = gear.name(examined.problem);
        let sheet = sheets.iter().find(|sheet| sheet.gear == name);
        let mut row = vec![
            TrialCell::Words(name),
            whole(gear.teeth.get()),
            TrialCell::Figure(figures.tip_diameter_mm, 2),
        ];
        row.extend(measured(sheet));
        row.push(TrialCell::Read);
        row
    };
    let rows = examined.gears.iter().map(row).collect();
    TrialPart {
        heading: "2. Printed trial gears".to_owned(),
        blocks: vec![
            TrialBlock::Words(PRINT.to_owned()),
            TrialBlock::Table(TrialTable { heads, rows }),
        ],
    }
}

/// Teeth spanned and their span, pins and the size over them.
fn measured(sheet: Option<&GearSheet>) -> [TrialCell; 4] {
    let range = |size: Size| TrialCell::range([size.smallest_mm, size.largest_mm], 3);
    let mut cells = [const { TrialCell::Nothing }; 4];
    if let Some(span) = sheet.and_then(|sheet| sheet.inspection.span) {
        cells[0] = whole(span.teeth);
        cells[1] = range(span.size);
    }
    if let Some(pins) = sheet.and_then(|sheet| sheet.inspection.over_pins) {
        cells[2] = TrialCell::Figure(pins.pin_mm, 2);
        cells[3] = range(pins.size);
    }
    cells
}

fn whole(count: u32) -> TrialCell {
    TrialCell::Figure(f64::from(count), 0)
}

/// Where blue must show.
pub(super) fn blueing(examined: &Examined<'_>) -> TrialPart {
    let heads = vec![
        TrialHead::words("mesh"),
        TrialHead::figures("driver Ø", "mm"),
        TrialHead::figures("driven Ø", "mm"),
    ];
    let row = |mesh: &Mesh| {
        let figures = mesh.figures.as_ref()?;
        let [driver, driven] = [figures.first, figures.second].map(|gear| {
            let flank = [
                gear.start_of_active_profile_mm,
                gear.end_of_active_profile_mm,
            ];
            TrialCell::range(flank, 2)
        });
        let [one, other] = mesh.gears.map(|gear| gear.teeth);
        let name = format!("{} {one}→{other}", called(examined.problem, mesh.role));
        Some(vec![TrialCell::Words(name), driver, driven])
    };
    let rows = examined.meshes.iter().filter_map(row).collect();
    TrialPart {
        heading: "3. Blue the teeth".to_owned(),
        blocks: vec![
            TrialBlock::Words(BLUE.to_owned()),
            TrialBlock::Table(TrialTable { heads, rows }),
        ],
    }
}
