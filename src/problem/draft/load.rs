//! What the flags say of the load: torque or power, hours, safety, material.

use super::Wishes;
use super::flags::Reader;
use super::text::line;
use crate::base::Decimal;
use crate::problem::duty::Duty;
use crate::problem::materials::Material;
use serde_json::Value;

/// What the box must carry, and what it is made of.
#[derive(Debug)]
pub(super) struct Load {
    /// N m.
    torque: Option<Decimal>,
    /// W.
    power: Option<Decimal>,
    hours: Option<Decimal>,
    hours_assumed: bool,
    min_safety: Option<Decimal>,
    reversing: bool,
    material: Option<String>,
    /// Whether the speed of the input shaft is known.
    has_rpm: bool,
}

impl Load {
    pub(super) fn read(wishes: &Wishes, reader: &mut Reader) -> Self {
        belong_together(wishes, reader);
        let mut number = |flag: &str, text: &Option<String>| {
            let text = text.as_deref();
            text.and_then(|text| reader.number(flag, text))
        };
        Self {
            torque: number("--torque", &wishes.torque),
            power: number("--power", &wishes.power),
            hours: match &wishes.hours {
                None => Some(Decimal::whole(1000)),
                given => number("--hours", given),
            },
            hours_assumed: wishes.hours.is_none(),
            min_safety: number("--min-safety", &wishes.min_safety),
            reversing: wishes.reversing,
            material: wishes.material.clone(),
            has_rpm: wishes.input_rpm.is_some(),
        }
    }

    fn is_given(&self) -> bool {
        self.torque.is_some() || self.power.is_some()
    }

    /// The material of all gears, in the block of the gears.
    pub(super) fn write_material(&self, out: &mut String) {
        if let Some(name) = &self.material {
            out.push_str("    // What gears are made of, unless a role says otherwise.\n");
            line(out, 2, "material", Value::String(name.clone()));
        }
    }

    /// The block of the duty.
    pub(super) fn write(&self, out: &mut String) {
        if !self.is_given() {
            return;
        }
        out.push_str(
            "\n  // What the box must carry, and how long under that load.\n  \"duty\": {\n",
        );
        if let Some(torque) = self.torque {
            out.push_str("    // Torque on the input shaft, N m.\n");
            line(out, 2, "input_torque_n_m", torque);
        }
        if let Some(power) = self.power {
            out.push_str("    // Power at input_rpm, W.\n");
            line(out, 2, "input_power_w", power);
        }
        out.push_str("    // By what the torque is multiplied for shock.\n    \"shock\": 1.5,\n");
        if let Some(hours) = self.hours {
            out.push_str("    // Hours under that load.\n");
            line(out, 2, "hours", hours);
        }
        if let Some(safety) = self.min_safety {
            out.push_str(
                "    // Least safety of tooth roots and flanks; sets below it are left out. An\n    \
                 // estimate, not a proof.\n",
            );
            line(out, 2, "min_safety", safety);
        }
        out.push_str(
            "    // Whether the load turns about in service: all teeth then bend both ways.\n",
        );
        line(out, 2, "reversing", self.reversing);
        out.push_str("  },\n");
    }

    /// Rows of the list "Taken for granted".
    pub(super) fn assumed(&self) -> Vec<(&'static str, String)> {
        if !self.is_given() {
            return Vec::new();
        }
        let mut words = vec!["shock 1.5 times the torque".to_owned(), "in oil".to_owned()];
        if let (true, Some(hours)) = (self.hours_assumed, self.hours) {
            words.insert(0, format!("{hours} hours"));
        }
        if !self.reversing {
            words.push("one way round".to_owned());
        }
        let mut rows = vec![("load", words.join(", "))];
        if !self.has_rpm {
            let rpm = Duty::USUAL_INPUT_RPM;
            rows.push(("input", format!("turns at {rpm} rpm")));
        }
        if self.material.is_none() {
            rows.push(("material", Material::USUAL.to_owned()));
        }
        if self.min_safety.is_none() {
            let words = "teeth are rated, but no set is refused (duty.min_safety)";
            rows.push(("safety", words.to_owned()));
        }
        rows
    }
}

/// Flags that mean nothing without others, or not beside them.
fn belong_together(wishes: &Wishes, reader: &mut Reader) {
    if wishes.torque.is_some() && wishes.power.is_some() {
        let what = "--torque is given already".to_owned();
        reader.fault("--power", what, "keep one of the two");
    }
    if wishes.power.is_some() && wishes.input_rpm.is_none() {
        let what = "means nothing without --input-rpm".to_owned();
        reader.fault("--power", what, "add --input-rpm RPM, or give --torque");
    }
    let load = wishes.torque.is_some() || wishes.power.is_some();
    let given = [
        ("--hours", wishes.hours.is_some()),
        ("--min-safety", wishes.min_safety.is_some()),
        ("--reversing", wishes.reversing),
    ];
    for (flag, _) in given.iter().filter(|(_, given)| *given && !load) {
        let what = "means nothing without a load".to_owned();
        reader.fault(
            flag,
            what,
            "add --torque TORQUE, or --power W with --input-rpm",
        );
    }
    let sized = wishes.face_width.as_deref().map(str::trim) == Some("auto");
    if sized && !(load && wishes.min_safety.is_some()) {
        let what = "\"auto\" needs a load and a least safety".to_owned();
        let next = "add --torque TORQUE and --min-safety, as in --torque 6 --min-safety 1.3";
        reader.fault("--face-width", what, next);
    }
}

