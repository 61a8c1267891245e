//! Lists of real alternatives, exchanges and hunting teeth.

use crate::front_door::{Ended, Run};
use crate::random::{Draw, checked, problem_file};
use layshaft::problem::{Problem, Ranking, read};
use layshaft::search::{
    Alternatives, Control, Request, Status, Walk, WalkEnd, count_plainly, enumerate,
    solve_alternatives,
};
use layshaft::train::Set;
use num_bigint::BigUint;
use serde_json::{Value, json};
use std::path::{Path, PathBuf};

/// The gears of a set, each as its place in the set, module and teeth: written
/// out here so that the rule is stated twice.
fn gears(set: &Set) -> Vec<(String, usize, u32)> {
    let mut gears = Vec::new();
    let pairs = set.head.iter().chain(&set.pairs).enumerate();
    for (role, pair) in pairs {
        let module = pair.module.index();
        gears.push((format!("{role} driver"), module, pair.driver.get()));
        gears.push((format!("{role} driven"), module, pair.driven.get()));
    }
    if let Some(r) = &set.reverse {
        let teeth = [
            ("driver", r.driver),
            ("idler", r.idler),
            ("driven", r.driven),
        ];
        gears.extend(teeth.map(|(seat, z)| (format!("R {seat}"), r.module.index(), z.get())));
    }
    gears
}

/// What `wanted` means, by walking the plain twin's ranking: the list, the
/// rank of each set, how many sets were walked, and why it ended.
fn plain_walk(ranking: &[Set], wanted: Alternatives, top: usize) -> (Vec<Set>, Walk) {
    let mut listed: Vec<Set> = Vec::new();
    let (mut ranks, mut walked) = (Vec::new(), 0);
    for (set, rank) in ranking.iter().zip(1..=wanted.longest) {
        if listed.len() == top {
            break;
        }
        walked = rank;
        let own = gears(set);
        let new = |other: &Set| {
            let other = gears(other);
            own.iter().filter(|gear| !other.contains(gear)).count()
        };
        if listed.iter().all(|other| new(other) >= wanted.differ_by) {
            listed.push(set.clone());
            ranks.push(rank);
        }
    }
    let end = match () {
        () if listed.len() == top => WalkEnd::Found,
        () if wanted.longest < ranking.len() => WalkEnd::Limit,
        () => WalkEnd::Exhausted,
    };
    let walk = Walk {
        wanted,
        ranks,
        walked,
        end,
    };
    (listed, walk)
}

/// Which ends of a walk the random problems came to.
#[derive(Debug, Default)]
struct Ends {
    found: usize,
    exhausted: usize,
    limit: usize,
    /// Lists that leave out a set that the ranking has before their last.
    sifted: usize,
}

fn compare(problem: &Problem, wanted: Alternatives, top: usize, about: &str, ends: &mut Ends) {
    let ranking = enumerate(problem, usize::MAX).sets;
    let (listed, walk) = plain_walk(&ranking, wanted, top);
    for threads in [1, 2] {
        let request = Request {
            top,
            trains: 0,
            threads,
        };
        let (outcome, fast) = solve_alternatives(problem, request, wanted, &Control::default());
        let about = format!("{about} {threads} threads, {wanted:?}, top {top}");
        assert_eq!(outcome.status, Status::Proven, "{about}");
        assert_eq!(outcome.sets, listed, "{about}");
        assert_eq!(fast, walk, "{about}");
    }
    match walk.end {
        WalkEnd::Found => ends.found += 1,
        WalkEnd::Exhausted => ends.exhausted += 1,
        WalkEnd::Limit => ends.limit += 1,
        WalkEnd::Stopped => panic!("{about}: nobody stopped it"),
    }
    ends.sifted += usize::from(walk.ranks.last().is_some_and(|&rank| rank > listed.len()));
}

