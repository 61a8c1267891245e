//! Modules that tools are sold for.

use crate::base::{Decimal, Module};

/// Thousandths of a millimetre: ISO 54 from 1 mm on (both series, without the
/// bracketed 6.5), below 1 mm the sizes of DIN 780. From memory.
const METRIC: &[i64] = &[
    100, 120, 160, 200, 250, 300, 350, 400, 450, 500, 550, 600, 700, 800, 900, 1000, 1125, 1250,
    1375, 1500, 1750, 2000, 2250, 2500, 2750, 3000, 3500, 4000, 4500, 5000, 5500, 6000, 7000, 8000,
    9000, 10_000, 11_000, 12_000, 14_000, 16_000, 18_000, 20_000, 22_000, 25_000,
];

/// Teeth per inch of pitch diameter that cutters are sold for; common practice,
/// no source.
const PITCHES: &[i64] = &[
    3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 36, 40, 48, 56, 64, 72,
    80, 96,
];

/// Modules of the series between a third of the smallest and three times the
/// largest of `given`, ascending: diametral pitches where all of `given` are,
/// metric otherwise. Those given are left out.
pub fn near(given: &[Module]) -> Vec<Module> {
    let (Some(least), Some(most)) = (given.first(), given.last()) else {
        return Vec::new();
    };
    let within = |module: &Module| {
        3.0 * module.mm() >= least.mm() && module.mm() <= 3.0 * most.mm() && !given.contains(module)
    };
    let mut all: Vec<Module> = if given.iter().all(|module| module.pitch().is_some()) {
        let pitch = |&pitch: &i64| Module::from_diametral_pitch(Decimal::whole(pitch));
        PITCHES.iter().map(pitch).filter(within).collect()
    } else {
        let metric = |&um: &i64| Module::metric(Decimal::from_millionths(um * 1000));
        METRIC.iter().map(metric).filter(within).collect()
    };
    all.sort();
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn metric(text: &str) -> Module {
        Module::metric(Decimal::parse(text).unwrap())
    }

    #[test]
    fn neighbours_of_a_metric_module() {
        let near = near(&[metric("1")]);
        assert!(near.contains(&metric("0.9")) && near.contains(&metric("0.8")));
        assert!(!near.contains(&metric("1")) && !near.contains(&metric("3.5")));
        assert!(near.windows(2).all(|two| two[0] < two[1]));
    }

    #[test]
    fn pitches_stay_pitches() {
        let near = near(&[Module::from_diametral_pitch(Decimal::whole(20))]);
        assert!(near.iter().all(|module| module.pitch().is_some()));
        assert!(near.contains(&Module::from_diametral_pitch(Decimal::whole(24))));
    }
}
