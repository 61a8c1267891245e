//! A mesh as strong as it is, whatever it carries.

use super::curve::Curve;
use super::loads::MeshLoad;
use super::service::Service;
use super::{agma, flank, root};
use crate::involute::{Meshing, ShiftedGear};
use crate::problem::Material;

/// What the strength of a gear needs of its material and seat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Metal {
    pub(super) bending_mpa: f64,
    pub(super) contact_mpa: f64,
    pub(super) yield_mpa: Option<f64>,
    elasticity: (f64, f64),
    pub(super) life: crate::problem::Life,
    pub(super) hole_mm: Option<f64>,
}

impl Metal {
    pub(super) fn of(material: &Material, hole_mm: Option<f64>) -> Self {
        Self {
            bending_mpa: material.bending_mpa(),
            contact_mpa: material.contact_mpa(),
            yield_mpa: material.yield_mpa(),
            elasticity: (material.youngs_gpa(), material.poisson()),
            life: material.life(),
            hole_mm,
        }
    }
}

/// What one gear of a mesh bears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct GearStrength {
    pub(super) reference_mm: f64,
    pub(super) form: f64,
    pub(super) notch: f64,
    pub(super) rim: f64,
    /// `Z_B` or `Z_D` without overlap.
    pub(super) single: f64,
    pub(super) size: f64,
    pub(super) metal: Metal,
    pub(super) root_curve: Curve,
    pub(super) flank_curve: Curve,
    /// σ_Flim `Y_ST` `Y_X`.
    root_mpa: f64,
    /// The load at which the section yields, as a stress with `Y_S`.
    pub(super) yield_mpa: f64,
    /// σ_Hlim and all that changes it but the life.
    flank_mpa: f64,
}

/// What one gear of a mesh bears by its shape alone.
#[derive(Clone, Copy, Debug, PartialEq)]
struct GearShape {
    reference_mm: f64,
    /// Diameters of tips and roots, mm.
    ends_mm: (f64, f64),
    form: f64,
    notch: f64,
    single: f64,
}

impl GearShape {
    fn of(gear: &ShiftedGear, below_tip: f64, single: f64) -> Self {
        let [form, notch] = root::form_and_notch(gear, below_tip);
        Self {
            reference_mm: gear.reference_mm(),
            ends_mm: (gear.tip_mm(), gear.root_mm()),
            form,
            notch,
            single,
        }
    }
}

/// All of a mesh that its shape alone gives: neither materials nor holes, load
/// nor width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshShape {
    module_mm: f64,
    contact_ratio: f64,
    helix_deg: f64,
    overlap_per_mm: f64,
    zone: f64,
    helix_on_flanks: f64,
    pinion_mm: f64,
    curvature: f64,
    gears: [GearShape; 2],
}

impl MeshShape {
    pub(super) fn of(mesh: &Meshing) -> Self {
        let [first, second] = mesh.gears();
        // Dear: the feet of undercut flanks are looked for.
        let path = mesh.path();
        let below = root::below_tips(mesh, path);
        let single = flank::single_contact(mesh, path);
        let toothing = mesh.toothing();
        let diameters = [first.reference_mm(), second.reference_mm()];
        let pinion_mm = diameters[0].min(diameters[1]);
        let u = diameters[0].max(diameters[1]) / pinion_mm;
        Self {
            module_mm: toothing.module_mm(),
            contact_ratio: (path.length_mm() / toothing.base_pitch_mm()).max(1.0),
            helix_deg: toothing.helix_rad().to_degrees(),
            overlap_per_mm: toothing.overlap_ratio(1.0),
            zone: flank::zone(mesh),
            helix_on_flanks: toothing.helix_rad().cos().sqrt().recip(),
            pinion_mm,
            curvature: ((u + 1.0) / (u * pinion_mm)).sqrt(),
            gears: [
                GearShape::of(first, below[0], single[0]),
                GearShape::of(second, below[1], single[1]),
            ],
        }
    }

    /// The same mesh driven from its other gear.
    #[must_use]
    pub fn turned(mut self) -> Self {
        self.gears.swap(0, 1);
        self
    }
}

