//! What the box must carry, and how its running time is shared.

use super::optional;
use crate::base::Decimal;
use crate::problem::duty::{Duty, Lubrication, Shares, Taken};
use crate::problem::fault::Log;
use crate::problem::item::Item;
use std::f64::consts::PI;

/// How far the shares may be from 100 together, percent.
const ROUNDING: f64 = 0.01;

pub(super) fn duty(root: &Item, log: &mut Log) -> Option<Option<Duty>> {
    optional(root.get("duty"), |item| {
        let maybe = |name| {
            let own = optional(item.get(name), Item::number)?;
            Some(own.map(Decimal::to_f64))
        };
        let lubrication = item.get("lubrication")?;
        Some(Duty {
            input_torque_n_m: input_torque_n_m(root, item, log)?,
            from_power: item.get("input_torque_n_m").is_none(),
            shock: taken(item.get("shock")?)?,
            shaft_shear_mpa: item.get("shaft_shear_mpa")?.number()?.to_f64(),
            hours: taken(item.get("hours")?)?,
            reversing: item.get("reversing")?.flag()?,
            min_safety: maybe("min_safety")?,
            min_flank_safety: maybe("min_flank_safety")?,
            floor: None,
            lubrication: match lubrication.word()? {
                "grease" => Lubrication::Grease,
                "dry" => Lubrication::Dry,
                _ => Lubrication::Oil,
            },
            lubrication_given: lubrication.given,
            dynamic_factor: maybe("dynamic_factor")?,
            face_load_factor: maybe("face_load_factor")?,
            transverse_factor: maybe("transverse_factor")?,
        })
    })
}

fn input_torque_n_m(root: &Item, duty: &Item, log: &mut Log) -> Option<f64> {
    if let Some(torque) = duty.get("input_torque_n_m") {
        return Some(torque.number()?.to_f64());
    }
    let power = duty.get("input_power_w")?;
    let Some(rpm) = root.get("input_rpm") else {
        let what = "needs input_rpm, which is missing".to_owned();
        let next = "add \"input_rpm\" at the top of the file, or give input_torque_n_m";
        log.add(&power.span, &power.path, what, next.to_owned());
        return None;
    };
    let turns_a_second = rpm.number()?.to_f64() / 60.0;
    Some(power.number()?.to_f64() / (2.0 * PI * turns_a_second))
}

fn taken(item: &Item) -> Option<Taken> {
    Some(Taken {
        value: item.number()?.to_f64(),
        given: item.given,
    })
}

/// The shares of `speeds` forward speeds and of reverse.
pub(super) fn shares(root: &Item, speeds: usize, log: &mut Log) -> Option<Shares> {
    let list = root.get("speeds").and_then(Item::list).unwrap_or_default();
    // Speeds that a law spaces have no entries in the file, and no shares.
    let mut own: Vec<Option<f64>> = vec![None; speeds];
    for (own, speed) in own.iter_mut().zip(list) {
        *own = share(speed)?;
    }
    let reverse = optional(root.get("reverse"), share)?;
    let all = own.iter().copied().chain(reverse);
    let given: f64 = all.clone().flatten().sum();
    let complete = all.clone().all(|share| share.is_some());
    if given > 100.0 + ROUNDING {
        let what = format!("the shares of the speeds add up to {given:.2} %");
        wrong(
            root,
            what,
            "make them 100 % together, or leave some out",
            log,
        );
    } else if complete && given < 100.0 - ROUNDING {
        let what = format!("the shares of all speeds add up to {given:.2} %, not to 100 %");
        wrong(root, what, "raise some of them, or leave one out", log);
    }
    Some(spread(&own, reverse, (100.0 - given).max(0.0)))
}

fn share(role: &Item) -> Option<Option<f64>> {
    let own = optional(role.get("share_percent"), Item::number)?;
    Some(own.map(Decimal::to_f64))
}

/// Points at the last share given.
fn wrong(root: &Item, what: String, next: &str, log: &mut Log) {
    let speeds = root.get("speeds").and_then(Item::list).unwrap_or_default();
    let roles = speeds.iter().chain(root.get("reverse"));
    let shares = roles.filter_map(|role| role.get("share_percent"));
    if let Some(at) = shares.max_by_key(|item| item.span.start) {
        log.add(&at.span, &at.path, what, next.to_owned());
    }
}

/// What is left goes to reverse first, as little as is usual, then to the
/// speeds without a share; all of it to reverse where all speeds have one.
fn spread(speeds: &[Option<f64>], reverse: Option<Option<f64>>, left: f64) -> Shares {
    let without = speeds.iter().filter(|share| share.is_none()).count();
    let usual = if without == 0 {
        left
    } else {
        left.min(Shares::REVERSE_PERCENT)
    };
    let takes = if reverse == Some(None) { usual } else { 0.0 };
    #[allow(
        clippy::cast_precision_loss,
        reason = "a problem has at most 64 speeds"
    )]
    let each = (left - takes) / without.max(1) as f64;
    let taken = |own: Option<f64>, usual| Taken {
        value: own.unwrap_or(usual),
        given: own.is_some(),
    };
    Shares {
        speeds: speeds.iter().map(|own| taken(*own, each)).collect(),
        reverse: reverse.map(|own| taken(own, usual)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(shares: &Shares) -> (Vec<f64>, Option<f64>) {
        let speeds = shares.speeds.iter().map(|share| share.value).collect();
        (speeds, shares.reverse.map(|share| share.value))
    }

    #[test]
    fn what_is_left_is_spread() {
        let spread = |speeds: &[Option<f64>], reverse, left| values(&spread(speeds, reverse, left));
        let none = [None, None];
        assert_eq!(spread(&none, None, 100.0), (vec![50.0, 50.0], None));
        let with_reverse = spread(&none, Some(None), 100.0);
        assert_eq!(with_reverse, (vec![47.5, 47.5], Some(5.0)));
        let own = spread(&[Some(30.0), None], Some(Some(10.0)), 60.0);
        assert_eq!(own, (vec![30.0, 60.0], Some(10.0)));
        let scarce = spread(&[Some(98.0), None], Some(None), 2.0);
        assert_eq!(scarce, (vec![98.0, 0.0], Some(2.0)));
        let rest = spread(&[Some(60.0), Some(28.0)], Some(None), 12.0);
        assert_eq!(rest, (vec![60.0, 28.0], Some(12.0)));
        assert_eq!(spread(&[], Some(None), 100.0), (vec![], Some(100.0)));
    }
}
