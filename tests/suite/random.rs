//! Random problems from fixed seeds, as the text of problem files.

use layshaft::problem::{Problem, parse};
use serde_json::{Map, Value, json};

/// A small generator of random numbers (splitmix64): the same on every machine.
pub(crate) struct Draw(u64);

impl Draw {
    pub(crate) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number from `low` to `high`, both possible.
    pub(crate) fn whole(&mut self, low: u64, high: u64) -> u64 {
        low + self.next() % (high - low + 1)
    }

    /// A decimal from `low` to `high` thousandths.
    pub(crate) fn thousandths(&mut self, low: u64, high: u64) -> f64 {
        milli(self.whole(low, high))
    }

    pub(crate) fn percent(&mut self, chance: u64) -> bool {
        self.next() % 100 < chance
    }

    pub(crate) fn pick<T: Clone>(&mut self, from: &[T]) -> T {
        from[usize::try_from(self.next() % from.len() as u64).unwrap()].clone()
    }
}

/// The double that prints as `thousandths` / 1000.
fn milli(thousandths: u64) -> f64 {
    f64::from(u32::try_from(thousandths).unwrap()) / 1000.0
}

/// `value` rounded to thousandths, printed without a tail.
fn rounded(value: f64) -> f64 {
    (value * 1000.0).round() / 1000.0
}

/// What shapes a random problem before its keys are drawn.
struct Plan {
    offset: bool,
    module: f64,
    tooth_sum: u64,
    least: u64,
    most: u64,
    helix_deg: u64,
    tolerance: (u64, u64),
}

impl Plan {
    fn draw(draw: &mut Draw) -> Self {
        let least = draw.whole(6, 16);
        let most = least + draw.whole(8, 36);
        let module = draw.pick(&[0.5, 0.75, 0.8, 1.0, 1.25, 1.5]);
        let helix_deg = if draw.percent(25) {
            draw.whole(5, 35)
        } else {
            0
        };
        Self {
            offset: draw.percent(30),
            module,
            tooth_sum: draw.whole(2 * least + 5, least + most + 4),
            least,
            most,
            helix_deg,
            tolerance: draw.pick(&[
                (10, 800),
                (800, 3500),
                (800, 3500),
                (3500, 9000),
                (9000, 35000),
            ]),
        }
    }

    fn centres(&self) -> f64 {
        let beta = f64::from(u32::try_from(self.helix_deg).unwrap()).to_radians();
        self.module * f64::from(u32::try_from(self.tooth_sum).unwrap()) / (2.0 * beta.cos())
    }

    /// Driver and driven teeth that close the planned distance.
    fn pair(&self, draw: &mut Draw) -> (u64, u64) {
        let low = self.least.max(self.tooth_sum.saturating_sub(self.most));
        let high = self.most.min(self.tooth_sum - self.least);
        let driver = draw.whole(low.min(high), low.max(high));
        (driver, self.tooth_sum - driver)
    }

    fn ratio(&self, draw: &mut Draw) -> f64 {
        let of = |(driver, driven): (u64, u64)| milli(driven * 1000) / milli(driver * 1000);
        let head = if self.offset {
            1.0
        } else {
            of(self.pair(draw))
        };
        let ratio = head * of(self.pair(draw));
        // Mostly what some teeth give, sometimes something near it.
        let off = if draw.percent(50) {
            1.0
        } else {
            draw.thousandths(950, 1050)
        };
        rounded((ratio * off).max(0.05))
    }
}

/// A random small problem.
pub(crate) fn problem_file(draw: &mut Draw) -> Value {
    let plan = Plan::draw(draw);
    let mut file = Map::new();
    if plan.offset || draw.percent(20) {
        let word = if plan.offset { "offset" } else { "in-line" };
        file.insert("arrangement".into(), json!(word));
    }
    file.insert("centre_distance_mm".into(), centres(draw, &plan));
    file.insert("gears".into(), gears(draw, &plan));
    if !plan.offset && draw.percent(60) {
        file.insert("head".into(), head(draw, &plan));
    }
    file.insert(
        "default_tolerance_percent".into(),
        json!(tolerance(draw, &plan)),
    );
    let reverse_only = draw.percent(10);
    if !reverse_only {
        file.insert("speeds".into(), speeds(draw, &plan));
    }
    let all_direct = file
        .get("speeds")
        .and_then(Value::as_array)
        .is_none_or(|speeds| speeds.iter().all(|speed| speed.get("direct").is_some()));
    if all_direct || draw.percent(40) {
        file.insert("reverse".into(), reverse(draw, &plan));
    }
    Value::Object(file)
}

/// The file as a problem; it must be a sound one.
pub(crate) fn checked(file: &Value) -> Problem {
    let text = file.to_string();
    match parse("random", &text) {
        Ok(problem) => problem,
        Err(faults) => panic!("{text}\n{faults}"),
    }
}

fn tolerance(draw: &mut Draw, plan: &Plan) -> f64 {
    draw.thousandths(plan.tolerance.0, plan.tolerance.1)
}