impl GearStrength {
    fn of(shape: &GearShape, module_mm: f64, metal: Metal, film: f64) -> Self {
        let size = root::size(metal.life, module_mm);
        let notch = shape.notch;
        Self {
            reference_mm: shape.reference_mm,
            form: shape.form,
            notch,
            rim: root::thin_rim(shape.ends_mm, metal.hole_mm),
            single: shape.single,
            size,
            metal,
            root_curve: Curve::root(metal.life),
            flank_curve: Curve::flank(metal.life),
            root_mpa: metal.bending_mpa * root::Y_ST * size,
            yield_mpa: metal
                .yield_mpa
                .map_or(f64::INFINITY, |yields| yields * notch),
            flank_mpa: metal.contact_mpa * film,
        }
    }

    /// What the root may have after so many loads, MPa.
    fn root_limit_mpa(&self, cycles: f64, both_ways: bool) -> f64 {
        let ways = if both_ways { root::BOTH_WAYS } else { 1.0 };
        (self.root_mpa * self.root_curve.at(cycles) * ways).min(self.yield_mpa)
    }

    fn flank_limit_mpa(&self, cycles: f64) -> f64 {
        self.flank_mpa * self.flank_curve.at(cycles)
    }
}

/// All of a mesh that depends neither on what it carries nor on how wide it is.
/// Of each pair of figures the first is the driving gear's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshStrength {
    pub(super) module_mm: f64,
    pub(super) contact_ratio: f64,
    pub(super) helix_deg: f64,
    /// Overlap ratio of a millimetre of width.
    overlap_per_mm: f64,
    pub(super) zone: f64,
    pub(super) elasticity: f64,
    pub(super) helix_on_flanks: f64,
    /// Reference diameter of the smaller gear, mm, and √((u + 1)/(u d₁)).
    pinion_mm: f64,
    curvature: f64,
    pub(super) service: Service,
    pub(super) gears: [GearStrength; 2],
}

/// Safeties of a mesh: driving gear, driven gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshSafety {
    /// Of the roots.
    pub root: [f64; 2],
    /// Of the flanks.
    pub flank: [f64; 2],
}

impl MeshSafety {
    /// The least of the four.
    pub fn least(&self) -> f64 {
        self.least_root().min(self.least_flank())
    }
    /// The lesser of the roots'.
    pub fn least_root(&self) -> f64 {
        self.root[0].min(self.root[1])
    }
    /// The lesser of the flanks'.
    pub fn least_flank(&self) -> f64 {
        self.flank[0].min(self.flank[1])
    }
}

/// Stresses of a mesh and what they may be, MPa: driving gear, driven gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshStress {
    /// σ_F at the roots.
    pub root_mpa: [f64; 2],
    /// What the roots may have after their loads.
    pub root_limit_mpa: [f64; 2],
    /// σ_H at the flanks.
    pub flank_mpa: [f64; 2],
    /// What the flanks may have after their loads.
    pub flank_limit_mpa: [f64; 2],
}

/// How a load acts on a mesh of some width.
#[derive(Clone, Copy, Debug)]
pub(super) struct Action {
    pub(super) tangential_n: f64,
    pub(super) speed_m_s: f64,
    pub(super) dynamic: f64,
    pub(super) face: f64,
    pub(super) overlap: f64,
    pub(super) helix_at_root: f64,
    pub(super) sharing: f64,
}

impl MeshStrength {
    pub(super) fn of(shape: &MeshShape, metals: [Metal; 2], service: Service) -> Self {
        let film = service.finish.0 * service.lubricant.0;
        let gear = |i: usize| GearStrength::of(&shape.gears[i], shape.module_mm, metals[i], film);
        Self {
            module_mm: shape.module_mm,
            contact_ratio: shape.contact_ratio,
            helix_deg: shape.helix_deg,
            overlap_per_mm: shape.overlap_per_mm,
            zone: shape.zone,
            elasticity: flank::elasticity_factor(metals.map(|metal| metal.elasticity)),
            helix_on_flanks: shape.helix_on_flanks,
            pinion_mm: shape.pinion_mm,
            curvature: shape.curvature,
            service,
            gears: [gear(0), gear(1)],
        }
    }

