//! Small readers of the files: figures of SVG, entities of DXF.

use std::f64::consts::TAU;

/// An entity of a DXF file: its kind, its pairs, and its corners with bulges.
#[derive(Debug)]
pub(super) struct Entity {
    pub(super) kind: String,
    pairs: Vec<(i32, String)>,
    pub(super) corners: Vec<[f64; 3]>,
}

impl Entity {
    pub(super) fn figure(&self, code: i32) -> f64 {
        self.word(code).parse().unwrap()
    }

    pub(super) fn word(&self, code: i32) -> &str {
        let pair = self.pairs.iter().find(|(own, _)| *own == code);
        pair.map_or("", |(_, value)| value)
    }
}

/// The entities of a DXF text, corners inside their polylines.
pub(super) fn entities(text: &str) -> Vec<Entity> {
    let lines: Vec<&str> = text.lines().collect();
    let (pairs, rest) = lines.as_chunks::<2>();
    assert!(rest.is_empty(), "codes and values come in pairs");
    let mut all: Vec<Entity> = Vec::new();
    let mut inside = false;
    for [code, value] in pairs {
        let code: i32 = code.parse().unwrap();
        inside |= code == 2 && *value == "ENTITIES";
        if !inside {
            continue;
        }
        if code == 0 {
            all.push(Entity {
                kind: (*value).to_owned(),
                pairs: Vec::new(),
                corners: Vec::new(),
            });
        } else if let Some(last) = all.last_mut() {
            last.pairs.push((code, (*value).to_owned()));
        }
    }
    folded(all)
}

fn folded(all: Vec<Entity>) -> Vec<Entity> {
    let mut out: Vec<Entity> = Vec::new();
    for entity in all {
        match entity.kind.as_str() {
            "VERTEX" => {
                let bulge = entity.word(42).parse().unwrap_or(0.0);
                let corner = [entity.figure(10), entity.figure(20), bulge];
                out.last_mut().unwrap().corners.push(corner);
            }
            "SEQEND" | "ENDSEC" | "EOF" => {}
            _ => out.push(entity),
        }
    }
    out
}

/// Area of a closed row of corners; the third figure is the bulge (tangent of a
/// quarter of the angle) of the step to the next.
pub(super) fn area(corners: &[[f64; 3]]) -> f64 {
    let next = corners.iter().cycle().skip(1);
    let parts = corners.iter().zip(next).map(|([x, y, bulge], [u, v, _])| {
        let (turn, chord) = (4.0 * bulge.atan(), (u - x).hypot(v - y));
        let beyond = if turn.abs() > 0.0 {
            let radius = chord / (2.0 * (turn / 2.0).sin());
            radius * radius * (turn - turn.sin()) / 2.0
        } else {
            0.0
        };
        (x * v - u * y) / 2.0 + beyond * if turn < 0.0 { -1.0 } else { 1.0 }
    });
    parts.sum()
}

/// A step of an SVG path: its letter and its figures.
pub(super) fn steps(path: &str) -> Vec<(char, Vec<f64>)> {
    let letters = path.char_indices().filter(|(_, c)| c.is_ascii_alphabetic());
    let places: Vec<(usize, char)> = letters.collect();
    let ends = places.iter().skip(1).map(|(place, _)| *place);
    let ends = ends.chain([path.len()]);
    places
        .iter()
        .zip(ends)
        .map(|((from, letter), to)| {
            let figures = path[from + 1..to].split_whitespace();
            (*letter, figures.map(|f| f.parse().unwrap()).collect())
        })
        .collect()
}

/// Corners of a closed SVG path as those of DXF, y up.
pub(super) fn corners(path: &str) -> Vec<[f64; 3]> {
    let mut out: Vec<[f64; 3]> = Vec::new();
    for (letter, figures) in steps(path) {
        let Some([x, y]) = figures.last_chunk::<2>() else {
            assert_eq!(letter, 'Z');
            continue;
        };
        let to = [*x, -*y, 0.0];
        if letter == 'A' {
            let last = out.last_mut().unwrap();
            let chord = (to[0] - last[0]).hypot(to[1] - last[1]);
            let half = (chord / (2.0 * figures[0])).min(1.0).asin();
            let turn = if figures[3] > 0.0 {
                TAU - 2.0 * half
            } else {
                2.0 * half
            };
            // On paper, whose y goes down, 0 is counter-clockwise.
            let turn = if figures[4] > 0.0 { -turn } else { turn };
            last[2] = (turn / 4.0).tan();
        }
        out.push(to);
    }
    // The last step may lead back to the first corner.
    if let (Some(first), Some(last)) = (out.first().copied(), out.last().copied())
        && (first[0] - last[0]).hypot(first[1] - last[1]) < 1e-9
    {
        out.pop();
    }
    out
}