#[test]
fn alternatives_are_those_of_the_whole_ranking() {
    let mut ends = Ends::default();
    for seed in 700_000..700_400 {
        let draw = &mut Draw::new(seed);
        let file = problem_file(draw);
        let problem = checked(&file);
        let sets = count_plainly(&problem).sets;
        // Few sets are no test of a long walk, many take the twin too long.
        if sets < BigUint::from(3_u32) || sets > BigUint::from(4000_u32) {
            continue;
        }
        for ranking in Ranking::USUAL {
            let measures = problem.measures().to_vec();
            let ranked = problem.clone().ranked(ranking, measures);
            let wanted = Alternatives {
                differ_by: draw.pick(&[1, 2, 3, 4, 5, 7, 12]),
                longest: draw.pick(&[10, 700, 100_000, 100_000]),
            };
            let top = draw.pick(&[1, 3, 10, 40]);
            compare(
                &ranked,
                wanted,
                top,
                &format!("seed {seed}: {file}"),
                &mut ends,
            );
        }
    }
    let Ends {
        found,
        exhausted,
        limit,
        sifted,
    } = ends;
    assert!(
        [found, exhausted, limit, sifted].iter().all(|&n| n >= 25),
        "{ends:?}"
    );
}

/// One speed and a direct one: head and the speed's pair may change places.
/// Invented.
const WINCH: &str = r#"{ "arrangement": "in-line", "centre_distance_mm": 40,
    "gears": { "modules_mm": [1], "min_teeth": 20, "max_teeth": 60, "face_width_mm": 8 },
    "speeds": [ { "name": "low", "ratio": 3, "tolerance_percent": 2 },
                { "name": "top", "direct": true } ] }"#;

fn solved(file: &str, args: &[&str]) -> Ended {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("problem.json");
    std::fs::write(&path, file).unwrap();
    Run::of(&[&["solve", path.to_str().unwrap()], args].concat())
        .ends()
        .with(0)
}

fn json_of(file: &str, args: &[&str]) -> Value {
    solved(file, &[&["--format", "json"], args].concat()).json()
}

fn teeth(pair: &Value) -> [&Value; 3] {
    ["module_mm", "driver_teeth", "driven_teeth"].map(|key| &pair[key])
}

#[test]
fn a_set_that_only_exchanges_pairs_names_the_earlier_one() {
    let answer = json_of(WINCH, &["--top", "1000"]);
    let sets = answer["sets"].as_array().unwrap();
    assert_eq!(sets.len().to_string(), answer["feasible_sets"]);
    let mut exchanges = 0;
    for (place, set) in sets.iter().enumerate() {
        let swapped = |earlier: &&Value| {
            teeth(&earlier["head"]) == teeth(&set["speeds"][0])
                && teeth(&earlier["speeds"][0]) == teeth(&set["head"])
        };
        let earlier = sets[..place].iter().find(swapped);
        let of = earlier.map_or(&Value::Null, |earlier| &earlier["mark"]);
        assert_eq!(&set["exchange_of"], of, "{set}");
        if earlier.is_some() {
            assert_eq!(set["exchanged"], json!(["head", "low"]));
            exchanges += 1;
        } else {
            assert_eq!(set.get("exchanged"), None);
        }
    }
    // Every set has its mirror unless head and speed are the same pair.
    let even = sets
        .iter()
        .filter(|set| teeth(&set["head"]) == teeth(&set["speeds"][0]));
    assert_eq!(sets.len(), 2 * exchanges + even.count());
    assert!(exchanges > 3, "{exchanges}");

    let text = solved(WINCH, &["--top", "1000", "--every"]).stdout;
    assert_eq!(
        text.matches("exchanges head and low of set ").count(),
        exchanges,
        "{text}"
    );
    let last = sets
        .iter()
        .rfind(|set| set.get("exchange_of").is_some())
        .unwrap();
    let said = format!(
        "exchanges head and low of set {}",
        last["exchange_of"].as_str().unwrap()
    );
    let detail = ["--top", "1000", "--set", last["mark"].as_str().unwrap()];
    let text = solved(WINCH, &detail).stdout;
    let (_, detail) = text.split_once("\nSet ").unwrap();
    assert!(detail.contains(&said), "{text}");
}

/// Greatest common divisor, the slow way.
fn share_a_factor(pair: &Value) -> bool {
    let [driver, driven] = ["driver_teeth", "driven_teeth"].map(|key| pair[key].as_u64().unwrap());
    (2..=driver).any(|n| driver.is_multiple_of(n) && driven.is_multiple_of(n))
}

