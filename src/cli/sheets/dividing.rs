//! Ways of dividing in words.

use crate::base::plain;
use crate::export::Page;
use crate::shop::dividing::{AtWork, Compound, Differential, Nearest, Simple};

/// Every way that serves, the best first, a line each.
pub(super) fn ways(page: &Page) -> Vec<String> {
    let dividing = &page.dividing;
    let mut lines: Vec<String> = dividing
        .direct
        .iter()
        .map(|way| {
            let moved = counted(way.move_holes, "hole", "holes");
            format!("direct: plate of {} holes, move {moved}", way.plate_holes)
        })
        .collect();
    lines.extend(dividing.simple.as_ref().map(simple));
    if let Some(way) = dividing.printed {
        lines.push(format!(
            "printed plate, circle of {} mm radius: {}",
            plain(way.radius_mm(), 0),
            moved(
                way.whole_turns,
                &of_circle(way.move_holes, way.circle_holes)
            )
        ));
        if let Some(error) = &page.dividing_errors.printed {
            let off = plain(page.dividing_errors.hole_off_mm, 1);
            lines.push(format!(
                "(a hole {off} mm out of place: {})",
                at_work(error)
            ));
        }
    }
    lines.extend(dividing.compound.iter().map(compound));
    lines.extend(dividing.differential.iter().map(differential));
    if let Some(near) = &dividing.nearest {
        lines.extend(nearest(page, near));
    }
    lines
}

fn counted(count: u32, one: &str, many: &str) -> String {
    let noun = if count == 1 { one } else { many };
    format!("{count} {noun}")
}

fn of_circle(holes: u32, circle: u32) -> String {
    format!("{holes} of {circle} holes")
}

/// Whole turns and holes, either left out where there is none.
fn moved(whole_turns: u32, holes: &str) -> String {
    let whole = counted(whole_turns, "turn", "turns");
    match (whole_turns, holes) {
        (_, "") => whole,
        (0, holes) => holes.to_owned(),
        (_, holes) => format!("{whole} + {holes}"),
    }
}

fn simple(way: &Simple) -> String {
    let circles = way.circles.iter().enumerate();
    let circles: Vec<String> = circles
        .map(|(place, circle)| match place {
            0 => of_circle(circle.move_holes, circle.circle_holes),
            _ => format!("{} of {}", circle.move_holes, circle.circle_holes),
        })
        .collect();
    match circles.as_slice() {
        [] => format!("crank {}, any circle", moved(way.whole_turns, "")),
        [one] => format!("crank {}", moved(way.whole_turns, one)),
        [first @ .., last] => {
            let holes = format!("{} or {last}", first.join(", "));
            format!("crank {}", moved(way.whole_turns, &holes))
        }
    }
}

fn compound(way: &Compound) -> String {
    format!(
        "two circles, plate {}: crank {}, then plate and crank together {} {}",
        way.plate,
        moved(
            way.whole_turns,
            &of_circle(way.crank_holes, way.crank_circle)
        ),
        of_circle(way.plate_holes, way.plate_circle),
        if way.back { "back" } else { "on" }
    )
}

fn differential(way: &Differential) -> String {
    let pairs: Vec<String> = way
        .gears
        .iter()
        .map(|[driver, driven]| format!("{driver} drives {driven}"))
        .collect();
    format!(
        "change gears, set for {}: {}; from the spindle {}, {}; the plate turns {} the crank \
         (if it does not, one idler more or less)",
        way.set_for,
        simple(&way.crank),
        pairs.join(", on its shaft "),
        counted(way.idlers, "idler", "idlers"),
        if way.with_the_crank() {
            "with"
        } else {
            "against"
        }
    )
}

fn nearest(page: &Page, near: &Nearest) -> Vec<String> {
    let step = if near.step == 1 {
        String::new()
    } else {
        format!(", {} teeth at a time, {} times round", near.step, near.step)
    };
    let mut lines = vec![format!("nearly: {}{step}", compound(&near.moves))];
    let errors = &page.dividing_errors;
    if let (Some(one), Some(all)) = (&errors.nearest_move, &errors.nearest_all) {
        lines.push(format!(
            "(a move is off by {}; all together by {})",
            at_work(one),
            at_work(all)
        ));
    }
    lines
}

fn at_work(error: &AtWork) -> String {
    format!(
        "{} seconds of arc, {} µm at the pitch circle",
        plain(error.arc_seconds.abs(), 1),
        plain(error.pitch_circle_um.abs(), 1)
    )
}
