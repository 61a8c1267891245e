//! Bodies as binary STL, mm: no names, no units, read by everything.

use crate::sheet::Solid;
use std::io::{self, Write};

/// What stands in front; it must not begin with `solid`, which would announce
/// text.
const HEAD: &[u8; 80] =
    b"layshaft, lengths in mm                                                         ";

/// Writes all bodies one after the other.
///
/// # Errors
/// Whatever the writer says; more triangles than the file can count.
pub fn write_stl(solids: &[Solid], to: &mut dyn Write) -> io::Result<()> {
    let triangles: usize = solids.iter().map(|solid| solid.triangles.len()).sum();
    let triangles = u32::try_from(triangles).map_err(io::Error::other)?;
    to.write_all(HEAD)?;
    to.write_all(&triangles.to_le_bytes())?;
    for solid in solids {
        for (corners, normal) in solid.facets() {
            for figure in [normal].iter().chain(&corners).flatten() {
                to.write_all(&single(*figure).to_le_bytes())?;
            }
            to.write_all(&[0, 0])?;
        }
    }
    Ok(())
}

#[allow(
    clippy::cast_possible_truncation,
    reason = "the file holds single precision: 1/100 µm in a box of 100 mm"
)]
const fn single(figure: f64) -> f32 {
    figure as f32
}