    /// The safeties under a load, at a face width (mm, above 0).
    pub fn under(&self, load: &MeshLoad, width_mm: f64) -> MeshSafety {
        self.loaded(load).safety(width_mm)
    }

    /// The stresses under a load, at a face width (mm, above 0), and what they
    /// may be.
    pub fn stress(&self, load: &MeshLoad, width_mm: f64) -> MeshStress {
        self.loaded(load).stress(width_mm)
    }

    /// The mesh under a load, whatever its width.
    pub fn loaded(&self, load: &MeshLoad) -> LoadedMesh<'_> {
        let driver_mm = self.gears[0].reference_mm;
        let speed_m_s = agma::pitch_line_m_s(driver_mm, load.driver_rpm);
        let [first, second] = &self.gears;
        LoadedMesh {
            of: self,
            tangential_n: 2000.0 * load.driver_torque_n_m / driver_mm,
            speed_m_s,
            dynamic: self.service.dynamic(speed_m_s),
            root_limit_mpa: [
                first.root_limit_mpa(load.cycles[0], load.both_ways[0]),
                second.root_limit_mpa(load.cycles[1], load.both_ways[1]),
            ],
            flank_limit_mpa: [
                first.flank_limit_mpa(load.cycles[0]),
                second.flank_limit_mpa(load.cycles[1]),
            ],
        }
    }

    pub(super) fn action(&self, load: &MeshLoad, width_mm: f64) -> Action {
        self.loaded(load).action(width_mm)
    }
}

/// A mesh under a load: what does not depend on its width, worked out once.
#[derive(Clone, Copy, Debug)]
pub struct LoadedMesh<'a> {
    of: &'a MeshStrength,
    tangential_n: f64,
    speed_m_s: f64,
    dynamic: f64,
    root_limit_mpa: [f64; 2],
    flank_limit_mpa: [f64; 2],
}

impl LoadedMesh<'_> {
    /// The safeties at a face width (mm, above 0).
    pub fn safety(&self, width_mm: f64) -> MeshSafety {
        let stress = self.stress(width_mm);
        let safety = |limit: [f64; 2], of: [f64; 2]| [limit[0] / of[0], limit[1] / of[1]];
        MeshSafety {
            root: safety(stress.root_limit_mpa, stress.root_mpa),
            flank: safety(stress.flank_limit_mpa, stress.flank_mpa),
        }
    }

    /// The stresses at a face width (mm, above 0), and what they may be.
    pub fn stress(&self, width_mm: f64) -> MeshStress {
        let (of, action) = (self.of, self.action(width_mm));
        let raised = of.service.shock.0 * action.dynamic * action.face;
        let line_n_mm = action.tangential_n / width_mm * raised * of.service.transverse.0;
        let bend = line_n_mm / of.module_mm * action.helix_at_root;
        let press = of.zone
            * of.elasticity
            * action.sharing
            * of.helix_on_flanks
            * of.curvature
            * line_n_mm.sqrt();
        let [first, second] = &of.gears;
        let root = |gear: &GearStrength| bend * gear.form * gear.notch * gear.rim;
        let flank = |gear: &GearStrength| press * overlapped(gear.single, action.overlap);
        MeshStress {
            root_mpa: [root(first), root(second)],
            root_limit_mpa: self.root_limit_mpa,
            flank_mpa: [flank(first), flank(second)],
            flank_limit_mpa: self.flank_limit_mpa,
        }
    }

    fn action(&self, width_mm: f64) -> Action {
        let of = self.of;
        let overlap = of.overlap_per_mm * width_mm;
        Action {
            tangential_n: self.tangential_n,
            speed_m_s: self.speed_m_s,
            dynamic: self.dynamic,
            face: of.service.face(width_mm, of.pinion_mm),
            overlap,
            helix_at_root: root::helix(overlap, of.helix_deg),
            sharing: flank::contact_ratio(of.contact_ratio, overlap),
        }
    }
}

/// `Z_B` or `Z_D` with overlap: with one or more no place carries alone.
pub(super) fn overlapped(single: f64, overlap: f64) -> f64 {
    single - overlap.min(1.0) * (single - 1.0)
}
