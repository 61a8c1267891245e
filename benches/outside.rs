//! The search beside a general constraint solver, in one run on one machine:
//! the solver makes one measure of the large benchmark least, the search finds
//! the whole front of all three measures. Both must agree, and the search must
//! be at least fifty times faster.
//!
//! The solver is Python's `ortools`. Which Python is asked: `LAYSHAFT_PYTHON`,
//! else `python3`; without the package the run says that it was skipped.

use layshaft::problem::parse;
use layshaft::search::{Control, Request, solve};
use layshaft::train::Figures;
use std::env;
use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::Instant;

const LARGE: &str = include_str!("../problems/large.json");
const TIMES_FASTER: f64 = 50.0;
const THREADS: usize = 2;

fn main() -> ExitCode {
    // The test runner only asks whether it starts.
    if env::args().any(|arg| arg == "--test") {
        return ExitCode::SUCCESS;
    }
    let python = env::var("LAYSHAFT_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let Some(outside) = outside(&python) else {
        say(&format!(
            "skipped: {python} has no ortools. Make a venv, pip install ortools, and name its \
             python in LAYSHAFT_PYTHON"
        ));
        return ExitCode::SUCCESS;
    };
    let (front, least, own_seconds) = own();
    let faster = outside.seconds / own_seconds;
    say(&format!(
        "general solver, least metal alone: {:.2} s (and {:.2} s to state it)\n\
         search, whole front of {front} points: {:.4} s\n\
         least metal, sum of OD squared in square micrometres: {least} and {}\n\
         {faster:.0} times faster",
        outside.seconds, outside.building_seconds, own_seconds, outside.least
    ));
    if outside.least != least || faster < TIMES_FASTER {
        say("FAILED: they must be equal, and the search 50 times faster");
        return ExitCode::FAILURE;
    }
    ExitCode::SUCCESS
}

struct Outside {
    least: u64,
    building_seconds: f64,
    seconds: f64,
}

/// What the general solver finds; none when it is not there.
fn outside(python: &str) -> Option<Outside> {
    let has = Command::new(python)
        .args(["-c", "import ortools.sat.python.cp_model"])
        .output()
        .ok()?;
    if !has.status.success() {
        return None;
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let run = Command::new(python)
        .arg(root.join("benches/outside.py"))
        .arg(root.join("problems/large.json"))
        .arg(THREADS.to_string())
        .output()
        .ok()?;
    let said = String::from_utf8_lossy(&run.stdout);
    let told: serde_json::Value = serde_json::from_str(&said)
        .unwrap_or_else(|_| panic!("{said}{}", String::from_utf8_lossy(&run.stderr)));
    Some(Outside {
        least: told["blank_um2"].as_u64().expect("it proves the least"),
        building_seconds: told["build_seconds"].as_f64().expect("seconds"),
        seconds: told["solve_seconds"].as_f64().expect("seconds"),
    })
}

/// Points of the front, the least metal on it, and the median of five times.
fn own() -> (usize, u64, f64) {
    let problem = parse("large", LARGE).expect("the sample is in order");
    let request = Request {
        top: 0,
        trains: 0,
        threads: THREADS,
    };
    let mut seconds = Vec::new();
    let mut front = Vec::new();
    for _ in 0..5 {
        let start = Instant::now();
        front = solve(&problem, request, &Control::default()).front;
        seconds.push(start.elapsed().as_secs_f64());
    }
    seconds.sort_by(f64::total_cmp);
    let metal = |set| Figures::of(&problem, set).blank_um2;
    let least = front.iter().map(metal).min().expect("it has sets");
    (front.len(), least, seconds[2])
}

#[allow(clippy::print_stdout, reason = "a bench tells what it measured")]
fn say(text: &str) {
    println!("{text}");
}
