//! The meshes in a table.

use super::words::figure;
use crate::base::plain;
use crate::cli::table::{Column, Table, push_lines};
use crate::export::{GearRating, MeshRating, StrengthRecord};

/// A line a mesh; of both gears the weaker one's figures.
pub(super) fn table(record: &StrengthRecord, width: usize) -> String {
    let cells = |cell: &dyn Fn(&MeshRating) -> String| record.meshes.iter().map(cell).collect();
    let columns = vec![
        Column::left("mesh", cells(&|mesh| mesh.role.clone())),
        Column::left("gears", cells(&teeth)),
        Column::right("torque\nN m", cells(&|mesh| figure(mesh.driver_torque_n_m))),
        Column::right("width\nmm", cells(&|mesh| plain(mesh.face_width_mm, 1))),
        Column::right("root MPa\nis/may be", cells(&root)),
        Column::right("flank MPa\nis/may be", cells(&flank)),
        Column::right(
            "safety\nroot",
            cells(&|mesh| plain(weaker(mesh, root_safety).root_safety, 2)),
        ),
        Column::right(
            "safety\nflank",
            cells(&|mesh| plain(weaker(mesh, flank_safety).flank_safety, 2)),
        ),
    ];
    let mut out = "\n  Teeth: of both gears of a mesh the weaker one's figures\n".to_owned();
    for part in Table::new(2, columns).split_named(width) {
        push_lines(&mut out, &part.head());
        push_lines(&mut out, &part.rows());
    }
    out
}

fn teeth(mesh: &MeshRating) -> String {
    let [driver, driven] = &mesh.gears;
    format!("{}→{}", driver.teeth, driven.teeth)
}

const fn root_safety(gear: &GearRating) -> f64 {
    gear.root_safety
}

const fn flank_safety(gear: &GearRating) -> f64 {
    gear.flank_safety
}

fn weaker(mesh: &MeshRating, safety: fn(&GearRating) -> f64) -> &GearRating {
    let [one, other] = &mesh.gears;
    if safety(other) < safety(one) {
        other
    } else {
        one
    }
}

fn root(mesh: &MeshRating) -> String {
    let gear = weaker(mesh, root_safety);
    format!(
        "{}/{}",
        plain(gear.root_mpa, 0),
        plain(gear.root_limit_mpa, 0)
    )
}

fn flank(mesh: &MeshRating) -> String {
    let gear = weaker(mesh, flank_safety);
    format!(
        "{}/{}",
        plain(gear.flank_mpa, 0),
        plain(gear.flank_limit_mpa, 0)
    )
}
