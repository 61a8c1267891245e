//! SVG on its paper, DXF beside the JSON of the same drawing.

use super::read::{entities, steps};
use super::{Drawn, random_boxes, samples};
use layshaft::export::{DrawingRecord, dxf, svg};
use layshaft::problem::DividingHead;
use layshaft::sheet::{BEFORE_DRILLING, Drawing, plate};
use layshaft::shop::dividing::printed;
use roxmltree::{Document, Node};
use serde_json::{Value, json};

/// Figures of the same place in two files, mm.
const NEAR_MM: f64 = 6e-4;

/// The corners of the paper that an element covers.
fn reach(node: Node<'_, '_>) -> Vec<(f64, f64)> {
    let figure = |name: &str| node.attribute(name).unwrap().parse::<f64>().unwrap();
    match node.tag_name().name() {
        "line" => vec![(figure("x1"), figure("y1")), (figure("x2"), figure("y2"))],
        "circle" => {
            let (x, y, r) = (figure("cx"), figure("cy"), figure("r"));
            vec![(x - r, y - r), (x + r, y + r)]
        }
        "text" => {
            let letters = f64::from(u32::try_from(node.text().unwrap().chars().count()).unwrap());
            // Letters of a plain face are about half as wide as high.
            let wide = 0.5 * letters * figure("font-size");
            let from = match node.attribute("text-anchor").unwrap() {
                "start" => 0.0,
                "middle" => wide / 2.0,
                _ => wide,
            };
            let x = figure("x") - from;
            vec![
                (x, figure("y") - figure("font-size")),
                (x + wide, figure("y")),
            ]
        }
        "path" => {
            let ends = steps(node.attribute("d").unwrap()).into_iter();
            let ends = ends.filter_map(|(_, f)| f.last_chunk::<2>().copied());
            ends.map(|[x, y]| (x, y)).collect()
        }
        other => panic!("{other}"),
    }
}

/// Everything inside its paper; how many shapes there are.
fn on_paper(drawing: &Drawing, about: &str) -> usize {
    let text = svg(&drawing.clone().on_paper("before anything"));
    let document = Document::parse(&text).unwrap_or_else(|fault| panic!("{about}: {fault}"));
    let root = document.root_element();
    let view: Vec<f64> = root
        .attribute("viewBox")
        .unwrap()
        .split(' ')
        .map(|side| side.parse().unwrap())
        .collect();
    let width = format!("{}mm", view[2]);
    assert_eq!(root.attribute("width"), Some(width.as_str()), "{about}");
    let shapes = document
        .descendants()
        .filter(Node::is_element)
        .filter(|node| node.parent().is_some_and(|parent| parent.has_tag_name("g")));
    let mut count = 0;
    for node in shapes {
        for (x, y) in reach(node) {
            let inside = (view[0]..=view[0] + view[2]).contains(&x)
                && (view[1]..=view[1] + view[3]).contains(&y);
            assert!(inside, "{about}, {}: {node:?} {x} {y}", drawing.title);
        }
        count += 1;
    }
    let items: usize = drawing.groups.iter().map(|group| group.items.len()).sum();
    // The title, the bar's three lines and its words come with the paper.
    assert_eq!(count, items + 5, "{about}");
    count
}

#[test]
fn svg_is_well_formed_and_stays_on_its_paper() {
    let mut count = 0;
    for of in samples().into_iter().chain(random_boxes(0..25)) {
        for drawing in of.drawings() {
            count += on_paper(&drawing, &of.about);
        }
    }
    assert!(count > 10_000, "{count}");
}

#[test]
fn names_may_hold_what_marks_up_text() {
    let mut drawing = Drawn::sample("shunter").drawings().remove(0);
    drawing.title = "<1> & \"2\"".to_owned();
    drawing.groups[0].of = drawing.title.clone();
    let text = svg(&drawing);
    let document = Document::parse(&text).unwrap();
    let title = document.descendants().find(|n| n.has_tag_name("title"));
    assert_eq!(title.unwrap().text(), Some("<1> & \"2\""));
}

