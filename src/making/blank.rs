//! The blank and the gear that a form makes.

use super::Form;
use crate::base::{Module, Teeth};
use crate::involute::{Blank, GeometryFault, ShiftedGear, Toothing, blank_um as plain_blank_um};
use crate::problem::Gears;

/// Outside diameter of the blank in µm, half up: of the tip circle
/// d + 2 m (`h_aP`* + x + k). Exact for plain spur gears.
#[allow(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "tip diameters are positive and below 10^9 µm"
)]
pub fn blank_um(gears: &Gears, module: Module, teeth: Teeth, form: &Form) -> Blank {
    let beta = gears.helix_angle_deg().to_radians();
    if form.is_plain() {
        return plain_blank_um(gears.rack(), module, teeth, beta);
    }
    let height = gears.rack().addendum + form.shift + form.tip_shortening;
    let tip_mm = module.mm() * (f64::from(teeth) / beta.cos() + 2.0 * height);
    (tip_mm * 1000.0 + 0.5).floor() as u64
}

/// The gear so made, full teeth.
///
/// # Errors
/// A gear that cannot exist.
pub fn gear_of(
    gears: &Gears,
    module: Module,
    teeth: Teeth,
    form: &Form,
) -> Result<ShiftedGear, GeometryFault> {
    gear_with(toothing_of(gears, module)?, teeth, form)
}

/// Rack, module and helix angle of gears of a module.
///
/// # Errors
/// A module or a helix angle that is none.
pub fn toothing_of(gears: &Gears, module: Module) -> Result<Toothing, GeometryFault> {
    let beta = gears.helix_angle_deg().to_radians();
    Toothing::new(*gears.rack(), module.mm(), beta)
}

/// [`gear_of`] a toothing.
///
/// # Errors
/// A gear that cannot exist.
pub fn gear_with(
    toothing: Toothing,
    teeth: Teeth,
    form: &Form,
) -> Result<ShiftedGear, GeometryFault> {
    ShiftedGear::new(toothing, teeth, form.shift)?.with_tip_shortening(form.tip_shortening)
}
