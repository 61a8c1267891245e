//! The tables of `gear`: one column a gear.

use crate::base::{plain, signed};
use crate::cli::table::{Column, Table, push_lines};
use crate::export::BenchWork;
use crate::inspect::{Cutting, GearFigures, Measures, Size, ToolRange};
use crate::involute::Member;

/// Rows with a cell for each gear; a row without cells is a heading.
#[derive(Default)]
struct Rows(Vec<(String, Vec<String>)>);

impl Rows {
    fn heading(&mut self, text: &str) {
        if !self.0.is_empty() {
            self.0.push((String::new(), Vec::new()));
        }
        self.0.push((text.to_owned(), Vec::new()));
    }

    /// A row, unless no gear has anything in it.
    fn row(&mut self, label: &str, cells: Vec<String>) {
        if cells.iter().any(|cell| !cell.is_empty()) {
            self.0.push((format!("  {label}"), cells));
        }
    }
}

/// All figures of all gears, one column each.
pub(super) fn gears(work: &BenchWork) -> String {
    let gears: Vec<GearFigures> = work.gears.iter().map(GearFigures::of).collect();
    let cutting: Vec<Cutting> = work
        .gears
        .iter()
        .map(|gear| Cutting::of(gear, &work.aim))
        .collect();
    let measures: Vec<Measures> = (0..gears.len()).map(|i| work.measures(i)).collect();
    let mut rows = Rows::default();
    sizes(&mut rows, work, &gears);
    to_cut(&mut rows, work, &cutting);
    to_measure(&mut rows, work, &measures);
    table(work, &rows)
}

fn table(work: &BenchWork, rows: &Rows) -> String {
    let labels = rows.0.iter().map(|(label, _)| label.clone()).collect();
    let mut columns = vec![Column::left("", labels)];
    for (i, name) in work.names().iter().enumerate() {
        let cell = |cells: &Vec<String>| cells.get(i).cloned().unwrap_or_default();
        let cells = rows.0.iter().map(|(_, cells)| cell(cells)).collect();
        columns.push(Column::right(name, cells));
    }
    let table = Table::new(2, columns);
    let mut out = String::new();
    push_lines(&mut out, &table.head());
    push_lines(&mut out, &table.rows());
    out
}

fn each<T>(of: &[T], cell: impl Fn(&T) -> String) -> Vec<String> {
    of.iter().map(cell).collect()
}

fn sizes(rows: &mut Rows, work: &BenchWork, gears: &[GearFigures]) {
    let mm = |value: f64| plain(value, 3);
    rows.row("teeth", each(gears, |g| g.teeth.to_string()));
    rows.row(
        "profile shift x",
        each(gears, |g| signed(g.profile_shift, 4)),
    );
    let shortened = gears.iter().any(|gear| gear.tip_shortening < -5e-5);
    if shortened {
        rows.row(
            "tip shortening k",
            each(gears, |g| signed(g.tip_shortening, 4)),
        );
    }
    rows.row("blank (tip) Ø mm", each(gears, |g| mm(g.tip_diameter_mm)));
    rows.row("pitch Ø mm", each(gears, |g| mm(g.reference_diameter_mm)));
    if !work.meshes.is_empty() {
        let working = (0..gears.len()).map(|i| working(work, i)).collect();
        rows.row("working Ø mm", working);
    }
    rows.row("base Ø mm", each(gears, |g| mm(g.base_diameter_mm)));
    rows.row("root Ø mm", each(gears, |g| mm(g.root_diameter_mm)));
    rows.row("flank begins Ø mm", each(gears, |g| mm(g.form_diameter_mm)));
    if !work.meshes.is_empty() {
        let active = |i: usize| mm(work.active_mm(i).0);
        rows.row(
            "flank works from Ø mm",
            (0..gears.len()).map(active).collect(),
        );
    }
    rows.row(
        "thickness, pitch mm",
        each(gears, |g| mm(g.normal_thickness_mm)),
    );
    rows.row("thickness, tip mm", each(gears, |g| mm(g.tip_thickness_mm)));
    rows.row(
        "undercut below x",
        each(gears, |g| signed(g.undercut_limit_shift, 3)),
    );
    rows.row(
        "drives, unshifted",
        each(gears, |g| match g.drives_up_to_teeth {
            Some(teeth) => format!("to {teeth}"),
            None if g.drives_a_rack => "any gear".to_owned(),
            None => "none".to_owned(),
        }),
    );
}

