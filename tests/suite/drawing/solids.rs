//! Bodies: closed, of the right volume, each in its place.

use super::teeth::overlap;
use super::{Drawn, random_boxes, samples};
use layshaft::design::planes::PartId;
use layshaft::export::{write_3mf, write_stl};
use layshaft::involute::outline::Tooth;
use layshaft::sheet::{Solid, cut_of, gear_solids, set_in_place};
use layshaft::train::{Point, Role, Seat, forms_of, gears_of, made_of, mesh_of, meshes_of};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Every edge is passed once in either sense.
fn assert_closed(solid: &Solid, about: &str) {
    let mut edges: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    for [a, b, c] in &solid.triangles {
        for edge in [(*a, *b), (*b, *c), (*c, *a)] {
            *edges.entry(edge).or_default() += 1;
        }
    }
    for ((a, b), times) in &edges {
        assert_eq!(*times, 1, "{about}, {}: {a} {b}", solid.name);
        assert!(
            edges.contains_key(&(*b, *a)),
            "{about}, {}: {a} {b}",
            solid.name
        );
    }
    assert!(!edges.is_empty(), "{about}");
}

/// By the divergence theorem: positive where triangles look outwards.
pub(super) fn volume(solid: &Solid) -> f64 {
    let signed = solid.facets().map(|([a, b, c], _)| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
            + a[2] * (b[0] * c[1] - b[1] * c[0])
    });
    signed.sum::<f64>() / 6.0
}

/// What every gear of a set should hold, mm³, by name: outline less hole (but
/// for one that would leave no roots), times width.
pub(super) fn volumes(of: &Drawn) -> Vec<(String, f64)> {
    let (problem, set) = (&of.problem, &of.set);
    let made = made_of(problem, set, &forms_of(problem, set));
    of.with_plan(|plan| {
        let gears = gears_of(problem, set).into_iter().zip(&made);
        gears
            .map(|(gear, made)| {
                let tooth = Tooth::new(&cut_of(&made.unwrap(), 0.0)).unwrap();
                let hole = plan.housed.wheel(gear.role, gear.seat);
                let hole = hole.map_or(0.0, |wheel| wheel.hole_radius_mm);
                let root = made.unwrap().root_mm() / 2.0;
                let hole = if hole < root { hole } else { 0.0 };
                let area = tooth.outline(1e-3).unwrap().area_mm2() - PI * hole * hole;
                (gear.name(problem), area * gear.face.mm())
            })
            .collect()
    })
}

#[test]
fn gears_are_closed_and_hold_what_their_outline_holds() {
    let mut held = 0;
    for of in samples().into_iter().chain(random_boxes(0..12)) {
        let wanted = volumes(&of);
        let bodies = of.with_plan(|plan| gear_solids(&of.problem, &of.set, plan, 0.0));
        assert!(!bodies.is_empty(), "{}", of.about);
        for (name, body) in bodies {
            assert_closed(&body, &of.about);
            let (_, wanted) = wanted.iter().find(|(own, _)| *own == name).unwrap();
            let off = volume(&body) / wanted - 1.0;
            assert!(off.abs() < 0.01, "{} {name}: {off}", of.about);
            held += 1;
        }
    }
    assert!(held > 60, "{held}");
}

#[test]
fn an_allowance_thins_teeth_and_widens_holes() {
    let of = Drawn::sample("shunter");
    let bodies = |allowance: f64| of.with_plan(|p| gear_solids(&of.problem, &of.set, p, allowance));
    let (full, eased) = (bodies(0.0), bodies(0.15));
    for ((name, full), (_, eased)) in full.iter().zip(&eased) {
        assert_closed(eased, name);
        let least = |solid: &Solid| {
            let radii = solid.corners_mm.iter().map(|[x, y, _]| x.hypot(*y));
            radii.fold(f64::INFINITY, f64::min)
        };
        assert!((least(eased) - least(full) - 0.15).abs() < 1e-9, "{name}");
        let most = |solid: &Solid| {
            let radii = solid.corners_mm.iter().map(|[x, y, _]| x.hypot(*y));
            radii.fold(0.0, f64::max)
        };
        // Tips stay; flanks give way.
        assert!((most(eased) - most(full)).abs() < 1e-9, "{name}");
        assert!(volume(eased) < volume(full), "{name}");
    }
}

