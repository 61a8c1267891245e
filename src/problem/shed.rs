//! A file that holds a workshop alone: what stands in the `workshop` of a
//! problem file, for many of them.

use super::fault::{Faults, Log};
use super::keys::Kind;
use super::read::{FileKind, load, sized};
use super::shape::{Checker, Spot};
use super::workplace::WORKSHOP;
use super::workshop::Workshop;
use super::{check, syntax};
use serde_json::Value;
use std::path::Path;

static WHOLE_FILE: Kind = Kind::Fields(&WORKSHOP);

/// Reads and checks a workshop file; what it says, to be put in place of the
/// `workshop` of a problem file.
///
/// # Errors
/// Everything that is wrong with it, each fault with its place.
pub fn read_workshop(path: &Path) -> Result<Value, Faults> {
    let name = path.display().to_string();
    let text = load(path, &name, FileKind::Workshop)?;
    parse_workshop(&name, &text).map(|(value, _)| value)
}

/// Checks the text of a workshop file; `name` is what faults call it.
///
/// # Errors
/// Everything that is wrong with it, each fault with its place.
pub fn parse_workshop(name: &str, text: &str) -> Result<(Value, Workshop), Faults> {
    let text = sized(name, text, FileKind::Workshop)?;
    let mut log = Log::default();
    let Some(json) = syntax::parse(text, &mut log) else {
        return Err(log.close(name, text));
    };
    let mut checker = Checker { log, inches: false };
    let root = checker.item(&json, &WHOLE_FILE, &Spot::top());
    let workshop = check::workshop(Some(&root), &mut checker.log);
    match workshop {
        Some(workshop) if checker.log.is_empty() => Ok((Value::from(json), workshop)),
        _ => Err(checker.log.close(name, text)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::{Decimal, Length, Module, Teeth};
    use crate::problem::workshop::WhichCutter;

    fn mm(millionths: i64) -> Length {
        Length::from_mm(Decimal::from_millionths(millionths))
    }

    #[test]
    fn an_empty_object_is_the_usual_workshop_and_is_given() {
        let (_, workshop) = parse_workshop("shed", "{}").unwrap();
        let mut usual = crate::problem::stockist::usual();
        assert!(workshop.given() && !usual.given());
        usual.given = true;
        assert_eq!(workshop, usual);
    }

    #[test]
    fn bars_stand_by_size_and_cost_their_weight_where_no_price_is_said() {
        let text = r#"{ "price_per_kg": 100, "bars": [
            { "diameter_mm": 40, "length_mm": 1000 },
            { "diameter_in": 1, "length_in": 10, "material": "CuZn39Pb3", "price": 9.5 },
            { "diameter_mm": 40, "length_mm": 500, "density_kg_m3": 1000, "price": 0 },
            { "diameter_mm": 40, "length_mm": 500, "material": "C45" },
        ] }"#;
        let (_, workshop) = parse_workshop("shed", text).unwrap();
        let sizes: Vec<(Length, Length)> = workshop
            .bars()
            .iter()
            .map(|bar| (bar.diameter(), bar.length()))
            .collect();
        let (inch, forty) = (mm(25_400_000), mm(40_000_000));
        let half = (forty, mm(500_000_000));
        let whole = (forty, mm(1_000_000_000));
        assert_eq!(sizes, [(inch, mm(254_000_000)), half, half, whole]);
        let [brass, free, carbon, steel] = workshop.bars() else {
            panic!("four bars");
        };
        assert_eq!(brass.density_kg_m3().to_bits(), 8470.0_f64.to_bits());
        assert_eq!(
            (free.price(), free.price_taken()),
            (Decimal::whole(0), false)
        );
        assert_eq!(carbon.material(), "C45");
        // Row 8.07, EN 10060: a bar of 40 mm has 9.865 kg to the metre.
        let kg = Decimal::from_millionths(986_460_000);
        assert_eq!((steel.price(), steel.price_taken()), (kg, true));
        assert!(!workshop.bars_taken());
    }

    #[test]
    fn a_cutter_has_the_state_of_the_entry_that_names_it() {
        let text = r#"{ "cutters": [
            { "module_mm": 0.8, "numbers": [3, 4], "owned": true },
            { "module_mm": 0.8, "teeth": [135], "price": 31.5 },
            { "diametral_pitch": 24, "set": true, "owned": true },
            { "module_mm": 1, "own_teeth": [23, 29], "owned": true },
            { "module_mm": 1, "set": true, "price": 120 },
        ], "tool_price": 70 }"#;
        let (_, workshop) = parse_workshop("shed", text).unwrap();
        let module = |millionths| Module::metric(Decimal::from_millionths(millionths));
        let (fine, one) = (module(800_000), module(1_000_000));
        let pitch = Module::from_diametral_pitch(Decimal::whole(24));
        for (module, which, at_hand, price) in [
            (fine, WhichCutter::Form(4), true, 0),
            (fine, WhichCutter::Form(1), false, 31_500_000),
            (fine, WhichCutter::Form(2), false, 20_000_000),
            (fine, WhichCutter::Tool, false, 70_000_000),
            (pitch, WhichCutter::Form(8), true, 0),
            (pitch, WhichCutter::Own(Teeth::new(23)), false, 2_000_000),
            (one, WhichCutter::Own(Teeth::new(23)), true, 0),
            (one, WhichCutter::Own(Teeth::new(24)), false, 2_000_000),
            (one, WhichCutter::Form(4), false, 20_000_000),
        ] {
            assert_eq!(workshop.has_cutter(module, which), at_hand, "{which:?}");
            let price = Decimal::from_millionths(price);
            assert_eq!(workshop.cutter_price(module, which), price, "{which:?}");
        }
        assert_eq!(workshop.form_set_price(one), Some(Decimal::whole(120)));
        assert!(workshop.cutter_prices_taken());
    }

    #[test]
    fn a_head_keeps_its_circles_in_order() {
        let text = r#"{ "dividing_head": { "worm": 60, "plates": [[21, 15], [49]], "direct": [],
            "change_gears": [24, 24, 28] } }"#;
        let (_, workshop) = parse_workshop("shed", text).unwrap();
        let head = workshop.dividing_head();
        assert_eq!(
            (head.worm(), head.plates()),
            (60, &[vec![15, 21], vec![49]][..])
        );
        assert_eq!(head.change_gears(), [24, 24, 28]);
        // 60 · 49 = 2940 is 35 times 84; no circle serves 83.
        assert!(head.divides_simply(84) && !head.divides_simply(83));
    }

    #[test]
    fn faults_have_the_places_of_the_file() {
        let faults = parse_workshop("shed.json", "{\n  \"kerf\": 2\n}").unwrap_err();
        let told: Vec<String> = faults.list().iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            ["2:3: kerf: there is no such key (did you mean `kerf_mm`?)"]
        );
        let empty = parse_workshop("shed.json", " ").unwrap_err();
        assert_eq!(empty.list()[0].next, "start from `layshaft new --workshop`");
    }
}
