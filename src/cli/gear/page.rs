//! Gears as text.

use super::made::Made;
use super::tables;
use crate::base::{capital, plain, signed};
use crate::cli::screen::{Screen, paragraph, strong, warning};
use crate::cli::words::series;
use crate::export::{BenchWork, OuterShafts, Refused, UNRATED, WorkedMesh};
use crate::inspect::{MeshFigures, SlidingEnd};
use crate::involute::{Closing, SplitLimit};
use std::fmt::Write;

/// The whole text.
pub(super) fn page(made: &Made, screen: &Screen) -> String {
    let (work, width) = (&made.work, screen.width);
    let mut out = String::new();
    let answer = match (&work.refusal, &work.closing) {
        (Some(refused), Some(closing)) => no(work, refused, closing),
        _ => sentence(work),
    };
    for line in paragraph(&answer, 0, width).lines() {
        let _ = writeln!(out, "{}", strong(line));
    }
    out += &paragraph(&toothing(work), 0, width);
    let marks = work.marks();
    if !marks.is_empty() {
        out.push('\n');
    }
    for mark in &marks {
        out += &paragraph(&warning(&capital(&mark.text)), 2, width);
    }
    if !work.gears.is_empty() {
        let _ = write!(out, "\n{}", tables::gears(work));
    }
    for worked in &work.meshes {
        let _ = write!(out, "\n{}", mesh(work, worked, width));
    }
    if let Some(outer) = &work.outer {
        let _ = write!(out, "\n{}", shafts(outer, width));
    }
    if work.refusal.is_none() {
        let _ = write!(out, "\n{}", paragraph(&notes(work), 2, width));
    }
    out
}

fn toothing(work: &BenchWork) -> String {
    let rack = work.toothing.rack();
    let mut text = format!(
        "Module {} mm, pressure angle {}°",
        plain(work.toothing.module_mm(), 4),
        plain(rack.pressure_angle_rad.to_degrees(), 2)
    );
    if work.toothing.helix_rad() > 0.0 {
        let _ = write!(
            text,
            ", helix {}°",
            plain(work.toothing.helix_rad().to_degrees(), 3)
        );
    }
    let _ = write!(
        text,
        "; rack {} above, {} below, fillet {}.",
        plain(rack.addendum, 3),
        plain(rack.dedendum, 3),
        plain(rack.fillet, 4)
    );
    text
}

fn sentence(work: &BenchWork) -> String {
    let teeth: Vec<String> = work.gears.iter().map(|g| g.teeth().to_string()).collect();
    let teeth: Vec<&str> = teeth.iter().map(String::as_str).collect();
    let shifts: Vec<String> = work.gears.iter().map(|g| signed(g.shift(), 3)).collect();
    let shifts: Vec<&str> = shifts.iter().map(String::as_str).collect();
    match &work.meshes[..] {
        [] => format!("A gear of {} teeth, shift {}.", teeth[0], shifts[0]),
        [one] => {
            let a = plain(one.mesh.centres_mm(), 3);
            let play = one.mesh.backlash_mm();
            let pair = format!("{} and {} teeth", teeth[0], teeth[1]);
            if one.split.is_some() {
                format!(
                    "{pair} close {a} mm with shifts of {} and {}.",
                    shifts[0], shifts[1]
                )
            } else if play < -0.0005 {
                format!(
                    "{pair} bind by {} mm on shafts {a} mm apart.",
                    plain(-play, 3)
                )
            } else if play < 0.0005 {
                format!("{pair} close shafts {a} mm apart, without backlash before thinning.")
            } else {
                let play = plain(play, 3);
                format!("{pair} run on shafts {a} mm apart with {play} mm backlash unthinned.")
            }
        }
        [one, other, ..] => format!(
            "Reverse {}: idler {} mm from the driver and {} mm from the driven gear, with shifts \
             of {}.",
            teeth.join("→"),
            plain(one.mesh.centres_mm(), 3),
            plain(other.mesh.centres_mm(), 3),
            series(&shifts)
        ),
    }
}

/// Why no split is allowed, and what would be.
fn no(work: &BenchWork, refused: &Refused, closing: &Closing) -> String {
    let [one, other] = closing.teeth();
    let sum = closing.shift_sum();
    let mut text = format!(
        "{one} and {other} teeth of module {} mm need shifts of {} together to close {} mm, and \
         no split of them is allowed: ",
        plain(work.toothing.module_mm(), 4),
        signed(sum, 4),
        plain(closing.centres_mm(), 3)
    );
    if let Some((least, most)) = refused.shift_sum_outside {
        let _ = write!(
            text,
            "two gears may have {} to {}.",
            signed(least, 3),
            signed(most, 3)
        );
        return text;
    }
    let range = |(from, to): (f64, f64)| format!("{} to {}", signed(from, 3), signed(to, 3));
    let limit = match refused.limit {
        SplitLimit::Shift => "the range of shift",
        SplitLimit::Wall => "the wall under the teeth",
        SplitLimit::Undercut => "undercut",
        SplitLimit::TipThickness => "tip thickness",
        SplitLimit::Interference => "interference",
        SplitLimit::ContactRatio => "contact ratio",
    };
    match (refused.alone, refused.before) {
        (Some((from, to)), Some(before)) if from <= to => {
            let _ = write!(
                text,
                "{limit} asks for {} on the first gear, the limits before it leave {}.",
                range((from, to)),
                range(before)
            );
        }
        (Some((from, to)), _) if from > to => {
            let _ = write!(
                text,
                "{limit} asks for at least {} on the first gear and {} on the second.",
                signed(from, 3),
                signed(sum - to, 3)
            );
        }
        _ => {
            let _ = write!(text, "{limit} leaves none.");
        }
    }
    text
}

