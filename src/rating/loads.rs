//! What each mesh of a box carries, and how often.
//!
//! In-line, the head pair carries the input torque in every indirect speed and
//! in reverse, and every other driver the input torque times the head ratio in
//! its own. Offset, each driver sits on the input shaft. Friction is left out.

use super::factor::Origin;
use crate::base::Teeth;
use crate::problem::{Arrangement, Duty, Problem, Role, Taken};

/// No gear is loaded less often: nothing is known of the strength at a single
/// load.
const FEWEST_CYCLES: f64 = 1.0;

/// The load of one mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshLoad {
    /// Torque on the driving gear, N m; shock is not part of it.
    pub driver_torque_n_m: f64,
    /// Speed of the driving gear, rpm.
    pub driver_rpm: f64,
    /// How often a tooth of the driving and of the driven gear is loaded.
    pub cycles: [f64; 2],
    /// Whether the teeth of each bend both ways.
    pub both_ways: [bool; 2],
}

/// Torque, speed and running time of a problem.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Loads {
    torque_n_m: f64,
    pub(super) rpm: (f64, Origin),
    pub(super) hours: Taken,
    reversing: bool,
    in_line: bool,
    /// Percent, by the place among all speeds; the direct one has none.
    speeds: Vec<f64>,
    reverse: f64,
    /// The speed whose driver turns in reverse too.
    shared: Option<usize>,
}

impl Loads {
    pub(super) fn of(problem: &Problem, duty: &Duty) -> Self {
        let shares = problem.shares();
        let geared = problem
            .speeds()
            .iter()
            .map(|speed| speed.geared().is_some());
        let speeds = shares.speeds().iter().zip(geared);
        let speeds = speeds.map(|(share, geared)| if geared { share.value() } else { 0.0 });
        let given = problem.input_rpm();
        Self {
            torque_n_m: duty.input_torque_n_m(),
            rpm: (
                given.unwrap_or(Duty::USUAL_INPUT_RPM),
                Origin::given_if(given.is_some()),
            ),
            hours: duty.hours(),
            reversing: duty.reversing(),
            in_line: problem.arrangement() == Arrangement::InLine,
            speeds: speeds.collect(),
            reverse: shares.reverse().map_or(0.0, |share| share.value()),
            shared: problem.shared_speed_among_all(),
        }
    }

    /// Share of the running time in which a role is loaded, percent.
    pub(super) fn share_percent(&self, role: Role) -> f64 {
        match role {
            Role::Head => self.speeds.iter().sum::<f64>() + self.reverse,
            Role::Speed(place) => self.speeds.get(place).copied().unwrap_or_default(),
            Role::Reverse => self.reverse,
        }
    }

    /// Share in which the driver of a role is loaded: a shared one works in two.
    fn driver_percent(&self, role: Role) -> f64 {
        let own = self.share_percent(role);
        match (role, self.shared) {
            (Role::Speed(place), Some(shared)) if place == shared => own + self.reverse,
            (Role::Reverse, Some(shared)) => own + self.share_percent(Role::Speed(shared)),
            _ => own,
        }
    }

    /// Torque and speed of the driver of a role.
    fn at_driver(&self, role: Role, head_ratio: f64) -> (f64, f64) {
        let step = match role {
            Role::Speed(_) | Role::Reverse if self.in_line => head_ratio,
            _ => 1.0,
        };
        (self.torque_n_m * step, self.rpm.0 / step)
    }

    fn cycles(&self, rpm: f64, percent: f64) -> f64 {
        let turns = rpm * 60.0 * self.hours.value() * percent / 100.0;
        turns.max(FEWEST_CYCLES)
    }

    pub(super) fn pair(&self, role: Role, head_ratio: f64, teeth: [Teeth; 2]) -> MeshLoad {
        let (torque, rpm) = self.at_driver(role, head_ratio);
        let driven_rpm = rpm * step(teeth[0], teeth[1]);
        MeshLoad {
            driver_torque_n_m: torque,
            driver_rpm: rpm,
            cycles: [
                self.cycles(rpm, self.driver_percent(role)),
                self.cycles(driven_rpm, self.share_percent(role)),
            ],
            both_ways: [self.reversing; 2],
        }
    }

