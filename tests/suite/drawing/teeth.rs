//! Teeth as drawn: the area of the exact outline, and meshes that fit.

use super::read::{area, corners, entities};
use super::{Drawn, random_boxes, samples};
use layshaft::export::{dxf, svg};
use layshaft::involute::outline::{Outline, Tooth};
use layshaft::problem::Side;
use layshaft::sheet::{Layer, Shape, Views, cut_of, gear_drawings};
use layshaft::train::{Point, forms_of, gears_of, made_of, mesh_of, meshes_of};
use roxmltree::Document;
use std::f64::consts::{PI, TAU};

/// Area of every gear's exact outline, by name.
fn areas(of: &Drawn) -> Vec<(String, f64, f64)> {
    let (problem, set) = (&of.problem, &of.set);
    let made = made_of(problem, set, &forms_of(problem, set));
    let gears = gears_of(problem, set).into_iter().zip(made);
    gears
        .map(|(gear, made)| {
            let tooth = Tooth::new(&cut_of(&made.unwrap(), 0.0)).unwrap();
            let outline = tooth.outline(1e-5).unwrap();
            (gear.name(problem), outline.area_mm2(), perimeter(&outline))
        })
        .collect()
}

fn perimeter(outline: &Outline) -> f64 {
    let points = outline.points();
    let next = points.iter().cycle().skip(1);
    let long = |(a, b): (
        &layshaft::involute::outline::Point,
        &layshaft::involute::outline::Point,
    )| { (a.x_mm - b.x_mm).hypot(a.y_mm - b.y_mm) };
    points.iter().zip(next).map(long).sum()
}

#[test]
fn drawn_teeth_have_the_area_of_the_exact_outline() {
    let mut compared = 0;
    for of in samples()
        .iter()
        .chain(&random_boxes(0..12).collect::<Vec<_>>())
    {
        let areas = areas(of);
        let drawn = of.with_plan(|plan| gear_drawings(&of.problem, &of.set, plan));
        for (name, drawing) in drawn {
            let (_, exact, edge) = areas.iter().find(|(own, ..)| *own == name).unwrap();
            let text = svg(&drawing);
            let document = Document::parse(&text).unwrap();
            let mut paths = document.descendants().filter(|n| n.has_tag_name("path"));
            let path = paths.find(|n| n.attribute("class") == Some("outline"));
            let on_paper = area(&corners(path.unwrap().attribute("d").unwrap()));
            let entities = entities(&dxf(&drawing));
            let outline = entities.iter().find(|e| e.kind == "POLYLINE").unwrap();
            let in_cad = area(&outline.corners);
            // No chord is further than a micrometre from its curve.
            let about = format!("{} {name}: {exact} {on_paper} {in_cad}", of.about);
            assert!((on_paper - exact).abs() < 1e-3 * edge, "{about}");
            assert!((in_cad - exact).abs() < 1e-3 * edge, "{about}");
            compared += 1;
        }
    }
    assert!(compared > 60, "{compared}");
}

/// A drawn gear as a polygon: arcs by three more corners.
fn polygon(shape: &Shape) -> Vec<Point> {
    let Shape::Teeth { at, .. } = shape else {
        panic!("{shape:?}");
    };
    let corners = shape.outline().unwrap();
    let mut out = Vec::new();
    for (place, vertex) in corners.iter().enumerate() {
        let from = corners[(place + corners.len() - 1) % corners.len()].at;
        if let Some(bend) = vertex.arc {
            let begun = (from.y_mm - at.y_mm).atan2(from.x_mm - at.x_mm);
            for part in 1..4 {
                let angle = begun + bend.turn_rad * f64::from(part) / 4.0;
                out.push(Point {
                    x_mm: at.x_mm + bend.radius_mm * angle.cos(),
                    y_mm: at.y_mm + bend.radius_mm * angle.sin(),
                });
            }
        }
        out.push(vertex.at);
    }
    out
}