#[cfg(test)]
mod tests {
    use crate::problem::{Draft, Wishes, draft};

    fn wishes(change: impl FnOnce(&mut Wishes)) -> Wishes {
        let mut wishes = Wishes {
            centres: "45".to_owned(),
            modules: vec!["1.25".to_owned()],
            ratios: vec!["3.4".to_owned(), "direct".to_owned()],
            ..Wishes::default()
        };
        change(&mut wishes);
        wishes
    }

    fn rows(draft: &Draft, label: &str) -> String {
        let row = draft.assumed.iter().find(|(own, _)| *own == label);
        row.map_or(String::new(), |(_, words)| words.clone())
    }

    #[test]
    fn a_load_reaches_the_file_and_the_rest_is_said() {
        let all = wishes(|all| {
            all.torque = Some("6".to_owned());
            all.min_safety = Some("1.3".to_owned());
            all.material = Some("42CrMo4 tempered".to_owned());
            all.face_width = Some("auto".to_owned());
            all.reversing = true;
        });
        let draft = draft(&all).unwrap();
        let duty = *draft.problem.duty().unwrap();
        assert!((duty.input_torque_n_m() - 6.0).abs() < 1e-12 && duty.reversing());
        assert_eq!(duty.min_flank_safety(), Some(1.3));
        assert!(draft.problem.sizes_faces() && draft.problem.materials().given());
        assert_eq!(
            draft.problem.materials().head()[0].name(),
            "42CrMo4 tempered"
        );
        let load = "1000 hours, shock 1.5 times the torque, in oil";
        assert_eq!(rows(&draft, "load"), load);
        assert_eq!(rows(&draft, "input"), "turns at 1000 rpm");
        assert!(rows(&draft, "face width").contains("4 to 12 modules"));
        assert_eq!(rows(&draft, "material") + &rows(&draft, "safety"), "");
        assert!(draft.text.lines().all(|line| line.chars().count() <= 80));
    }

    #[test]
    fn power_needs_the_speed_of_the_input_shaft() {
        let mut power = wishes(|power| {
            power.power = Some("314.159265".to_owned());
            power.hours = Some("200".to_owned());
        });
        let told = |wishes: &Wishes| -> Vec<String> {
            let faults = draft(wishes).unwrap_err();
            faults.list().iter().map(ToString::to_string).collect()
        };
        assert_eq!(
            told(&power),
            ["--power: means nothing without --input-rpm (add --input-rpm RPM, or give --torque)"]
        );
        // 314.16 W at 3000 rpm, 100 π radians a second: 1 N m.
        power.input_rpm = Some("3000".to_owned());
        let made = draft(&power).unwrap();
        let duty = *made.problem.duty().unwrap();
        assert!((duty.input_torque_n_m() - 1.0).abs() < 1e-6 && duty.from_power());
        assert!((duty.hours().value() - 200.0).abs() < 1e-12 && !duty.reversing());
        let load = "shock 1.5 times the torque, in oil, one way round";
        assert_eq!(rows(&made, "load"), load);
        assert_eq!(rows(&made, "input"), "");
        assert!(rows(&made, "safety").contains("no set is refused"));
        power.torque = Some("1".to_owned());
        assert_eq!(
            told(&power),
            ["--power: --torque is given already (keep one of the two)"]
        );
    }

    #[test]
    fn what_means_nothing_without_a_load_is_told() {
        let alone = wishes(|alone| {
            alone.hours = Some("5".to_owned());
            alone.min_safety = Some("1.3".to_owned());
            alone.reversing = true;
            alone.face_width = Some("auto".to_owned());
        });
        let faults = draft(&alone).unwrap_err();
        let keys: Vec<&str> = faults.list().iter().map(|f| f.key.as_str()).collect();
        assert_eq!(
            keys,
            ["--hours", "--min-safety", "--reversing", "--face-width"]
        );
        let unknown = wishes(|unknown| {
            unknown.torque = Some("0".to_owned());
            unknown.material = Some("mild steel".to_owned());
        });
        let faults = draft(&unknown).unwrap_err();
        let keys: Vec<&str> = faults.list().iter().map(|f| f.key.as_str()).collect();
        assert_eq!(keys.len(), 2);
        assert!(keys.contains(&"--torque") && keys.contains(&"--material"));
    }

    #[test]
    fn without_a_load_nothing_of_it_is_written() {
        let draft = draft(&wishes(|_| {})).unwrap();
        assert!(draft.problem.duty().is_none() && !draft.text.contains("duty"));
        assert_eq!(rows(&draft, "load") + &rows(&draft, "material"), "");
    }
}
