//! What is taken where the file does not describe the workshop.
//!
//! Bar diameters: EN 10060:2003, table 1, from memory. Densities: handbooks,
//! from memory. Hole circles: the three common plates of a 40:1 head. Lengths
//! and prices are invented, and results say that they were taken.

use super::workshop::{Allowances, Bar, DividingHead, Workshop};
use crate::base::{Decimal, Length};
use std::f64::consts::PI;

/// Preferred diameters of round steel bars, mm.
const DIAMETERS_MM: [i64; 54] = [
    10, 12, 13, 14, 15, 16, 18, 19, 20, 22, 24, 25, 26, 27, 28, 30, 32, 35, 36, 38, 40, 42, 45, 48,
    50, 52, 55, 60, 63, 65, 70, 73, 75, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125, 130, 135,
    140, 145, 150, 160, 170, 180, 200, 220, 250,
];
/// Length of a bar as it is sold, mm.
const LENGTH_MM: i64 = 250;
/// What the usual bars are made of.
const MATERIAL: &str = "steel";
/// Density of a material whose name says nothing, kg/m³.
const STEEL_KG_M3: i64 = 7850;
/// Words in a material's name, and its density, kg/m³; the first that is in
/// the name counts.
const DENSITIES_KG_M3: [(&str, i64); 8] = [
    ("stainless", 7930),
    ("brass", 8470),
    ("cuzn", 8470),
    ("bronze", 8700),
    ("cusn", 8700),
    ("alumin", 2700),
    ("6082", 2700),
    ("iron", 7200),
];
/// Price of a kilogram of bar.
pub(super) const PRICE_PER_KG: Decimal = Decimal::whole(5);
/// Price of a form cutter.
pub(super) const FORM_CUTTER_PRICE: Decimal = Decimal::whole(20);
/// What the material of a home-made form cutter costs.
pub(super) const OWN_CUTTER_PRICE: Decimal = Decimal::whole(2);
/// Price of a hob or rack tool.
pub(super) const TOOL_PRICE: Decimal = Decimal::whole(60);

/// The usual workshop.
pub(super) fn usual() -> Workshop {
    Workshop {
        given: false,
        currency: String::new(),
        bars: usual_bars(PRICE_PER_KG),
        bars_taken: true,
        rack: Vec::new(),
        gear_material: None,
        allowances: Allowances {
            kerf: mm(2),
            grip: Length::ZERO,
            facing: mm(1),
            turning: mm(1),
        },
        rings_on_gears: true,
        cutters: Vec::new(),
        form_cutter_price: FORM_CUTTER_PRICE,
        own_cutter_price: OWN_CUTTER_PRICE,
        tool_price: TOOL_PRICE,
        cutter_prices_taken: true,
        dividing_head: usual_head(),
        largest_turned: None,
        only_dividable: false,
        only_owned_cutters: false,
        cutters_as: None,
    }
}

/// Bars of the preferred diameters at a price by weight.
pub(super) fn usual_bars(price_per_kg: Decimal) -> Vec<Bar> {
    let density = density_kg_m3(MATERIAL);
    let bar = |diameter| {
        let (diameter, length) = (mm(diameter), mm(LENGTH_MM));
        Bar {
            diameter,
            length,
            material: MATERIAL.to_owned(),
            density_kg_m3: density,
            price: price_by_weight(diameter, length, density, price_per_kg),
            price_taken: true,
            count: 1,
        }
    };
    DIAMETERS_MM.into_iter().map(bar).collect()
}

/// A 40:1 head with three plates, a direct plate of 24 notches and no change
/// gears (row 5.01 for the circles).
pub(super) fn usual_head() -> DividingHead {
    DividingHead {
        worm: 40,
        plates: vec![
            vec![15, 16, 17, 18, 19, 20],
            vec![21, 23, 27, 29, 31, 33],
            vec![37, 39, 41, 43, 47, 49],
        ],
        direct: vec![24],
        change_gears: Vec::new(),
    }
}

/// Density of a material by its name; that of steel where the name says nothing.
pub(super) fn density_kg_m3(material: &str) -> Decimal {
    let name = material.to_lowercase();
    let known = DENSITIES_KG_M3.iter().find(|(word, _)| name.contains(word));
    Decimal::whole(known.map_or(STEEL_KG_M3, |(_, density)| *density))
}

/// Price of a bar by its weight, rounded to hundredths.
pub(super) fn price_by_weight(
    diameter: Length,
    length: Length,
    density_kg_m3: Decimal,
    price_per_kg: Decimal,
) -> Decimal {
    let area_mm2 = PI / 4.0 * diameter.mm() * diameter.mm();
    let kg = area_mm2 * length.mm() * density_kg_m3.to_f64() * 1e-9;
    let hundredths = (kg * price_per_kg.to_f64() * 100.0).round();
    Decimal::nearest(hundredths / 100.0).unwrap_or(price_per_kg)
}

const fn mm(whole: i64) -> Length {
    Length::from_mm(Decimal::whole(whole))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Row 8.07: round bar at 7850 kg/m³, EN 10060 table values round these.
    #[test]
    fn published_weights_give_the_price() {
        for (diameter, kg_per_m) in [(20, 2.466), (40, 9.865), (100, 61.654)] {
            let price = price_by_weight(
                mm(diameter),
                mm(1000),
                Decimal::whole(7850),
                Decimal::whole(100),
            );
            assert!(
                (price.to_f64() / 100.0 - kg_per_m).abs() < 5e-4,
                "{diameter}"
            );
        }
    }

    #[test]
    fn a_material_is_known_by_a_word_of_its_name() {
        for (name, density) in [
            ("C45", 7850),
            ("Stainless 304", 7930),
            ("CuZn39Pb3", 8470),
            ("EN AW-6082", 2700),
        ] {
            assert_eq!(density_kg_m3(name), Decimal::whole(density), "{name}");
        }
    }
}
