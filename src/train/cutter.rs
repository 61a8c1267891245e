//! stub
use super::ModuleId;
use crate::base::Teeth;
use crate::problem::{Cutting, Gears};

/// One cutter or tool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Cutter {
    /// Number `1` to `8` of the eight form cutters of a module.
    Form(ModuleId, u8),
    /// A form cutter of its own for this tooth count.
    Own(ModuleId, Teeth),
    /// The hob or rack tool of a module.
    Tool(ModuleId),
}

/// The cutter that a gear needs.
pub fn cutter_of(gears: &Gears, module: ModuleId, teeth: Teeth) -> Cutter {
    let beta = gears.helix_angle_deg().to_radians();
    match gears.cutting() {
        Cutting::Generated => Cutter::Tool(module),
        Cutting::OwnForm => Cutter::Own(module, teeth),
        Cutting::Form => {
            let v = (f64::from(teeth) / beta.cos().powi(3) + 0.5).floor() as u32;
            let n = match v {
                0..12 => return Cutter::Own(module, teeth),
                12..=13 => 8,
                14..=16 => 7,
                17..=20 => 6,
                21..=25 => 5,
                26..=34 => 4,
                35..=54 => 3,
                55..=134 => 2,
                _ => 1,
            };
            Cutter::Form(module, n)
        }
    }
}