#[test]
fn everything_stands_where_the_layout_has_it() {
    let mut held = 0;
    for of in samples() {
        of.with_plan(|plan| {
            let layout = plan.layout.as_ref().unwrap();
            let bodies = set_in_place(&of.problem, &of.set, plan).unwrap();
            for body in &bodies {
                assert_closed(body, &of.about);
                assert!(volume(body) > 0.0, "{} {}", of.about, body.name);
            }
            let gears = layout
                .parts
                .iter()
                .filter(|p| matches!(p.id, PartId::Gear(..)));
            assert!(bodies.len() > gears.clone().count(), "{}", of.about);
            for part in gears {
                let PartId::Gear(role, seat) = part.id else {
                    continue;
                };
                let all = gears_of(&of.problem, &of.set);
                let gear = all
                    .iter()
                    .find(|g| (g.role, g.seat) == (role, seat))
                    .unwrap();
                let name = gear.name(&of.problem);
                let body = bodies.iter().find(|body| body.name == name).unwrap();
                let z = body.corners_mm.iter().map(|corner| corner[2]);
                let (low, high) = (
                    z.clone().fold(f64::MAX, f64::min),
                    z.fold(f64::MIN, f64::max),
                );
                // Towards the input end is up.
                assert!(
                    (low - (layout.length_mm - part.to_mm)).abs() < 1e-9,
                    "{name}"
                );
                assert!(
                    (high - (layout.length_mm - part.from_mm)).abs() < 1e-9,
                    "{name}"
                );
                held += 1;
            }
        });
    }
    assert!(held > 30, "{held}");
}

/// The outline of a gear's body at one end: corners outside its hole.
fn slice(body: &Solid, top: bool, axis: Point, root_mm: f64) -> Vec<Point> {
    let z = body.corners_mm.iter().map(|corner| corner[2]);
    let level = if top {
        z.fold(f64::MIN, f64::max)
    } else {
        z.fold(f64::MAX, f64::min)
    };
    let at_level = body
        .corners_mm
        .iter()
        .filter(|c| (c[2] - level).abs() < 1e-9);
    let outline = at_level.map(|[x_mm, y_mm, _]| Point {
        x_mm: *x_mm,
        y_mm: *y_mm,
    });
    outline
        .filter(|p| (p.x_mm - axis.x_mm).hypot(p.y_mm - axis.y_mm) > root_mm - 0.02)
        .collect()
}

/// Teeth, helical ones too, stand between each other at both ends of every
/// mesh: so hands and phases are right. Bodies are not mirrored: the idler is
/// where it is bored.
#[test]
fn bodies_mesh_at_both_ends() {
    let mut held = 0;
    for of in samples() {
        let (problem, set) = (&of.problem, &of.set);
        let made = made_of(problem, set, &forms_of(problem, set));
        let gears = gears_of(problem, set);
        of.with_plan(|plan| {
            let bodies = set_in_place(problem, set, plan).unwrap();
            let idlers = plan.housed.idler_places();
            let below = Point {
                x_mm: 0.0,
                y_mm: -set.centre_distance.mm(),
            };
            let axis = |place: usize| match (gears[place].role, gears[place].seat) {
                (Role::Reverse, Seat::Idler) => idlers.unwrap()[plan.side as usize],
                (Role::Head, Seat::Driver) => Point {
                    x_mm: 0.0,
                    y_mm: 0.0,
                },
                (Role::Head, Seat::Driven) => below,
                (_, seat) => {
                    let offset = problem.arrangement() == layshaft::problem::Arrangement::Offset;
                    let upper = offset == (seat == Seat::Driver);
                    if upper {
                        Point {
                            x_mm: 0.0,
                            y_mm: 0.0,
                        }
                    } else {
                        below
                    }
                }
            };
            for (places, centres_mm) in meshes_of(problem, set) {
                let mesh = mesh_of(&made, places, centres_mm).unwrap();
                let binds = (-mesh.normal_backlash_mm()).max(0.0) / 2.0;
                for top in [false, true] {
                    let slices = places.map(|k| {
                        let name = gears[k].name(problem);
                        let body = bodies.iter().find(|body| body.name == name).unwrap();
                        slice(body, top, axis(k), made[k].unwrap().root_mm() / 2.0)
                    });
                    assert!(slices.iter().all(|slice| slice.len() > 50));
                    let axes = places.map(axis);
                    let deep = overlap(&slices[0], &slices[1], axes);
                    let names = places.map(|k| gears[k].name(problem));
                    assert!(deep < binds + 0.03, "{} {names:?} {top}: {deep}", of.about);
                    held += 1;
                }
            }
        });
    }
    assert!(held > 30, "{held}");
}

#[test]
fn files_of_bodies_are_the_same_bytes_each_time() {
    let of = Drawn::sample("shunter");
    let bodies = of
        .with_plan(|plan| set_in_place(&of.problem, &of.set, plan))
        .unwrap();
    let written = || {
        let (mut stl, mut threemf) = (Vec::new(), Vec::new());
        write_stl(&bodies, &mut stl).unwrap();
        write_3mf("a set", &bodies, &mut threemf).unwrap();
        (stl, threemf)
    };
    let (stl, threemf) = written();
    assert_eq!(written(), (stl.clone(), threemf.clone()));
    let triangles: usize = bodies.iter().map(|body| body.triangles.len()).sum();
    assert_eq!(stl.len(), 84 + 50 * triangles);
    assert_eq!(
        u32::from_le_bytes(*stl[80..].first_chunk().unwrap()) as usize,
        triangles
    );
    assert!(!stl.starts_with(b"solid") && threemf.starts_with(b"PK"));
}