#[test]
fn pairs_without_a_common_factor_are_marked() {
    let answer = Run::solve("shunter", &["--format", "json"])
        .ends()
        .with(0)
        .json();
    let mut met = [0, 0];
    for set in answer["sets"].as_array().unwrap() {
        let pairs = set["speeds"]
            .as_array()
            .unwrap()
            .iter()
            .filter(|s| s.get("direct").is_none());
        for pair in pairs.chain([&set["head"]]) {
            let hunts = !share_a_factor(pair);
            assert_eq!(pair["hunting_tooth"], hunts, "{pair}");
            met[usize::from(hunts)] += 1;
        }
    }
    assert!(met.iter().all(|&n| n > 3), "{met:?}");

    // 23→49 share none, 28→44 share 4, 39→33 share 3.
    let text = Run::solve("shunter", &["--set", "1"]).ends().with(0).stdout;
    let (_, detail) = text.split_once("\nSet ").unwrap();
    let marked: Vec<_> = detail
        .lines()
        .filter(|line| line.ends_with("hunting"))
        .collect();
    assert_eq!(marked.len(), 1, "{detail}");
    assert!(
        marked[0].trim_start().starts_with("head     23→49"),
        "{detail}"
    );
}

/// Ranks down the list of a screen.
fn ranks(text: &str, count: usize) -> Vec<usize> {
    let (_, list) = text.split_once("Ranked by").unwrap();
    let first = |line: &str| {
        line.split_whitespace()
            .next()
            .and_then(|word| word.parse().ok())
    };
    list.lines().filter_map(first).take(count).collect()
}

/// Ranks as a screen shows them: of sets level in `keys` those with more
/// hunting pairs first, as they come otherwise.
fn by_hunting_teeth(sets: &[Value], keys: &[&str]) -> Vec<usize> {
    let level = |set: &Value| {
        let bits = |key: &&str| set[*key].as_f64().unwrap().to_bits();
        keys.iter().map(bits).collect::<Vec<_>>()
    };
    let hunting = |set: &Value| {
        let pairs = [&set["head"], &set["speeds"][0]];
        pairs
            .into_iter()
            .filter(|pair| !share_a_factor(pair))
            .count()
    };
    let mut expected = Vec::new();
    let mut from = 0;
    for same in sets.chunk_by(|a, b| level(a) == level(b)) {
        for pairs in (0..=2).rev() {
            let of = (from..).zip(same).filter(|(_, set)| hunting(set) == pairs);
            expected.extend(of.map(|(place, _)| place + 1));
        }
        from += same.len();
    }
    expected
}

#[test]
fn hunting_teeth_order_level_sets_on_screens_alone() {
    let all = [
        "worst_error_percent",
        "blank_volume_mm3",
        "distinct_cutters",
    ];
    for (measures, keys, moves) in [
        // A set and its mirror are level in all three, and hunt alike.
        ("worst_error,blank_volume,distinct_cutters", &all[..], false),
        ("distinct_cutters", &all[2..], true),
    ] {
        let args = ["--top", "1000", "--measures", measures];
        let answer = json_of(WINCH, &args);
        let sets = answer["sets"].as_array().unwrap();
        let in_order: Vec<_> = (1..=sets.len()).collect();
        let in_json: Vec<_> = sets.iter().map(|set| json!(set["rank"])).collect();
        assert_eq!(json!(in_json), json!(in_order), "{measures}");

        let expected = by_hunting_teeth(sets, keys);
        assert_eq!(expected != in_order, moves, "{measures}: {expected:?}");
        let text = solved(WINCH, &[&args[..], &["--every"]].concat()).stdout;
        assert_eq!(ranks(&text, sets.len()), expected, "{text}");
        let words: Vec<_> = text.split_whitespace().collect();
        assert_eq!(
            words.join(" ").contains("more hunting pairs"),
            moves,
            "{text}"
        );
    }
}

