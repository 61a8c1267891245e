//! A bench per stage, on three sizes: the shunter, the large benchmark, and ten
//! speeds with wide tolerances; and of gears alone: an outline, the shifts that
//! close the pairs of one centre distance.

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use layshaft::base::Teeth;
use layshaft::involute::outline::{CHORD_ERROR_MM, Cut, Tooth};
use layshaft::involute::{Closing, Rack, SplitLimits, Toothing};
use layshaft::mesh::{Pairs, reverses_at};
use layshaft::problem::{Problem, parse};
use layshaft::search::{Control, Request, solve};
use layshaft::train::Figures;

fn main() {
    divan::main();
}

const SIZES: [&str; 3] = ["shunter", "large", "wide"];

fn text(size: &str) -> String {
    match size {
        "shunter" => include_str!("../problems/shunter.json").to_owned(),
        "large" => include_str!("../problems/large.json").to_owned(),
        _ => wide(),
    }
}

/// The large problem with ten speeds, each within 10 %.
fn wide() -> String {
    let large = include_str!("../problems/large.json");
    let mut problem: serde_json::Value = serde_json::from_str(large).expect("a sample parses");
    let ratios = [5.0, 4.0, 3.2, 2.6, 2.1, 1.7, 1.4, 1.15, 0.95, 0.8];
    let speed = |ratio| serde_json::json!({ "ratio": ratio, "tolerance_percent": 10 });
    problem["speeds"] = ratios.map(speed).to_vec().into();
    problem["reverse"]["tolerance_percent"] = 10.into();
    problem.to_string()
}

fn problem(size: &str) -> Problem {
    parse(size, &text(size)).expect("a sample is in order")
}

fn run(bencher: Bencher, size: &str, top: usize, trains: usize) {
    let problem = problem(size);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let request = Request {
        top,
        trains,
        threads,
    };
    bencher.bench(|| solve(black_box(&problem), request, &Control::default()));
}

#[divan::bench(args = SIZES)]
fn read(bencher: Bencher, size: &str) {
    let text = text(size);
    bencher.bench(|| parse(size, black_box(&text)));
}

#[divan::bench(args = SIZES)]
fn pairs(bencher: Bencher, size: &str) {
    let problem = problem(size);
    let centres = problem.centre_distances().at(0);
    bencher.bench(|| Pairs::at(black_box(&problem), centres));
}

#[divan::bench(args = SIZES)]
fn reverses(bencher: Bencher, size: &str) {
    let problem = problem(size);
    let centres = problem.centre_distances().at(0);
    let reverse = *problem.reverse().expect("the samples reverse");
    bencher.bench(|| reverses_at(black_box(&problem), &reverse, centres, |_, _| true));
}

#[divan::bench(args = SIZES)]
fn count_and_front(bencher: Bencher, size: &str) {
    run(bencher, size, 0, 0);
}

#[divan::bench(args = SIZES)]
fn top_20(bencher: Bencher, size: &str) {
    run(bencher, size, 20, 0);
}

#[divan::bench(args = SIZES)]
fn top_1000(bencher: Bencher, size: &str) {
    run(bencher, size, 1000, 0);
}

#[divan::bench(args = SIZES)]
fn trains_20(bencher: Bencher, size: &str) {
    run(bencher, size, 0, 20);
}

#[divan::bench(args = SIZES)]
fn figures(bencher: Bencher, size: &str) {
    let problem = problem(size);
    let request = Request {
        top: 1,
        trains: 0,
        threads: 1,
    };
    let outcome = solve(&problem, request, &Control::default());
    bencher.bench(|| Figures::of(black_box(&problem), &outcome.sets[0]));
}

#[divan::bench]
fn outline_of_40_teeth(bencher: Bencher) {
    let cut = Cut::plain(Rack::standard(20.0), 1.0, Teeth::new(40));
    bencher.bench(|| Tooth::new(black_box(&cut)).map(|tooth| tooth.outline(CHORD_ERROR_MM)));
}

const CENTRES_MM: f64 = 60.0;

/// The pairs of four modules whose shifts together are at most a module.
fn closable() -> Vec<(Toothing, [Teeth; 2])> {
    let mut pairs = Vec::new();
    for module in [1.0, 1.25, 1.5, 2.0] {
        let toothing = Toothing::new(Rack::standard(20.0), module, 0.2).expect("it is in range");
        for first in 12..=90 {
            for second in 12..=90 {
                let teeth = [Teeth::new(first), Teeth::new(second)];
                let closing = Closing::at_centres(toothing, teeth, CENTRES_MM);
                if closing.is_ok_and(|closing| closing.shift_sum().abs() < 1.0) {
                    pairs.push((toothing, teeth));
                }
            }
        }
    }
    pairs
}

/// What each of those pairs costs until `settle` has settled it.
fn closed<T>(bencher: Bencher, settle: impl Fn(&Closing) -> T + Sync) {
    let pairs = closable();
    bencher.counter(ItemsCount::new(pairs.len())).bench(|| {
        for (toothing, teeth) in &pairs {
            let closing = Closing::at_centres(*toothing, *teeth, CENTRES_MM);
            black_box(closing.map(|closing| settle(&closing))).ok();
        }
    });
}

#[divan::bench]
fn closings_alone(bencher: Bencher) {
    closed(bencher, |_| ());
}

#[divan::bench]
fn splits(bencher: Bencher) {
    closed(bencher, |closing| {
        closing.split(&SplitLimits::within(-0.3, 0.6))
    });
}

#[divan::bench]
fn first_shifts(bencher: Bencher) {
    let limits = SplitLimits::within(-0.3, 0.6);
    closed(bencher, |closing| closing.first_shift(&limits));
}

#[divan::bench]
fn first_shifts_with_undercut(bencher: Bencher) {
    let limits = SplitLimits {
        undercut_allowed: true,
        ..SplitLimits::within(-0.3, 0.6)
    };
    closed(bencher, |closing| closing.first_shift(&limits));
}