    /// Driver on idler, then idler on driven: each tooth of the idler is bent
    /// one way by the driver and the other by the driven gear.
    pub(super) fn reverse(&self, head_ratio: f64, teeth: [Teeth; 3]) -> [MeshLoad; 2] {
        let [driver, idler, driven] = teeth;
        let first = self.pair(Role::Reverse, head_ratio, [driver, idler]);
        let down = step(driver, idler);
        let idler_rpm = first.driver_rpm * down;
        let driven_rpm = idler_rpm * step(idler, driven);
        let second = MeshLoad {
            driver_torque_n_m: first.driver_torque_n_m / down,
            driver_rpm: idler_rpm,
            cycles: [first.cycles[1], self.cycles(driven_rpm, self.reverse)],
            both_ways: [true, self.reversing],
        };
        let both_ways = [self.reversing, true];
        [MeshLoad { both_ways, ..first }, second]
    }
}

/// Speed of `to` for one turn of `from`.
fn step(from: Teeth, to: Teeth) -> f64 {
    f64::from(from) / f64::from(to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::parse;

    fn loads(more: &str, form: &str) -> Loads {
        let text = format!(
            r#"{{ "centre_distance_mm": 40, {more}
            "gears": {{ "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 }},
            "speeds": [{{ "ratio": 3, "share_percent": 20 }}, {{ "ratio": 1, "direct": true,
            "share_percent": 50 }}, {{ "ratio": 2, "share_percent": 20 }}],
            "reverse": {{ "ratio": 3, "form": "{form}", "share_percent": 10 }} }}"#
        );
        let problem = parse("box", &text).expect("a problem");
        Loads::of(&problem, problem.duty().expect("a duty"))
    }

    const DUTY: &str = r#""duty": { "input_torque_n_m": 2, "hours": 100 }, "input_rpm": 600,"#;

    fn close(got: f64, expected: f64) {
        assert!((got / expected - 1.0).abs() < 1e-12, "{got} {expected}");
    }

    #[test]
    fn torque_speed_and_turns_by_hand() {
        let loads = loads(DUTY, "constant-mesh");
        let teeth = [20, 40].map(Teeth::new);
        // The head turns 600 · 60 · 100 = 3.6 million times, half of it loaded.
        let head = loads.pair(Role::Head, 2.0, teeth);
        close(head.driver_torque_n_m, 2.0);
        close(head.cycles[0], 1.8e6);
        close(head.cycles[1], 0.9e6);
        let first = loads.pair(Role::Speed(0), 2.0, teeth);
        close(first.driver_torque_n_m, 4.0);
        close(first.driver_rpm, 300.0);
        close(first.cycles[0], 0.36e6);
        assert_eq!(first.both_ways, [false, false]);
        let [to_idler, from_idler] = loads.reverse(2.0, [20, 30, 40].map(Teeth::new));
        close(to_idler.driver_torque_n_m, 4.0);
        close(to_idler.cycles[0], 0.18e6);
        close(to_idler.cycles[1], 0.12e6);
        close(from_idler.driver_torque_n_m, 6.0);
        close(from_idler.driver_rpm, 200.0);
        close(from_idler.cycles[0], 0.12e6);
        close(from_idler.cycles[1], 0.09e6);
        assert_eq!(to_idler.both_ways, [false, true]);
        assert_eq!(from_idler.both_ways, [true, false]);
    }

    #[test]
    fn a_shared_driver_counts_the_turns_of_both() {
        let loads = loads(DUTY, "shared-driver");
        let teeth = [20, 40].map(Teeth::new);
        let speed = loads.pair(Role::Speed(0), 2.0, teeth);
        close(speed.cycles[0], 0.54e6);
        close(speed.cycles[1], 0.18e6);
        let [to_idler, _] = loads.reverse(2.0, [20, 30, 40].map(Teeth::new));
        close(to_idler.cycles[0], 0.54e6);
        close(loads.pair(Role::Speed(2), 2.0, teeth).cycles[0], 0.36e6);
    }

    #[test]
    fn offset_boxes_have_no_head_and_unsaid_speed_is_taken() {
        let text = DUTY.replace(r#""input_rpm": 600,"#, r#""arrangement": "offset","#);
        let direct = r#"{ "ratio": 1, "direct": true, "share_percent": 50 }"#;
        let text = format!(
            r#"{{ "centre_distance_mm": 40, {text}
            "gears": {{ "modules_mm": [1], "min_teeth": 14, "max_teeth": 70, "face_width_mm": 8 }},
            "speeds": [{}] }}"#,
            direct.replace(
                r#""direct": true, "share_percent": 50"#,
                r#""share_percent": 100"#
            )
        );
        let problem = parse("box", &text).expect("a problem");
        let loads = Loads::of(&problem, problem.duty().expect("a duty"));
        assert_eq!(loads.rpm, (1000.0, Origin::Defaulted));
        let load = loads.pair(Role::Speed(0), 1.0, [20, 20].map(Teeth::new));
        close(load.driver_torque_n_m, 2.0);
        close(load.cycles[0], 6e6);
    }
}