fn centres(draw: &mut Draw, plan: &Plan) -> Value {
    let middle = rounded(plan.centres());
    if draw.percent(75) {
        return json!(middle);
    }
    let step = draw.pick(&[0.05, 0.125, 0.25, 0.4, 0.5, 1.0]);
    let below = f64::from(u32::try_from(draw.whole(0, 3)).unwrap());
    let above = f64::from(u32::try_from(draw.whole(1, 4)).unwrap());
    let from = rounded((middle - below * step).max(1.0));
    json!({ "from": from, "to": rounded(middle + above * step), "step": step })
}

fn gears(draw: &mut Draw, plan: &Plan) -> Value {
    let mut modules = vec![plan.module];
    for extra in [0.5, 0.6, 0.8, 1.0, 1.5] {
        if draw.percent(15) && !modules.contains(&extra) {
            modules.push(extra);
        }
    }
    let mut gears = json!({
        "modules_mm": modules,
        "min_teeth": plan.least,
        "max_teeth": plan.most,
        "face_width_mm": draw.thousandths(2000, 20000),
    });
    if draw.percent(8) {
        gears["diametral_pitches"] = json!([draw.pick(&[16, 20, 24, 32])]);
    }
    if plan.helix_deg > 0 {
        gears["helix_angle_deg"] = json!(plan.helix_deg);
    }
    if draw.percent(20) {
        gears["pressure_angle_deg"] = json!(draw.pick(&[14.5, 17.5, 25.0]));
    }
    if draw.percent(25) {
        gears["cutting"] = json!(draw.pick(&["generated", "own-form"]));
    }
    if draw.percent(20) {
        let min = draw.whole(0, 60);
        let max = min + draw.whole(0, 250);
        gears["backlash_mm"] = json!({ "min": milli(min), "max": milli(max) });
        if draw.percent(50) {
            gears["max_thinning_mm"] = json!(draw.thousandths(0, 120));
        }
    } else if draw.percent(60) {
        gears["centre_tolerance_mm"] = json!(draw.pick(&[0.0, 0.001, 0.01, 0.05, 0.2, 0.4]));
    }
    gears
}

fn head(draw: &mut Draw, plan: &Plan) -> Value {
    let mut head = Map::new();
    if draw.percent(70) {
        let low = draw.whole(400, 1600);
        let high = low + draw.whole(0, 1500);
        let mut ratio = Map::new();
        if draw.percent(75) {
            ratio.insert("min".into(), json!(milli(low)));
        }
        if draw.percent(75) {
            ratio.insert("max".into(), json!(milli(high)));
        }
        head.insert("ratio".into(), Value::Object(ratio));
    }
    if head.is_empty() || draw.percent(15) {
        cut_pair(draw, plan, &mut head);
    }
    Value::Object(head)
}

/// Names the teeth of a role, if the plan's lie within the limits.
fn cut_pair(draw: &mut Draw, plan: &Plan, role: &mut Map<String, Value>) {
    let (driver, driven) = plan.pair(draw);
    let legal = plan.least..=plan.most;
    if legal.contains(&driver) && legal.contains(&driven) {
        role.insert("teeth".into(), json!([driver, driven]));
        if draw.percent(40) {
            role.insert("module_mm".into(), json!(plan.module));
        }
    }
}

fn speeds(draw: &mut Draw, plan: &Plan) -> Value {
    let count = if plan.tolerance.0 >= 3500 {
        draw.whole(1, 2)
    } else {
        draw.whole(1, 4)
    };
    let mut speeds = Vec::new();
    for _ in 0..count {
        let mut speed = Map::new();
        speed.insert("ratio".into(), json!(plan.ratio(draw)));
        if draw.percent(40) {
            speed.insert("tolerance_percent".into(), json!(tolerance(draw, plan)));
        }
        if draw.percent(10) {
            cut_pair(draw, plan, &mut speed);
        }
        speeds.push(Value::Object(speed));
    }
    if !plan.offset && draw.percent(25) {
        let place = usize::try_from(draw.whole(0, count)).unwrap();
        speeds.insert(place, json!({ "name": "top", "direct": true }));
    }
    Value::Array(speeds)
}

fn reverse(draw: &mut Draw, plan: &Plan) -> Value {
    // Half the targets are what the smallest gears, which keep apart, give.
    let small = (
        draw.whole(plan.least, plan.least + 3),
        draw.whole(plan.least, plan.least + 3),
    );
    let small = milli(small.0 * 1000) / milli(small.1 * 1000);
    let target = if draw.percent(50) {
        rounded(small)
    } else {
        plan.ratio(draw)
    };
    let mut reverse = json!({ "ratio": target });
    if draw.percent(70) {
        reverse["tolerance_percent"] = json!(draw.thousandths(1500, 25000));
    }
    let least = draw.whole(5, 14);
    let most = least + draw.whole(0, 12);
    if draw.percent(85) {
        reverse["idler_teeth"] = json!({ "min": least, "max": most });
        let (driver, driven) = (plan.least, plan.least + draw.whole(0, 4));
        if draw.percent(8) && driven <= plan.most {
            reverse["teeth"] = json!([driver, most, driven]);
        }
    }
    if draw.percent(70) {
        reverse["clearance_mm"] = json!(draw.thousandths(0, 900));
    }
    reverse
}