/// Working diameters over all meshes of a gear, as one cell.
fn working(work: &BenchWork, place: usize) -> String {
    let mut all = Vec::new();
    for worked in &work.meshes {
        for (member, of) in Member::BOTH.into_iter().zip(worked.places) {
            if of == place {
                all.push(plain(worked.mesh.working_mm(member), 3));
            }
        }
    }
    all.dedup();
    all.join(", ")
}

fn to_cut(rows: &mut Rows, work: &BenchWork, cutting: &[Cutting]) {
    rows.heading("To cut");
    let mm = |value: f64| plain(value, 3);
    rows.row(
        "depth, full teeth mm",
        each(cutting, |c| mm(c.depth.full_mm)),
    );
    if work.aim.by_depth && work.aim.most_mm > 0.0 {
        rows.row(
            "depth, least backlash",
            each(cutting, |c| mm(c.depth.least_mm)),
        );
        rows.row(
            "depth, most backlash",
            each(cutting, |c| mm(c.depth.most_mm)),
        );
    }
    let seen = |c: &Cutting| c.virtual_teeth.to_string();
    if work.toothing.helix_rad() > 0.0 {
        rows.row("virtual teeth", each(cutting, seen));
    }
    rows.row("form cutter", each(cutting, |c| cutter(c.form_cutter)));
    let fine = |c: &Cutting| match &c.form_cutter_of_fifteen {
        None => String::new(),
        Some(fine) => match fine.to_teeth {
            Some(to) if to == fine.from_teeth => format!("{} ({to})", fine.number),
            Some(to) => format!("{} ({}-{to})", fine.number, fine.from_teeth),
            None => format!("{} ({} up)", fine.number, fine.from_teeth),
        },
    };
    rows.row("of the set of fifteen", each(cutting, fine));
    let lead = |c: &Cutting| c.helix.map_or(String::new(), |helix| mm(helix.lead_mm));
    rows.row("lead mm", each(cutting, lead));
    let swing = |c: &Cutting| {
        c.helix
            .map_or(String::new(), |h| plain(h.table_angle_deg, 3))
    };
    rows.row("table swung °", each(cutting, swing));
}

fn cutter(range: Option<ToolRange>) -> String {
    match range {
        None => "none below 12".to_owned(),
        Some(ToolRange {
            number,
            from_teeth,
            to_teeth: Some(to),
        }) => format!("{number} ({from_teeth}-{to})"),
        Some(ToolRange {
            number, from_teeth, ..
        }) => format!("{number} ({from_teeth} up)"),
    }
}

fn to_measure(rows: &mut Rows, work: &BenchWork, measures: &[Measures]) {
    rows.heading("To measure, mm");
    let aimed = work.aim.most_mm > 0.0;
    let sized = |rows: &mut Rows, of: &dyn Fn(&Measures) -> Option<Size>| {
        let cell = |pick: &dyn Fn(Size) -> f64| {
            each(measures, |m| {
                of(m).map_or(String::new(), |s| plain(pick(s), 3))
            })
        };
        rows.row("  full teeth", cell(&|s| s.full_mm));
        if aimed {
            rows.row("  no more than", cell(&|s| s.largest_mm));
            rows.row("  no less than", cell(&|s| s.smallest_mm));
        }
    };
    let over = |m: &Measures| {
        m.span
            .map_or("no flank".to_owned(), |s| s.teeth.to_string())
    };
    rows.row("over teeth, number", each(measures, over));
    sized(rows, &|m| m.span.map(|s| s.size));
    let pin = |m: &Measures| {
        m.over_pins
            .map_or("no pin".to_owned(), |p| plain(p.pin_mm, 3))
    };
    let balls = measures.iter().filter_map(|m| m.over_pins).any(|p| p.balls);
    let label = if balls {
        "over pins, balls where odd, Ø"
    } else {
        "over two pins of Ø"
    };
    rows.row(label, each(measures, pin));
    sized(rows, &|m| m.over_pins.map(|p| p.size));
    let height = |m: &Measures| {
        m.chord
            .map_or("no flank".to_owned(), |c| plain(c.height_mm, 3))
    };
    rows.row("chord, height below tip", each(measures, height));
    sized(rows, &|m| m.chord.map(|c| c.thickness));
}