fn mesh(work: &BenchWork, worked: &WorkedMesh, width: usize) -> String {
    let figures = work.mesh_figures(worked);
    let names = worked.places.map(|place| work.names()[place]);
    let mut out = format!(
        "  {} and {} at {} mm\n",
        capital(names[0]),
        names[1],
        plain(figures.centre_distance_mm, 3)
    );
    for line in lines(&figures, worked) {
        out += &paragraph(&line, 4, width);
    }
    out
}

fn lines(figures: &MeshFigures, worked: &WorkedMesh) -> Vec<String> {
    let mut lines = vec![format!(
        "Working pressure angle {}°; made for {} mm without shift; sum of the shifts {}.",
        plain(figures.working_pressure_angle_deg, 4),
        plain(figures.standard_centre_distance_mm, 3),
        signed(figures.profile_shift_sum, 4)
    )];
    if let Some(split) = &worked.split {
        let balanced = split.balanced.map_or_else(
            || "no split balances the sliding".to_owned(),
            |x| format!("{} balances the sliding", signed(x, 3)),
        );
        lines.push(format!(
            "The first gear may have {} to {}; {balanced}.",
            signed(split.legal.0, 3),
            signed(split.legal.1, 3)
        ));
    }
    let mut contact = format!("Contact ratio {}", plain(figures.contact_ratio, 3));
    if figures.contact_ratio_nominal - figures.contact_ratio > 5e-4 {
        let _ = write!(
            contact,
            " (nominal {}: the roots take the rest)",
            plain(figures.contact_ratio_nominal, 3)
        );
    }
    if let (Some(overlap), Some(total)) = (figures.overlap_ratio, figures.total_contact_ratio)
        && overlap > 0.0
    {
        let _ = write!(
            contact,
            ", overlap {}, together {}",
            plain(overlap, 3),
            plain(total, 3)
        );
    }
    lines.push(contact + ".");
    lines.push(format!(
        "Tips clear the mate's root by {} and {} mm. Specific sliding {} at the start, {} at the \
         end.",
        plain(figures.first.tip_clearance_mm, 3),
        plain(figures.second.tip_clearance_mm, 3),
        slide(&figures.sliding_at_start),
        slide(&figures.sliding_at_end)
    ));
    if figures.most_backlash.thinning_each_mm > 0.0 {
        lines.push(format!(
            "Backlash between the flanks {} mm at full teeth; {} to {} mm with each gear's teeth \
             {} to {} mm thinner.",
            plain(figures.full_teeth.normal_mm, 3),
            plain(figures.least_backlash.normal_mm, 3),
            plain(figures.most_backlash.normal_mm, 3),
            plain(figures.least_backlash.thinning_each_mm, 3),
            plain(figures.most_backlash.thinning_each_mm, 3)
        ));
    } else {
        lines.push(format!(
            "Backlash between the flanks {} mm at full teeth: no thinning needed.",
            plain(figures.full_teeth.normal_mm, 3)
        ));
    }
    lines
}

/// The worse of both flanks.
fn slide(end: &SlidingEnd) -> String {
    let worse = [end.specific_first, end.specific_second]
        .into_iter()
        .map(|value| value.unwrap_or(f64::NEG_INFINITY))
        .fold(f64::INFINITY, f64::min);
    if worse.is_finite() {
        plain(worse, 2)
    } else {
        "without bound".to_owned()
    }
}

fn shafts(outer: &OuterShafts, width: usize) -> String {
    let a = plain(outer.centres_mm, 3);
    let gap = outer.tip_gap_mm;
    let mut text = if gap >= 0.0 {
        format!(
            "On shafts {a} mm apart the tips of driver and driven gear leave {} mm. ",
            plain(gap, 3)
        )
    } else {
        format!(
            "On shafts {a} mm apart the tips of driver and driven gear overlap by {} mm. ",
            plain(-gap, 3)
        )
    };
    match outer.idler_centres {
        Some([right, _]) => {
            let _ = write!(
                text,
                "Idler at x ±{} mm, y {} mm, the driven gear at 0, 0 and the driver at 0, -{a} mm.",
                plain(right.x_mm, 3),
                plain(right.y_mm, 3)
            );
        }
        None => text += "The idler has no place there.",
    }
    paragraph(&text, 2, width)
}

fn notes(work: &BenchWork) -> String {
    let mut text = String::new();
    if work.aim.most_mm > 0.0 {
        text += "No more than, no less than: sizes for the least and the most backlash. ";
    }
    text += "A form cutter's number runs both ways: trust its range of teeth. A blank that is off \
             size moves the caliper's height by half of that. ";
    text + UNRATED
}