#[test]
fn a_search_that_is_stopped_lists_what_it_found() {
    let (_, problem) = read(&sample("large")).unwrap();
    let control = Control::default();
    control.interrupt();
    let wanted = Alternatives {
        differ_by: 6,
        longest: 1000,
    };
    let request = Request {
        top: 20,
        trains: 0,
        threads: 1,
    };
    let (outcome, walk) = solve_alternatives(&problem, request, wanted, &control);
    assert!(matches!(outcome.status, Status::Stopped(_)));
    assert_eq!(walk.end, WalkEnd::Stopped);
    assert_eq!(walk.ranks.len(), outcome.sets.len());
    let (listed, _) = plain_walk(&outcome.sets, wanted, usize::MAX);
    assert_eq!(listed, outcome.sets);
}

fn sample(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("problems");
    folder.join(name).with_extension("json")
}

#[test]
fn the_command_line_lists_alternatives_by_their_rank_in_the_whole_ranking() {
    let args = ["--differ-by", "5", "--top", "4"];
    let with = |more: &[&str]| Run::solve("shunter", &[&args, more].concat()).ends();
    let answer = with(&["--format", "json"]).with(0).json();
    let whole = Run::solve("shunter", &["--top", "300", "--format", "json"])
        .ends()
        .with(0)
        .json();
    let sets = answer["sets"].as_array().unwrap();
    assert_eq!(sets.len(), 4);
    for set in sets {
        let rank = usize::try_from(set["rank"].as_u64().unwrap()).unwrap();
        assert_eq!(teeth(&set["head"]), teeth(&whole["sets"][rank - 1]["head"]));
        assert_eq!(
            set["blank_volume_mm3"],
            whole["sets"][rank - 1]["blank_volume_mm3"]
        );
    }
    let last = sets[3]["rank"].as_u64().unwrap();
    assert!(last > 4, "{last}");
    let told =
        json!({ "differ_by_gears": 5, "sets_walked": last, "sets_found": 4, "ended": "found" });
    assert_eq!(answer["alternatives"], told);
    assert_eq!(answer["front"].as_array().unwrap().len(), 17);
    assert_eq!(whole.get("alternatives"), None);

    let rank = last.to_string();
    let named = with(&["--format", "json", "--set", &rank]).with(0).json();
    assert_eq!(named["set"]["mark"], sets[3]["mark"]);
    let refused = with(&["--set", "2"]).with(2);
    assert!(
        refused.stderr.contains("leave the flag out"),
        "{}",
        refused.stderr
    );

    let table = with(&["--format", "csv"]).with(0);
    assert_eq!(table.stdout.lines().count(), 5);
    assert_eq!(table.stderr, "");
    for text in [with(&[]).with(0).stdout, with(&["--every"]).with(0).stdout] {
        assert_eq!(ranks(&text, 4)[3], usize::try_from(last).unwrap(), "{text}");
        assert!(text.contains("4 alternatives among the first"), "{text}");
    }
}

#[test]
fn a_list_shorter_than_asked_for_says_so() {
    let args = ["--differ-by", "9", "--top", "50"];
    let with = |more: &[&str]| {
        Run::solve("shunter", &[&args, more].concat())
            .ends()
            .with(0)
    };
    let answer = with(&["--format", "json"]).json();
    let found = answer["sets"].as_array().unwrap().len();
    assert!((2..50).contains(&found), "{found}");
    assert_eq!(answer["alternatives"]["ended"], "every set walked");
    assert_eq!(answer["alternatives"]["sets_walked"], 80708);
    let said = format!("No more: {found} alternatives in all");
    assert!(with(&["--every"]).stdout.contains(&said));
    assert!(with(&["--format", "csv"]).stderr.contains(&said));

    let refused = Run::solve("shunter", &["--differ-by", "10"]).ends().with(2);
    assert!(refused.stderr.contains("9 gears"), "{}", refused.stderr);
    Run::solve("shunter", &["--differ-by", "0"]).ends().with(2);
    Run::solve("impossible", &["--differ-by", "3"])
        .ends()
        .with(1);
}

#[test]
fn threads_change_no_byte_of_a_list_of_alternatives() {
    let with = |threads| {
        let args = ["--differ-by", "6", "--every", "--threads", threads];
        Run::solve("large", &args).ends().with(0).stdout
    };
    assert_eq!(with("1"), with("3"));
}