/// How far a point is inside a polygon, mm; 0 outside.
fn depth(point: Point, polygon: &[Point]) -> f64 {
    let next = polygon.iter().cycle().skip(1);
    let (mut inside, mut near) = (false, f64::INFINITY);
    for (a, b) in polygon.iter().zip(next) {
        if (a.y_mm > point.y_mm) != (b.y_mm > point.y_mm) {
            let along = (point.y_mm - a.y_mm) / (b.y_mm - a.y_mm);
            inside ^= point.x_mm < a.x_mm + along * (b.x_mm - a.x_mm);
        }
        let (dx, dy) = (b.x_mm - a.x_mm, b.y_mm - a.y_mm);
        let along = (point.x_mm - a.x_mm) * dx + (point.y_mm - a.y_mm) * dy;
        let t = (along / (dx * dx + dy * dy)).clamp(0.0, 1.0);
        let off = (a.x_mm + t * dx - point.x_mm).hypot(a.y_mm + t * dy - point.y_mm);
        near = near.min(off);
    }
    if inside { near } else { 0.0 }
}

/// How deep two polygons reach into each other, near the line between their
/// axes.
pub(super) fn overlap(one: &[Point], other: &[Point], axes: [Point; 2]) -> f64 {
    let deepest = |from: &[Point], to: &[Point], [own, mate]: [Point; 2]| {
        let line = (mate.y_mm - own.y_mm).atan2(mate.x_mm - own.x_mm);
        let faces = |point: &&Point| {
            let angle = (point.y_mm - own.y_mm).atan2(point.x_mm - own.x_mm);
            (angle - line + PI).rem_euclid(TAU) - PI < 0.6
                && (angle - line + PI).rem_euclid(TAU) - PI > -0.6
        };
        let depths = from.iter().filter(faces).map(|point| depth(*point, to));
        depths.fold(0.0, f64::max)
    };
    let [first, second] = axes;
    deepest(one, other, [first, second]).max(deepest(other, one, [second, first]))
}

/// The same gear half a pitch further on.
fn turned_on(shape: &Shape) -> Shape {
    let Shape::Teeth {
        tooth,
        times,
        at,
        turned_deg,
    } = shape.clone()
    else {
        panic!("{shape:?}");
    };
    Shape::Teeth {
        tooth,
        times,
        at,
        turned_deg: turned_deg + 180.0 / f64::from(times),
    }
}

/// The toothed shape of a gear in the end view, its idler on `side`.
fn shape_of(views: &Views, name: &str, side: Side) -> Shape {
    let mut gears = views
        .end
        .groups
        .iter()
        .filter(|group| group.of == name && group.side.is_none_or(|own| own == side));
    let shape = gears.find_map(|group| {
        let outline = group
            .items
            .iter()
            .find(|item| item.layer == Layer::Outline)?;
        matches!(outline.shape, Shape::Teeth { .. }).then(|| outline.shape.clone())
    });
    shape.unwrap_or_else(|| panic!("{name} has no teeth"))
}

fn axis_of(shape: &Shape) -> Point {
    match shape {
        Shape::Teeth { at, .. } => *at,
        other => panic!("{other:?}"),
    }
}

/// Holds every mesh of a box against its drawing; how many there are.
fn fits(of: &Drawn) -> usize {
    let (problem, set) = (&of.problem, &of.set);
    let gears = gears_of(problem, set);
    let made = made_of(problem, set, &forms_of(problem, set));
    let views = of.with_plan(|plan| Views::new(problem, set, plan));
    let mut held = 0;
    for (places, centres_mm) in meshes_of(problem, set) {
        let mesh = mesh_of(&made, places, centres_mm).unwrap();
        let module = gears[places[0]].module.of(problem).mm();
        // Teeth that bind reach into each other by half of what they bind.
        let binds = (-mesh.normal_backlash_mm()).max(0.0) / 2.0;
        for side in Side::BOTH {
            let shapes = places.map(|k| shape_of(&views, &gears[k].name(problem), side));
            let axes = [axis_of(&shapes[0]), axis_of(&shapes[1])];
            let [one, other] = [polygon(&shapes[0]), polygon(&shapes[1])];
            let deep = overlap(&one, &other, axes);
            let names = places.map(|k| gears[k].name(problem));
            let about = format!("{} {names:?} {side:?}: {deep} {binds}", of.about);
            // Chords are 0.01 mm from their curves on either gear.
            assert!(deep < binds + 0.025, "{about}");
            let wrong = overlap(&one, &polygon(&turned_on(&shapes[1])), axes);
            assert!(wrong > 0.2 * module, "{about} {wrong}");
            held += 1;
        }
    }
    held
}

#[test]
fn meshing_teeth_stand_between_each_other_on_either_side() {
    let all: usize = samples().iter().map(fits).sum();
    let random: usize = random_boxes(0..10).map(|of| fits(&of)).sum();
    assert!(all > 30 && random > 15, "{all} {random}");
}