/// Figures of an item of the JSON, and of an entity, in one order.
fn beside(item: &Value, entity: &super::read::Entity) -> Vec<(f64, f64)> {
    let pairs = |name: &str, codes: &[i32]| -> Vec<(f64, f64)> {
        let figures = item[name].as_array().unwrap().iter();
        let theirs = codes.iter().map(|code| entity.figure(*code));
        figures.map(|f| f.as_f64().unwrap()).zip(theirs).collect()
    };
    match entity.kind.as_str() {
        "LINE" => pairs("line", &[10, 20, 11, 21]),
        "CIRCLE" => pairs("circle", &[10, 20, 40]),
        "ARC" => pairs("arc", &[10, 20, 40, 50, 51]),
        "TEXT" => pairs("at", &[10, 20]),
        "POLYLINE" if item["path"].is_array() => {
            let corners = item["path"].as_array().unwrap();
            assert_eq!(corners.len(), entity.corners.len());
            let both = corners.iter().zip(&entity.corners);
            both.flat_map(|(own, [x, y, _])| {
                [
                    (own[0].as_f64().unwrap(), *x),
                    (own[1].as_f64().unwrap(), *y),
                ]
            })
            .collect()
        }
        "POLYLINE" if item["rect"].is_array() => {
            let side = |k: usize| item["rect"][k].as_f64().unwrap();
            let [low, _, high, _] = entity.corners.as_slice() else {
                panic!("{entity:?}");
            };
            vec![
                (side(0), low[0]),
                (side(1), low[1]),
                (side(2), high[0]),
                (side(3), high[1]),
            ]
        }
        "POLYLINE" => {
            let tooth = item["tooth"].as_array().unwrap();
            let times = usize::try_from(item["times"].as_u64().unwrap()).unwrap();
            assert_eq!(entity.corners.len(), tooth.len() * times);
            let (sin, cos) = item["turned_deg"].as_f64().unwrap().to_radians().sin_cos();
            let axis = [0, 1].map(|k| item["at"][k].as_f64().unwrap());
            let both = tooth.iter().zip(&entity.corners);
            both.flat_map(|(own, [x, y, _])| {
                let [u, v] = [0, 1].map(|k| own[k].as_f64().unwrap());
                [
                    (axis[0] + cos * u - sin * v, *x),
                    (axis[1] + sin * u + cos * v, *y),
                ]
            })
            .collect()
        }
        other => panic!("{other}"),
    }
}

#[test]
fn dxf_has_the_coordinates_of_the_json() {
    let mut compared = 0;
    for of in samples() {
        for drawing in of.drawings() {
            let json = json!(DrawingRecord(&drawing));
            let groups = json["groups"].as_array().unwrap().iter();
            let items = groups.flat_map(|group| group["items"].as_array().unwrap());
            let text = dxf(&drawing);
            assert_eq!(text, dxf(&drawing));
            let entities = entities(&text);
            assert_eq!(entities.len(), items.clone().count(), "{}", of.about);
            for (item, entity) in items.zip(&entities) {
                let layer = item["layer"].as_str().unwrap().to_uppercase();
                assert_eq!(layer, entity.word(8));
                for (own, theirs) in beside(item, entity) {
                    // A turn to a thousandth of a degree moves a tip of 100 mm
                    // by a micrometre.
                    assert!((own - theirs).abs() < 2.0 * NEAR_MM, "{item} {entity:?}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 20_000, "{compared}");
}

#[test]
fn hatching_is_lines_in_dxf() {
    let of = Drawn::sample("shunter");
    let sections = of.drawings().into_iter();
    let section = sections
        .rev()
        .find(|d| d.title.starts_with("Section"))
        .unwrap();
    let lined = entities(&dxf(&section.with_hatch_lines()));
    let hatch: Vec<_> = lined.iter().filter(|e| e.word(8) == "HATCH").collect();
    assert!(hatch.len() > 100, "{}", hatch.len());
    for line in hatch {
        assert_eq!(line.kind, "LINE");
        let (dx, dy) = (
            line.figure(11) - line.figure(10),
            line.figure(21) - line.figure(20),
        );
        assert!(dx > 0.0 && (dx - dy).abs() < 3e-6, "{line:?}");
    }
}

#[test]
fn a_plate_is_drawn_at_full_size() {
    let head = DividingHead::new(40, Vec::new(), Vec::new(), Vec::new());
    let drawing = plate(&printed(&head, 127).unwrap().drawing(&head, 127));
    assert!(on_paper(&drawing, "plate") > 127);
    let text = svg(&drawing.on_paper(BEFORE_DRILLING));
    // 127 holes of 4.5 mm: 91 mm of radius, 97 to the rim, 5 around.
    assert!(text.contains("width=\"204mm\""), "{text:.200}");
    assert!(text.contains("r=\"97\""));
    assert_eq!(text.matches("r=\"1.5\"").count(), 127);
    assert!(text.contains("cx=\"91\" cy=\"0\""));
    assert!(text.contains("move 40 of 127 holes"));
}
