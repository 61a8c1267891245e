//! What a problem asks of teeth, ready to be held against gears.

use super::{Form, Refusal, virtual_teeth};
use crate::base::{Decimal, LENGTH_SLACK_MM, Module, Teeth};
use crate::involute::{Member, Meshing, Rack, ShiftedGear, Toothing};
use crate::problem::{Bore, Closing, Cutting, Limits, Problem};

/// Fewest virtual teeth that the set of form cutters has a cutter for.
const FEWEST_FORM_TEETH: u32 = 12;

/// Shifts that gears which are there may have: as far as a file may ask.
const ANY_SHIFT: (f64, f64) = (-2.0, 3.0);

/// A limit that is met exactly on paper is met.
pub(super) const LAST_BITS: f64 = 1e-12;

/// The limits of one problem as numbers.
#[derive(Clone, Copy, Debug)]
pub struct Rules {
    rack: Rack,
    helix_rad: f64,
    /// Least and greatest shift, where the file gives shift.
    pub(super) shift: Option<(f64, f64)>,
    pub(super) cutting: Cutting,
    pub(super) thinning_mm: f64,
    pub(super) limits: Limits,
    pub(super) tip_thickness: f64,
    pub(super) contact_ratio: f64,
    tip_clearance: f64,
    pub(super) wall_mm: f64,
}

impl Rules {
    /// The rules of `problem`; none where it judges nothing, and every gear is
    /// plain.
    pub fn of(problem: &Problem) -> Option<Self> {
        problem.judges().then(|| Self::new(problem))
    }

    fn new(problem: &Problem) -> Self {
        let (gears, limits) = (problem.gears(), problem.refusing());
        let found = problem.is_found();
        let shift = match gears.closing() {
            Closing::Shift { .. } if found => Some(ANY_SHIFT),
            Closing::Shift { min, max } => Some((min.to_f64(), max.to_f64())),
            Closing::Tolerance(_) | Closing::Backlash { .. } => None,
        };
        let clearance = limits.min_tip_clearance().map(Decimal::to_f64);
        Self {
            rack: *gears.rack(),
            helix_rad: gears.helix_angle_deg().to_radians(),
            shift,
            // Whatever cut them did give them their shift.
            cutting: if found {
                Cutting::Generated
            } else {
                gears.cutting()
            },
            thinning_mm: gears.max_thinning().mm(),
            limits,
            tip_thickness: limits.min_tip_thickness().to_f64(),
            contact_ratio: limits.min_contact_ratio().to_f64(),
            tip_clearance: clearance.unwrap_or_else(|| gears.rack().least_tip_clearance()),
            wall_mm: limits.min_wall().mm(),
        }
    }

    pub(super) fn toothing(&self, module: Module) -> Result<Toothing, Refusal> {
        // The reader's limits lie inside those of the geometry.
        Toothing::new(self.rack, module.mm(), self.helix_rad).map_err(|_| Refusal::Shift)
    }

    /// Shifts that a gear may have: what the file allows, and of bought form
    /// cutters no more than a deeper cut gives.
    pub(super) fn shifts(&self, toothing: &Toothing) -> (f64, f64) {
        let (least, most) = self.shift.unwrap_or((0.0, 0.0));
        match self.cutting {
            Cutting::Form => {
                let tan = self.rack.pressure_angle_rad.tan();
                let deepest = self.thinning_mm / (2.0 * toothing.module_mm() * tan);
                (least.max(-deepest), most.min(0.0))
            }
            Cutting::Generated | Cutting::OwnForm => (least, most),
        }
    }

    /// Whether there is a tool for gears of so many teeth.
    pub(super) fn has_tool(&self, teeth: &[Teeth]) -> Result<(), Refusal> {
        let cut = |z: &Teeth| virtual_teeth(*z, self.helix_rad) >= FEWEST_FORM_TEETH;
        match self.cutting {
            Cutting::Form if !teeth.iter().all(cut) => Err(Refusal::Cutter),
            _ => Ok(()),
        }
    }

    /// Least shift with which a gear keeps its wall above `hole`.
    pub(super) fn least_for_wall(
        &self,
        toothing: &Toothing,
        teeth: Teeth,
        hole: Option<Bore>,
    ) -> f64 {
        hole.map_or(f64::NEG_INFINITY, |hole| {
            let root_mm = hole.reach_mm() + self.wall_mm - LENGTH_SLACK_MM;
            let m = toothing.module_mm();
            let reference_mm = toothing.transverse_module_mm() * f64::from(teeth) / 2.0;
            (root_mm - reference_mm) / m + self.rack.dedendum
        })
    }

    pub(super) fn wall(&self, gear: &ShiftedGear, hole: Option<Bore>) -> Result<(), Refusal> {
        let least = self.least_for_wall(gear.toothing(), gear.teeth(), hole);
        if gear.shift() >= least - LAST_BITS {
            Ok(())
        } else {
            Err(Refusal::Wall)
        }
    }

    pub(super) fn uncut(&self, gear: &ShiftedGear) -> Result<(), Refusal> {
        if self.limits.allow_undercut() || gear.shift() >= gear.least_shift() - LAST_BITS {
            Ok(())
        } else {
            Err(Refusal::Undercut)
        }
    }

    /// The mesh with its tips turned down where that is wanted, if its teeth
    /// then hold all that is asked of a mesh.
    pub(super) fn sound(&self, mesh: &Meshing) -> Result<Meshing, Refusal> {
        self.thick(mesh)?;
        let mesh = self.clear(mesh)?;
        self.holds(&mesh)?;
        Ok(mesh)
    }

    pub(super) fn thick(&self, mesh: &Meshing) -> Result<(), Refusal> {
        let least = (self.tip_thickness - LAST_BITS) * mesh.toothing().module_mm();
        let thick = |gear: &ShiftedGear| gear.tip_thickness_mm() >= least;
        if mesh.gears().iter().all(thick) {
            Ok(())
        } else {
            Err(Refusal::TipThickness)
        }
    }

    /// No tip below the mate's working flank; tips turned down for it where
    /// the file says so.
    pub(super) fn clear(&self, mesh: &Meshing) -> Result<Meshing, Refusal> {
        let fouls = |member| mesh.root_margin_mm(member) < -LENGTH_SLACK_MM;
        if self.limits.allow_interference() || !Member::BOTH.into_iter().any(fouls) {
            return Ok(*mesh);
        }
        if !self.limits.extra_tip_shortening() {
            return Err(Refusal::Interference);
        }
        mesh.with_clear_tips().map_err(|_| Refusal::Interference)
    }

    /// Contact ratio and tip clearance.
    pub(super) fn holds(&self, mesh: &Meshing) -> Result<(), Refusal> {
        if mesh.contact_ratio() < self.contact_ratio - LAST_BITS {
            return Err(Refusal::ContactRatio);
        }
        let least = self.tip_clearance * mesh.toothing().module_mm() - LENGTH_SLACK_MM;
        let close = |member| mesh.tip_clearance_mm(member) < least;
        if Member::BOTH.into_iter().any(close) {
            return Err(Refusal::TipClearance);
        }
        Ok(())
    }
}

/// What the gear was cut as.
pub(super) fn form_of(gear: &ShiftedGear) -> Form {
    Form {
        shift: gear.shift(),
        tip_shortening: gear.tip_shortening(),
    }
}
